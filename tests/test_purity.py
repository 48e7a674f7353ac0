"""The core is pure, heavy imports are late, and the rules that say so can fail."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[1] / "src" / "sheafwright"
MODULES = sorted(SOURCE.rglob("*.py"))
CORE = [path for path in MODULES if path.is_relative_to(SOURCE / "core")]

EARLY = {
    "collections",
    "dataclasses",
    "decimal",
    "fractions",
    "functools",
    "itertools",
    "math",
    "numpy",
    "sheafwright.core",
    "statistics",
    "typing",
}
LATE = {"numba", "scipy"}
HEAVY = LATE | {"pandas", "statsmodels"}
SPEECH = {"input", "open", "print"}
MUTABLE = (
    ast.Dict,
    ast.DictComp,
    ast.GeneratorExp,
    ast.List,
    ast.ListComp,
    ast.Set,
    ast.SetComp,
)
MAKES_MUTABLE = {"bytearray", "defaultdict", "deque", "dict", "list", "set"}
FUNCTIONS = (ast.FunctionDef, ast.AsyncFunctionDef, ast.Lambda)


def imported(node):
    """Full names that an import statement brings in."""
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    if isinstance(node, ast.ImportFrom):
        return [f"{node.module}.{alias.name}" for alias in node.names]
    return []


def within(name, packages):
    return any(name == each or name.startswith(each + ".") for each in packages)


def run_at_import(node):
    """The nodes that run when the module is imported: all but function bodies."""
    for child in ast.iter_child_nodes(node):
        yield child
        if not isinstance(child, FUNCTIONS):
            yield from run_at_import(child)


def early_heavy_imports(tree):
    for node in run_at_import(tree):
        yield from (name for name in imported(node) if within(name, HEAVY))


def foreign_imports(tree):
    for node in ast.walk(tree):
        yield from (name for name in imported(node) if not within(name, EARLY | LATE))


def speech_and_files(tree):
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            yield from {node.func.id} & SPEECH


def global_statements(tree):
    for node in ast.walk(tree):
        if isinstance(node, ast.Global):
            yield ", ".join(node.names)


def chance_of_its_own(tree):
    """Anything of numpy.random but the name of its Generator."""
    for node in ast.walk(tree):
        yield from (n for n in imported(node) if within(n, {"numpy.random", "random"}))
        if isinstance(node, ast.Attribute) and node.attr != "Generator":
            name = ast.unparse(node)
            if name.startswith(("np.random.", "numpy.random.")):
                yield name


def mutable_state(tree):
    """Names bound on import to what could be changed later, or not in capitals."""
    for node in tree.body:
        if isinstance(node, ast.AugAssign):
            yield ast.unparse(node.target)
        if isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            fixed = all(ast.unparse(each).isupper() for each in targets)
            # `Limits = tuple[float, float]` names a type.
            fixed = fixed or isinstance(node.value, ast.Subscript)
            if not fixed or can_change(node.value):
                yield ast.unparse(node)


def can_change(value):
    called = isinstance(value, ast.Call) and ast.unparse(value.func).split(".")[-1]
    return isinstance(value, MUTABLE) or called in MAKES_MUTABLE


def missing_docstrings(tree):
    for node in run_at_import(tree):
        public = isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
        if public and ast.get_docstring(node) is None:
            yield node.name


RULES = {
    foreign_imports: "import os",
    early_heavy_imports: "from scipy.stats import norm",
    speech_and_files: "def says():\n    print('dry')",
    global_statements: "def f():\n    global rain",
    chance_of_its_own: "import numpy as np\nrng = np.random.default_rng()",
    mutable_state: "SEEN = []",
    missing_docstrings: "def rain():\n    return 1",
}


def named(path):
    return path.relative_to(SOURCE).as_posix()


@pytest.mark.parametrize("path", CORE, ids=named)
@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.__name__)
def test_the_core_keeps_the_rule(rule, path):
    assert list(rule(ast.parse(path.read_text("utf-8")))) == []


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.__name__)
def test_the_rule_catches_what_breaks_it(rule):
    assert list(rule(ast.parse(RULES[rule])))


@pytest.mark.parametrize(
    "code",
    [
        "TABLE = dict(a=1)",
        "rate = 0.27",
        "COUNT = 0\nCOUNT += 1",
        "CACHE: dict = {}",
    ],
)
def test_state_that_could_change_is_caught(code):
    assert list(mutable_state(ast.parse(code)))


def test_a_late_import_of_scipy_is_allowed():
    tree = ast.parse("def f():\n    from scipy.stats import norm")
    assert not list(early_heavy_imports(tree)) + list(foreign_imports(tree))


@pytest.mark.parametrize("path", MODULES, ids=named)
def test_heavy_imports_are_late_everywhere(path):
    assert list(early_heavy_imports(ast.parse(path.read_text("utf-8")))) == []


ASK_FOR_HELP = """
import sys
from sheafwright.cli.main import cli
cli(["--help"], standalone_mode=False)
print("loaded:", *sorted({"numpy", "scipy", "numba", "pandas"} & set(sys.modules)))
"""


def test_help_loads_nothing_heavy():
    asked = [sys.executable, "-c", ASK_FOR_HELP]
    said = subprocess.run(asked, capture_output=True, text=True, check=True).stdout
    assert "outlook" in said
    assert said.splitlines()[-1] == "loaded:"
