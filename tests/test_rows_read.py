"""Every row of every table is read by code that a grower's question can reach.

Code of ``feeds`` and ``core`` counts only where a door reaches it: a reader that tests
alone call reads nothing.
"""

import ast
import tomllib
from pathlib import Path

import pytest

SRC = Path(__file__).parents[1] / "src/sheafwright"
TABLES = sorted((SRC / "data").glob("*.toml"))
WANTED = {"feeds", "core"}
"""Layers whose functions live only if something asks for them."""
WHOLE = {
    ("board", "patches"): "patch_rows",
    ("moisture", "grain"): "grain_curves",
    ("moisture", "straw"): "straw_curves",
    ("sowing", "law"): "law_rows",
    ("sowing", "rogueing"): "rogueing_rows",
    ("vernalisation", "latest_sowing"): "latest_sowing",
    ("nitrogen", "after_crop_low_rain"): "after_crop_rows",
    ("nitrogen", "after_crop_moderate_rain"): "after_crop_rows",
    ("nitrogen", "after_crop_high_rain"): "after_crop_rows",
}
"""Sections of which all rows are gone over, and the reader that does."""


def names_in(code):
    """What code names: attributes, variables that it reads, and texts."""
    for node in ast.walk(code):
        if isinstance(node, ast.Attribute):
            yield node.attr
        elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load):
            yield node.id
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


def parts():
    """Every top-level piece of production code: its layer, and its syntax tree."""
    for path in SRC.rglob("*.py"):
        layer = path.relative_to(SRC).parts[0]
        for piece in ast.parse(path.read_text("utf-8")).body:
            yield layer, piece


def reached(pieces):
    """Names in code that a door reaches, through any number of functions."""
    named, waiting = set(), []
    for layer, piece in pieces:
        if layer in WANTED and isinstance(piece, ast.FunctionDef):
            waiting.append((piece.name, set(names_in(piece))))
        else:
            named.update(names_in(piece))
    while asked := [each for each in waiting if each[0] in named]:
        named.update(*(names for _, names in asked))
        waiting = [each for each in waiting if each not in asked]
    return named


@pytest.fixture(scope="module")
def named():
    return reached(parts())


def unread(table, document, named):
    """Rows of a table that nothing reached reads, as (table, section, row)."""
    for section, rows in document.items():
        reader = WHOLE.get((table, section))
        for row in rows:
            wanted = {table, reader or row}
            if not wanted <= named:
                yield table, section, row


def document(path):
    return tomllib.loads(path.read_text("utf-8"))


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.name)
def test_every_row_is_read(path, named):
    assert list(unread(path.stem, document(path), named)) == []


def test_a_row_that_nothing_reads_is_found(named):
    rows = document(SRC / "data/stooks.toml")["meter"] | {"colour_of_the_case": {}}
    found = list(unread("stooks", {"meter": rows}, named))
    assert found == [("stooks", "meter", "colour_of_the_case")]


def test_a_reader_that_no_answer_calls_reads_nothing():
    kept = [
        piece
        for piece in parts()
        if not (piece[0] == "answers" and "grain_curves" in set(names_in(piece[1])))
    ]
    moisture = document(SRC / "data/moisture.toml")
    found = {section for _, section, _ in unread("moisture", moisture, reached(kept))}
    assert "grain" in found
