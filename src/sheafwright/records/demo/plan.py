"""What grows where in the demo, harvest by harvest: two wheats after each ley."""

import dataclasses
import datetime
import functools
import json
import random
from collections.abc import Mapping

from sheafwright.records.models import Field
from sheafwright.records.services.ground import field_create

NAMES = (
    "Withy Close",
    "Hanger Piece",
    "Rookery Side",
    "Upper Slade",
    "Long Furlong",
    "Tithe Leaze",
    "Pound Acre",
    "Old Orchard",
)
"""Of the fields beside those with the season's questions."""
AREAS_HA = (1.4, 1.6, 1.1, 2.2, 1.9, 1.3, 0.8, 2.5)
SOILS = (
    ("silty clay loam", Field.SoilKind.DEEP_SILT),
    ("sandy loam", Field.SoilKind.LIGHT),
    ("clay with flints", Field.SoilKind.DEEP_CLAY),
    ("loam over marl", Field.SoilKind.MEDIUM),
)
WAYS_M = (350.0, 900.0, 1500.0, 600.0, 1200.0)
"""To the rick."""
ASPECTS = ("south", "west", "level", "south-east")
VARIETIES = ("Little Joss", "Squarehead's Master", "Maris Widgeon", "Yeoman")
SPRING_VARIETY = "April Bearded"
IN_ROTATION = 3
"""A year of ley, and two of wheat behind it."""
NEW_GROUND = 5
"""One field in a dozen came last year, and is still in conversion."""
SMELT_NUMBER = 2
"""The field whose last crop smelt of bunt at the drum."""
WEST, SOUTH = -2.61, 52.39
"""Where nothing of the kind lies. [°]"""
METRES_A_DEGREE = 111_000


@dataclasses.dataclass(frozen=True)
class Ground:
    """A field and its years under ley."""

    field: Field
    taken_on: datetime.date
    leys: tuple[int, ...]
    """Harvests in which it lies under clover."""
    is_new: bool
    """Whether it came last year, under an old ley that was grazed."""
    wheats_before: tuple[int, ...]
    """Harvests of wheat before the first that is told."""


@dataclasses.dataclass(frozen=True)
class Crop:
    """A crop as it will turn out, if its days come."""

    field: Field
    year: int
    variety: str
    variety_class: str
    sown: datetime.date
    days: Mapping[str, datetime.date]
    """Stage to its day."""
    cut: datetime.date | None
    """None while it is for the grower to decide."""
    stook_days: int = 12
    temperatures_c: tuple[float, ...] = ()
    """Of its rick, morning by morning; those of a sound one if none are given."""
    combs: bool = True
    smells: bool = False

    @property
    def name(self):
        return f"{self.field.name} {self.year}"

    @functools.cached_property
    def luck(self):
        return random.Random(self.name)


def ground_plan(book, invented, known, seasons, fields):
    """Each field as `Ground`, and every `Crop` of the seasons."""
    last, years = invented.as_of.year, book.years(seasons)
    grounds, crops = [], []
    for number in range(fields):
        is_new = number % 12 == NEW_GROUND
        ground = _ground(book, invented, number, years, is_new)
        grounds.append(ground)
        for year in years:
            if year in ground.leys or (is_new and year < last):
                continue
            crop = _crop(ground.field, number, year, last, known[year])
            crops.append(_this_year(crop, number, invented) if year == last else crop)
    return grounds, crops


