"""What a grower's file says, made dataclasses and named tuples, or refused by name."""

import dataclasses
import datetime
import sys
from collections.abc import Mapping

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds.telling import joined, mark, say


def is_number(value):
    # Compared, not turned into a float: no float holds every whole number.
    numbers = isinstance(value, int | float) and not isinstance(value, bool)
    return numbers and abs(value) <= sys.float_info.max


def is_whole(value):
    return isinstance(value, int) and not isinstance(value, bool)


def is_text(value):
    return isinstance(value, str)


def is_yes_or_no(value):
    return isinstance(value, bool)


def are_texts(value):
    return isinstance(value, tuple) and all(map(is_text, value))


def is_date(value):
    return type(value) is datetime.date


def by_date(said):
    """Days to numbers, of a table whose names are dates."""
    return {
        day if isinstance(day, datetime.date) else datetime.date.fromisoformat(day): one
        for day, one in said.items()
    }


def are_by_date(value):
    try:
        return isinstance(value, dict) and all(map(is_number, by_date(value).values()))
    except ValueError:
        return False


def are_sections(value):
    return isinstance(value, dict) and all(isinstance(v, dict) for v in value.values())


def are_named(is_one):
    return lambda value: isinstance(value, dict) and all(map(is_one, value.values()))


def or_none(is_one):
    return lambda value: value is None or is_one(value)


NUMBER, DATE = mark("a number"), mark("a date such as 2026-08-06")
WHOLE, TEXT = mark("a whole number"), mark("a text")
SHAPES = {
    float: (is_number, NUMBER),
    float | None: (or_none(is_number), NUMBER),
    int: (is_whole, WHOLE),
    int | None: (or_none(is_whole), WHOLE),
    str: (is_text, TEXT),
    str | None: (or_none(is_text), TEXT),
    bool: (is_yes_or_no, mark("true or false")),
    tuple[str, ...]: (are_texts, mark("a list of texts")),
    datetime.date: (is_date, DATE),
    datetime.date | None: (or_none(is_date), DATE),
    Mapping[datetime.date, float]: (
        are_by_date,
        mark("dates with a number each, such as {2026-08-06 = 0.8}"),
    ),
    Mapping[str, datetime.date]: (
        are_named(is_date),
        mark("names with a date each, such as {flowering = 2026-06-19}"),
    ),
    Mapping[str, str]: (
        are_named(is_text),
        mark("names with a text each, such as {grain = 'soft dough'}"),
    ),
    Mapping[str, Mapping[str, object]]: (
        are_sections,
        mark("sections of names and values"),
    ),
}
"""Kind of value: what is one, and how that is said."""


def read_listed(kind, said, name, path, prepared=None):
    """Each of a kind, of a list of tables.

    Parameters
    ----------
    kind : dataclass or named tuple
    said : mapping
        The whole file, which has the list.
    name : str
        Of the list.
    path : path
        Of the file.
    prepared : callable, optional
        From one table, and where it stands, to the table as it is to be read.
    """
    where = f"{path} [[{name}]]"
    if not isinstance(said[name], list):
        raise UnreadableInput(
            "{path}: {name} should be written as [[{name}]].", path=str(path), name=name
        )
    for each in said[name]:
        _check_table(each, where)
        yield read_as(kind, prepared(each, where) if prepared else each, where)


def read_as(kind, said, where):
    """A dataclass or a named tuple of what a table says, or a refusal that says where.

    Parameters
    ----------
    kind : dataclass or named tuple
    said : mapping
    where : str
        File, and section.
    """
    _check_table(said, where)
    shapes = kind.__annotations__
    if unread := sorted(said.keys() - shapes.keys()):
        raise UnreadableInput(
            "{where} has {names}, which nothing reads.",
            where=where,
            names=joined(*unread, by=", "),
        )
    if lacks := sorted(_needed(kind) - said.keys()):
        raise UnreadableInput(
            "{where} lacks {names}.", where=where, names=joined(*lacks, by=", ")
        )
    return kind(**{n: _value(n, v, shapes[n], where) for n, v in said.items()})


def _check_table(said, where):
    if not isinstance(said, dict):
        raise UnreadableInput("{where} should hold names and values.", where=where)


def _needed(kind):
    if issubclass(kind, tuple):
        return set(kind.__annotations__) - set(kind._field_defaults)
    return {
        field.name
        for field in dataclasses.fields(kind)
        if field.default is field.default_factory is dataclasses.MISSING
    }


def _value(name, value, shape, where):
    value = tuple(value) if isinstance(value, list) else value
    is_one, right = SHAPES.get(shape, (None, ""))
    if is_one and not is_one(value):
        raise UnreadableInput(
            "{where}: {name} is {value}; it should be {right}.",
            where=where,
            name=name,
            value=repr(value)[:40],
            right=say(right),
        )
    return by_date(value) if shape == Mapping[datetime.date, float] else value
