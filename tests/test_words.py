"""Nothing that a grower reads is written where no translator finds it."""

import ast
import re
from pathlib import Path

import pytest

import sheafwright

ROOT = Path(sheafwright.__file__).parent
LAYERS = "core", "feeds", "planning", "answers"
SAYS = {"say", "say_n", "mark"}
WORDS = re.compile(r"[A-Za-z]{2,}[,:]? [a-z]+ [a-z]+")
"""Three words together are meant for somebody to read."""
GLUED = re.compile(r"[A-Za-z]{2,}[,:;.]? | [A-Za-z]{2,}")
"""A word beside a value, in a string put together."""


def modules():
    for layer in LAYERS:
        for path in sorted((ROOT / layer).rglob("*.py")):
            yield pytest.param(path, id=str(path.relative_to(ROOT)))


@pytest.mark.parametrize("path", list(modules()))
def test_words_are_said(path):
    loose = [f"line {line}: {text}" for line, text in _loose(path.read_text())]
    assert not loose, "Give these to say(), mark() or an error of ours, with {values}."


def test_loose_words_are_found():
    lines = (
        'says = f"The rain of {day} was much."',
        'says = "The rain of a day was much."',
        'raise OutOfRange(f"Rain {much} is odd.")',
        'says = say(f"Rain {much}")',
        'says = say("Rain {much}", much=f"much {more} rain")',
    )
    for line in lines:
        assert list(_loose(line)), line
    fine = (
        'def f():\n    """A word in a docstring is not said."""',
        'says = say("The rain of {day} was much.", day=day)',
        'raise OutOfRange("Rain {much} is so very odd.", much=much)',
        'key = f"{name}_t_per_ha"',
        'Step(mark("It rains."), "A book of many words", "from memory")',
    )
    for line in fine:
        assert not list(_loose(line)), line


def _loose(source):
    tree = ast.parse(source)
    allowed = set(_allowed(tree))
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            text = "".join(
                part.value if isinstance(part, ast.Constant) else "{}"
                for part in node.values
            )
            if any(GLUED.search(p.value) for p in node.values if _is_text(p)):
                yield node.lineno, text
        elif _is_text(node) and id(node) not in allowed and WORDS.search(node.value):
            yield node.lineno, node.value


def _allowed(tree):
    """Ids of the nodes whose words a translator finds, or nobody is told."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and _is_text(node.value):
            yield id(node.value)
        elif isinstance(node, ast.JoinedStr):
            # Judged as a whole.
            yield from map(id, node.values)
        elif isinstance(node, ast.Call):
            yield from _given_to(node)


def _given_to(call):
    name = call.func.id if isinstance(call.func, ast.Name) else ""
    if name == "say_n":
        yield from map(id, call.args[:2])
    elif name in SAYS or name in ERRORS:
        yield from map(id, call.args[:1])
    elif name == "Step":
        # Books and papers keep their own titles.
        yield from map(id, call.args[1:2])
        yield from (id(k.value) for k in call.keywords if k.arg == "source")


def _is_text(node):
    return isinstance(node, ast.Constant) and isinstance(node.value, str)


def _errors():
    from sheafwright.core import errors

    return {name for name in vars(errors) if name[0].isupper()}


ERRORS = _errors()
