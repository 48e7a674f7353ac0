"""Which sowings are set side by side, and by what they are judged."""

import dataclasses


@dataclasses.dataclass(frozen=True)
class UsualSowings:
    """What is compared where the grower names nothing."""

    months: tuple[int, ...]
    """Month of each sowing."""
    days: tuple[int, ...]
    """Its day of the month."""
    plants_per_m2: tuple[float, ...]
    """Plants that come up. [m⁻²]"""


@dataclasses.dataclass(frozen=True)
class SowingRules:
    """How past seasons are judged."""

    season_ends: int
    """A crop not cut by then is left standing. [day of year]"""
    winter_wheat_until: int
    """A winter wheat sown later is at risk, whatever the sums say. [day of year]"""
    clear_from: float
    """A gain is clear from so many of its standard errors on. [1]"""


@dataclasses.dataclass(frozen=True)
class LodgedLosses:
    """What is lost of a crop that lies, beside one that stands."""

    reed_lost: float
    """[0–1]"""
    grain_lost: float
    """[0–1]"""


@dataclasses.dataclass(frozen=True)
class Seed:
    """The seed that is sown."""

    thousand_grain_weight: float
    """[g]"""
    gbp_per_t: float
    """What it costs. [GBP t⁻¹]"""
