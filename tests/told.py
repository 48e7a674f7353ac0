"""Finds what an answer says in words that no translator could find."""

import ast
import re
from functools import cache
from pathlib import Path

import sheafwright
from sheafwright.core import errors
from sheafwright.feeds.telling import Reader, Said

MARKS = {"say", "say_n", "mark", *(name for name in vars(errors) if name[0].isupper())}
WORD = re.compile(r"[^\W\d_]{2,}")
FIELD = re.compile(r"\{[^}]*\}")
METRIC = re.compile(r"\d[\s\u00a0](?:kg/ha|t/ha|kg|ha|mm|cm|m|m²|t|m/s|km)(?![\w²³/])")
"""A value in a unit that those who think in acres do not read."""


def in_brackets(words):
    return f"⟦{words}⟧"


FOREIGN = Reader(
    "metric",
    in_brackets,
    lambda one, many, number: in_brackets(one if number == 1 else many),
)
"""Whose language has every word, each in brackets."""


def loose(said, names=()):
    """Words within that stand in no catalogue.

    Parameters
    ----------
    said : Said, str, list or dict
    names : collection of str
        Proper names, such as a station's.
    """
    if isinstance(said, Said) and said.way in ("say", "say_n"):
        *words, values = said.of if said.way == "say" else [*said.of[:2], said.of[3]]
        yield from (each for each in words if _is_loose(each, names))
        yield from loose(values, names)
    elif isinstance(said, Said):
        # Units, days and how a number is written are nobody's words.
        if said.way not in ("measured", "shown", "dated"):
            yield from loose(said.of, names)
    elif isinstance(said, dict | list):
        for each in said.values() if isinstance(said, dict) else said:
            yield from loose(each, names)
    elif isinstance(said, str) and WORD.search(said) and said not in names:
        yield said


def _is_loose(words, names):
    return (
        bool(WORD.search(FIELD.sub("", words)))
        and words not in catalogue()
        and words not in names
    )


@cache
def catalogue():
    """All words that a translator is given."""
    return {
        argument.value
        for path in Path(sheafwright.__file__).parent.rglob("*.py")
        for call in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(call, ast.Call) and getattr(call.func, "id", "") in MARKS
        for argument in call.args[:2]
        if isinstance(argument, ast.Constant)
    }
