"""What a grower asks of a cropping plan, from a TOML file; and its tables."""

import dataclasses
import datetime
import math
from collections.abc import Mapping

from sheafwright.core.errors import UnreadableInput
from sheafwright.core.inputs.cropping import (
    Buyer,
    Crop,
    Ground,
    Hands,
    Increase,
    Pin,
    Rotation,
    Seasons,
    SeedPlot,
    Straw,
    Wanted,
)
from sheafwright.feeds.shapes import are_texts, is_date, is_number, is_text, is_whole
from sheafwright.feeds.tables import Row, build, read_toml, shipped, within
from sheafwright.feeds.telling import listed, mark, say

CROPS = ("autumn_wheat", "late_wheat", "oats", "roots", "ley")
GRASS = "grass"
"""What stands in a field that is kept in grass, or stood there once."""
OWN = "your file"
"""The table of a `Row` that the grower gave."""
SECTIONS = {
    "rules": Rotation,
    "ground": Ground,
    "seasons": Seasons,
    "hands": Hands,
    "seed_plot": SeedPlot,
}


@dataclasses.dataclass(frozen=True)
class FieldAsked:
    """A field of the holding."""

    name: str
    area_ha: float
    history: tuple[str, ...] = ()
    """Crops of the harvests before the plan, the oldest first; a crop of ``CROPS``,
    ``GRASS``, or anything else that is no wheat, no ley and no root crop."""
    conversion_from: datetime.date | None = None
    """From when conversion counts; long ago for land long organic, None for neither."""
    keep_in_grass: bool = False
    without: tuple[str, ...] = ()
    """Crops that shall not grow here."""


@dataclasses.dataclass(frozen=True)
class Busy:
    """Weeks in which there are other hours than usual."""

    first_week: int
    last_week: int
    hours_a_week: float


@dataclasses.dataclass(frozen=True)
class CroppingQuestion:
    """Which field shall grow what?"""

    first_year: int
    """Harvest."""
    years: int
    fields: tuple[FieldAsked, ...]
    hours_a_week: float
    """That there are for the crops. [h]"""
    holding: str = ""
    busy: tuple[Busy, ...] = ()
    binders: float = 1.0
    buyers: tuple[Buyer, ...] = ()
    """Of straw; if none is named, all of it goes at the table's price."""
    wanted: tuple[Wanted, ...] = ()
    varieties: Mapping[str, str] = dataclasses.field(default_factory=dict)
    """Crop to variety."""
    increase: Increase | None = None
    pins: tuple[Pin, ...] = ()
    values: Mapping[str, Mapping[str, object]] = dataclasses.field(default_factory=dict)
    """The grower's own in place of the table's: section to row to value."""


def read_question(path):
    """The `CroppingQuestion` of a TOML file."""
    said = read_toml(path)
    parts = {
        name: tuple(_read(kind, each, f"{path} [[{name}]]") for each in said[name])
        for name, kind in LISTED.items()
        if _is_listed(said, name, path)
    }
    if "increase" in said:
        parts["increase"] = _read(Increase, said["increase"], f"{path} [increase]")
    return _read(CroppingQuestion, said | parts, str(path))


def question_rows(values, section):
    """Rows of one section of the table, with the grower's own in their places."""
    rows = dict(shipped("rotation")[section])
    rows |= {
        name: Row(OWN, name, value) for name, value in values.get(section, {}).items()
    }
    return rows


def crops(values):
    """Each `Crop` by name."""
    return {name: _built(Crop, values, name) for name in CROPS}


def tables(values):
    """Section to its parameters, for each of ``SECTIONS``."""
    return {name: _built(kind, values, name) for name, kind in SECTIONS.items()}


def straw(values):
    """`Straw`: a perfect crop from the table of worth, the surplus from this one."""
    rows = dict(shipped("worth")["perfect_crop"]) | question_rows(values, "straw")
    # Grain has its own price here, by how it may be sold.
    rows.pop("grain_gbp_per_t")
    where = listed(["worth.toml [perfect_crop]", "rotation.toml [straw]"])
    return build(Straw, rows, where)


LISTED = {
    "fields": FieldAsked,
    "busy": Busy,
    "buyers": Buyer,
    "wanted": Wanted,
    "pins": Pin,
}


def _built(kind, values, section):
    where = within("rotation.toml", section)
    return build(kind, question_rows(values, section), where)


def _is_listed(said, name, path):
    if not isinstance(said.get(name, []), list):
        raise UnreadableInput(
            "{path}: {name} should be written as [[{name}]].",
            path=str(path),
            name=name,
        )
    return name in said


def _read(kind, said, where):
    """A dataclass or a named tuple from what a file says of it."""
    if not isinstance(said, dict):
        raise UnreadableInput("{where} should hold names and values.", where=where)
    if unread := sorted(said.keys() - kind.__annotations__.keys()):
        raise UnreadableInput(
            "{where} has {names}, which nothing reads.",
            where=where,
            names=", ".join(unread),
        )
    try:
        return kind(**{name: _value(kind, name, said[name], where) for name in said})
    except TypeError:
        needed = ", ".join(_needed(kind) - said.keys())
        raise UnreadableInput(
            "{where} lacks {names}.", where=where, names=needed
        ) from None


def _needed(kind):
    if issubclass(kind, tuple):
        return set(kind.__annotations__) - set(kind._field_defaults)
    return {
        field.name
        for field in dataclasses.fields(kind)
        if field.default is field.default_factory is dataclasses.MISSING
    }


def _value(kind, name, value, where):
    shape = kind.__annotations__[name]
    value = tuple(value) if isinstance(value, list) else value
    if shape in SHAPES and not SHAPES[shape][0](value):
        raise UnreadableInput(
            "{where}: {name} is {value}; it should be {wanted}.",
            where=where,
            name=name,
            value=repr(str(value)[:40]),
            wanted=say(SHAPES[shape][1]),
        )
    return value


def _is_number(value):
    # No most is written as inf.
    return is_number(value) or value == math.inf


def _is_yes_or_no(value):
    return isinstance(value, bool)


def _by_name(value):
    return isinstance(value, dict) and all(map(is_text, value.values()))


def _by_section(value):
    return isinstance(value, dict) and all(isinstance(v, dict) for v in value.values())


SHAPES = {
    float: (_is_number, mark("a number")),
    int: (is_whole, mark("a whole number")),
    str: (is_text, mark("a text")),
    bool: (_is_yes_or_no, mark("true or false")),
    tuple[str, ...]: (are_texts, mark("a list of texts")),
    datetime.date | None: (is_date, mark("a date such as 2026-08-05")),
    Mapping[str, str]: (_by_name, mark("names and texts")),
    Mapping[str, Mapping[str, object]]: (
        _by_section,
        mark("sections of names and values"),
    ),
}
"""Kind of value: what is one, and how that is said."""
