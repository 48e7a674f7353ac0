"""What a crop stands or falls by, from the tables; and what the grower saw lie.

Lodging seen is a CSV of ``sown`` and ``lodged_pct``, and of ``plants_per_m2``,
``height_cm`` and ``nitrogen_index`` where they were not those of the reference field.
"""

import dataclasses
import datetime
import math

from sheafwright.core.errors import OutOfRange, UnreadableInput
from sheafwright.core.inputs.lodging import (
    Doubt,
    HusbandryEffects,
    Mechanics,
    Patches,
    StandingPrior,
)
from sheafwright.core.lodging.wind import GustLine
from sheafwright.feeds import plain_csv
from sheafwright.feeds.tables import build, build_shipped, shipped, within
from sheafwright.feeds.telling import listed, mark, measured, say

SOILS = ("light", "medium", "heavy")
LIMITS = {
    "plants_per_m2": (20, 1000),
    "height_m": (0.4, 1.8),
    "nitrogen_index": (0, 6),
}
"""What a crop can be."""
SAID = {
    "plants_per_m2": mark("{value:g} plants a square metre"),
    "height_m": mark("a height of {value}"),
    "nitrogen_index": mark("a soil nitrogen index of {value:g}"),
}


@dataclasses.dataclass(frozen=True)
class Crop:
    """How one crop is grown."""

    sown: datetime.date
    plants_per_m2: float
    """That came up. [m⁻²]"""
    height_m: float
    """From ear emergence on. [m]"""
    nitrogen_index: float
    """Of the soil's supply. [0–6]"""

    def __post_init__(self):
        for name, (least, most) in LIMITS.items():
            value = getattr(self, name)
            if not least <= value <= most:
                raise OutOfRange(
                    "A crop with {what} can't be judged; it should be from {least} to "
                    "{most}.",
                    what=say(SAID[name], value=_shown(name, value)),
                    least=_shown(name, least),
                    most=_shown(name, most),
                )


def _shown(name, value):
    return measured(value, "m") if name == "height_m" else value


@dataclasses.dataclass(frozen=True)
class Lodged:
    """What lay of a crop of the grower's own by its cutting."""

    crop: Crop
    share: float
    """[0–1]"""


def mechanics(soil):
    """`Mechanics` on one of ``SOILS``."""
    if soil not in SOILS:
        raise OutOfRange(
            "{soil} is not a kind of soil; it should be one of {soils}.",
            soil=repr(soil),
            soils=", ".join(SOILS),
        )
    table = shipped("lodging")
    rows = table["mechanics"] | table[soil]
    where = listed([within("lodging.toml", "mechanics"), f"[{soil}]"])
    return build(Mechanics, rows, where)


def doubt():
    """`Doubt`."""
    return _section(Doubt, "doubt")


def patches():
    """`Patches`."""
    return _section(Patches, "patches")


def effects():
    """`HusbandryEffects`."""
    return _section(HusbandryEffects, "husbandry")


def standing_prior():
    """`StandingPrior`."""
    return _section(StandingPrior, "standing")


def usual_sowing():
    """Month and day of sowing that the tables hold for."""
    rows = shipped("lodging")["sowing"]
    return rows["usual_month"].value, rows["usual_day"].value


def reference_crop(year):
    """The usual reference field, a `Crop`.

    Parameters
    ----------
    year : int
        Of its harvest.
    """
    rows = shipped("lodging")["reference"]
    values = {name: row.value for name, row in rows.items()}
    # Sown in autumn, so in the year before.
    return Crop(datetime.date(year - 1, *usual_sowing()), **values)


def own_lodging(path, reference):
    """What the grower saw lie, a `Lodged` for each line of a file.

    Parameters
    ----------
    path : path
    reference : Crop
        Whose values a blank cell takes.
    """
    lines = plain_csv.rows(
        plain_csv.file_bytes(path),
        str(path),
        ("sown", "lodged_pct"),
        ("plants_per_m2", "height_cm", "nitrogen_index"),
    )
    if not lines:
        raise UnreadableInput(
            "{path} has no crop; it should have a line for each.", path=str(path)
        )
    return tuple(_lodged(line, reference) for line in lines)


def _lodged(line, reference):
    sown = line.required("sown", line.date("sown"))
    lodged = line.required("lodged_pct", line.number("lodged_pct", (0, 100)))
    lowest, highest = LIMITS["height_m"]
    given = {
        "plants_per_m2": line.number("plants_per_m2", LIMITS["plants_per_m2"]),
        "height_m": line.number("height_cm", (100 * lowest, 100 * highest)) / 100,
        "nitrogen_index": line.number("nitrogen_index", LIMITS["nitrogen_index"]),
    }
    known = {name: value for name, value in given.items() if not math.isnan(value)}
    return Lodged(dataclasses.replace(reference, sown=sown, **known), lodged / 100)


def usual_gust_line():
    """`GustLine` where a station writes no gusts down."""
    rows = shipped("lodging")["gust_from_wind"]
    return GustLine(*(rows[name].value for name in GustLine._fields))


def _section(kind, section):
    return build_shipped(kind, "lodging", section)
