"""Write the check values that the tests prove into the pages about the models.

A page in docs/science asks for tables by name, between two marker lines::

    <!-- checks: humidity, radiation -->
    <!-- /checks -->

Each name is a file of tests/core/checks. `make docs` fills what lies between.
"""

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[1]
CHECKS = ROOT / "tests" / "core" / "checks"
PAGES = ROOT / "docs" / "science"
ASKED = re.compile(r"(<!-- checks: (.+?) -->\n).*?(<!-- /checks -->)", re.DOTALL)
COLUMNS = ("Function", "Inputs", "Expected", "Tolerance", "Standing", "Source")


def shown(value):
    """A TOML value as a reader would write it."""
    if isinstance(value, dict):
        rows = ", ".join(f"{name} = {shown(each)}" for name, each in value.items())
        return "{" + rows + "}"
    if isinstance(value, list):
        return f"[{', '.join(shown(each) for each in value)}]"
    return str(value)


def cells(check):
    """The cells of one check, in the order of COLUMNS."""
    return (
        f"`{check['function'].split(':')[-1]}`",
        shown(check["inputs"])[1:-1],
        shown(check["expected"]),
        shown(check["abs_tol"]),
        check["standing"],
        check["source"],
    )


def line(texts):
    """One line of a Markdown table; a bar inside a cell would end the cell."""
    return "| " + " | ".join(text.replace("|", "\\|") for text in texts) + " |"


def checks(name):
    """The checks of one file."""
    return tomllib.loads((CHECKS / f"{name}.toml").read_text("utf-8"))["check"]


def table(names):
    """The table of all checks in the files so named."""
    rows = [line(cells(check)) for name in names for check in checks(name)]
    return "\n".join([line(COLUMNS), line(["---"] * len(COLUMNS)), *rows])


def filled(page):
    """The page's text with every table it asks for."""

    def fill(match):
        begin, names, end = match.groups()
        return f"{begin}\n{table(names.split(', '))}\n\n{end}"

    return ASKED.sub(fill, page)


def pages():
    """Each page's path and the text it should hold."""
    for path in sorted(PAGES.glob("*.md")):
        yield path, filled(path.read_text("utf-8"))


if __name__ == "__main__":
    for path, text in pages():
        path.write_text(text, encoding="utf-8")
