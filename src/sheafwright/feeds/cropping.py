"""What a grower asks of a cropping plan, from a TOML file; and its tables."""

import dataclasses
import datetime
from collections.abc import Mapping

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
from sheafwright.feeds.shapes import read_as, read_listed
from sheafwright.feeds.tables import Row, build, read_toml, shipped, within
from sheafwright.feeds.telling import listed

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
        name: tuple(read_listed(kind, said, name, path))
        for name, kind in LISTED.items()
        if name in said
    }
    if "increase" in said:
        parts["increase"] = read_as(Increase, said["increase"], f"{path} [increase]")
    return read_as(CroppingQuestion, said | parts, str(path))


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
