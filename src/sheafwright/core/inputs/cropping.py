"""What a cropping plan is made with: the rules of the rotation, crops, seasons."""

import dataclasses
import math
from typing import NamedTuple


@dataclasses.dataclass(frozen=True)
class Rotation:
    """Which crop may follow which."""

    wheats_running: int
    """Wheats one after another, at most. [a]"""
    break_years: int
    """Harvests between the last wheat of one run and the first of the next. [a]"""
    wheat_within: int
    """Harvests after a ley is ploughed in which wheat may stand. [a]"""
    long_ley: int
    """A ley that stood so long is too rich for wheat before roots. [a]"""
    least_ley: int
    """Harvests that a ley stands at least. [a]"""
    arable_most: int
    """Harvests under the plough before the next ley, at most. [a]"""


@dataclasses.dataclass(frozen=True)
class Crop:
    """What one crop of the rotation asks and gives."""

    says: str
    """Its name in a sentence."""
    kind: str
    """``wheat``, ``corn``, ``roots`` or ``ley``: what the rules go by."""
    sown: tuple[int, ...]
    """Years before the harvest, month, day; a standing ley is not sown again."""
    cut: tuple[int, ...]
    """Month and day from which it is cut."""
    cost_gbp_per_ha: float
    """Seed, tillage and machines, but no hours. [GBP ha⁻¹]"""
    yield_by_season: tuple[float, ...]
    """Share of the usual crop, or of a perfect one for wheat, by kind of season. [1]"""
    work: tuple[str, ...]
    work_first_week: tuple[int, ...]
    """From the new year of the harvest; 0 and below lie in the year before. [week]"""
    work_last_week: tuple[int, ...]
    work_h_per_ha: tuple[float, ...]
    """[h ha⁻¹]"""
    work_by_binder: tuple[int, ...]
    """1 where the binder does it, else 0."""
    share_of_perfect: float = 0.0
    """Of a perfect crop of reed and grain, for wheat. [1]"""
    grain_t_per_ha: float = 0.0
    """Of other corn. [t ha⁻¹]"""
    grain_gbp_per_t: tuple[float, ...] = (0.0, 0.0, 0.0)
    """Organic, in conversion, and neither. [GBP t⁻¹]"""
    keep_gbp_per_ha: float = 0.0
    """Worth of what stock eats of it. [GBP ha⁻¹]"""


@dataclasses.dataclass(frozen=True)
class Ground:
    """What the ground does to wheat."""

    yield_by_harvest: tuple[float, ...]
    """By the harvest after the ley, the first, second …: the last holds on. [1]"""
    lodged_by_harvest: tuple[float, ...]
    """Share lost to lodging on ground still rich, likewise. [1]"""
    second_wheat: float
    """Yield of a wheat after a wheat. [1]"""
    ley_left_gbp_per_ha: float
    """Worth of each year of a ley that stands when the plan ends, up to the least.
    [GBP ha⁻¹]"""
    sow_ley_gbp_per_ha: float
    """Seed and sowing of a new ley. [GBP ha⁻¹]"""


@dataclasses.dataclass(frozen=True)
class Seasons:
    """Kinds of season that may come."""

    names: tuple[str, ...]
    chance: tuple[float, ...]
    """[0–1]"""
    worst_share: float
    """Share of seasons that is called the worst. [0–1]"""
    caution: float
    """Weight of the worst seasons' mean beside that of all. [0–1]"""


@dataclasses.dataclass(frozen=True)
class Hands:
    """Hands and binder."""

    gbp_per_h: float
    """[GBP h⁻¹]"""
    binder_ha_per_day: float
    """[ha d⁻¹]"""
    cutting_days_per_week: float
    """[d]"""


@dataclasses.dataclass(frozen=True)
class SeedPlot:
    """A plot that increases the seed of a scarce variety."""

    sown_kg_per_ha: float
    """[kg ha⁻¹]"""
    kept_kg_per_ha: float
    """Clean seed kept of it. [kg ha⁻¹]"""
    cost_gbp_per_ha: float
    """Rogueing, cleaning, and grain not sold. [GBP ha⁻¹]"""


@dataclasses.dataclass(frozen=True)
class Straw:
    """What thatching straw brings."""

    reed_t_per_ha: float
    """Of a perfect crop. [t ha⁻¹]"""
    grain_t_per_ha: float
    """Of a perfect crop. [t ha⁻¹]"""
    reed_gbp_per_t: float
    """Where the question names no buyers. [GBP t⁻¹]"""
    surplus_gbp_per_t: float
    """Beyond what the buyers take: as feed and litter. [GBP t⁻¹]"""


class Buyer(NamedTuple):
    """What one buyer of thatching straw takes a year."""

    straw_t: float
    gbp_per_t: float


class Wanted(NamedTuple):
    """How much of a crop there shall be in a year."""

    year: int
    crop: str
    """A crop, or a kind of crop such as ``wheat``."""
    least_ha: float = 0.0
    most_ha: float = math.inf
    organic: bool = False
    """Whether only what may be sold as organic counts."""


class Increase(NamedTuple):
    """Seed of a scarce variety to be grown from a small lot."""

    variety: str
    seed_kg: float
    """At hand before the first sowing."""
    wanted_ha: float
    """To be sown with it ..."""
    year: int
    """... for this harvest."""


class Pin(NamedTuple):
    """A crop that one field shall grow in one year."""

    field: str
    year: int
    crop: str