def _ground(book, invented, number, years, is_new):
    named = invented.fields[number : number + 1]
    turn, times = number - len(invented.fields), ""
    if not named and turn >= len(NAMES):
        times = f" {turn // len(NAMES) + 1}"
    name = named[0].name if named else NAMES[turn % len(NAMES)] + times
    area = named[0].area if named else AREAS_HA[turn % len(AREAS_HA)]
    soil, soil_kind = SOILS[number % len(SOILS)]
    field = book.write(
        field_create,
        f"field {number}",
        name=name,
        area_ha=area,
        outline_file=_outline(number, area),
        soil=soil,
        soil_kind=soil_kind,
        aspect=ASPECTS[number % len(ASPECTS)],
        to_rick_m=WAYS_M[number % len(WAYS_M)],
    )
    taken = datetime.date(years[-1] - 1 if is_new else years[0] - 4, 3, 25)
    held = range(taken.year + 1, years[-1] + 1)
    leys = tuple(y for y in held if _is_ley(number, y, years))
    before = () if is_new else range(held[0], years[0])
    wheats = tuple(y for y in before if y not in leys)
    return Ground(field, taken, leys, is_new, wheats)


def _is_ley(number, year, years):
    return (number + years[-1] - year) % IN_ROTATION == IN_ROTATION - 1


def _outline(number, area_ha):
    """A field twice as long as it is broad."""
    west, south = WEST + 0.005 * (number % 8), SOUTH + 0.004 * (number // 8)
    high = (area_ha * 1e4 / 2) ** 0.5 / METRES_A_DEGREE
    # A degree of longitude is 0.61 of one of latitude there.
    east, north = west + 2 * high / 0.61, south + high
    ring = [[west, south], [east, south], [east, north], [west, north], [west, south]]
    return json.dumps({"type": "Polygon", "coordinates": [ring]}).encode()


def _crop(field, number, year, last, known):
    luck = random.Random(f"{field.name} {year} days")
    in_spring = number % 6 == 1
    said = known["spring" if in_spring else "autumn"]
    later = datetime.timedelta(luck.randint(-3, 4))
    days = {stage: date + later for stage, date in said.items()}
    sown = datetime.date(year, 2, 26) if in_spring else datetime.date(year - 1, 10, 10)
    return Crop(
        field=field,
        year=year,
        variety=SPRING_VARIETY if in_spring else VARIETIES[number % len(VARIETIES)],
        variety_class="alternative" if in_spring else "end-january",
        sown=sown + later,
        days=days,
        cut=days["soft_dough"] + datetime.timedelta(luck.randint(0, 5)),
        stook_days=luck.randint(9, 17),
        combs=luck.random() > 0.12,
        smells=number == SMELT_NUMBER and year == last - 1,
    )


def _this_year(crop, number, invented):
    """This season's crops: one in stooks, one in a rick, the others still to cut."""
    if number < len(invented.fields):
        asked = invented.fields[number]
        early = {s: crop.days[s] for s in ("emergence", "ear_out")}
        return dataclasses.replace(
            crop,
            sown=asked.sown,
            variety_class=asked.variety_class,
            days=_in_order(early | asked.seen),
            cut=None,
        )
    turn = SPECIAL.get(number)
    return turn(crop, invented.as_of) if turn else dataclasses.replace(crop, cut=None)


def _in_order(days):
    """Stages no later than the one after, however the first two were made up."""
    latest = datetime.date.max
    ordered = {}
    for stage, day in reversed(days.items()):
        ordered[stage] = latest = min(day, latest)
    return dict(reversed(ordered.items()))


def _in_stooks(crop, as_of):
    """Ripe a little before the rest, and cut in the last dry days."""
    sooner = as_of - datetime.timedelta(6) - crop.days["soft_dough"]
    return dataclasses.replace(
        crop,
        days={stage: day + sooner for stage, day in crop.days.items()},
        cut=as_of - datetime.timedelta(4),
    )


def _in_a_warm_rick(crop, as_of):
    """Laid by the storm, cut green, carted early: a rick like that heats."""
    cut = as_of - datetime.timedelta(12)
    days = {stage: day for stage, day in crop.days.items() if day < cut}
    return dataclasses.replace(
        crop,
        days=days,
        cut=cut,
        stook_days=6,
        temperatures_c=(22.0, 27.0, 33.0, 40.0, 46.0, 51.0),
    )


SPECIAL = {3: _in_stooks, 4: _in_a_warm_rick}
"""Numbers of the fields that are further on than the rest."""
