"""What a wheat needs to develop, how sure we are of it, and the signs it shows.

Any number of ``Phases`` or ``GrainFilling`` may be an array over the leading axes
(place, draw), so that a thousand possible crops grow at once.
"""

import dataclasses


@dataclasses.dataclass(frozen=True)
class Phases:
    """From sowing to flowering: warmth, slowed by short days and by want of cold."""

    base_temperature: float
    """Nothing develops below this. [°C]"""
    to_emergence: float
    """Thermal time, sowing to emergence. [°C d]"""
    to_double_ridge: float
    """Thermal time at full cold and day length, emergence to double ridge. [°C d]"""
    to_flowering: float
    """Thermal time at full day length, double ridge to GS61. [°C d]"""
    leafing_day_length: float
    """No progress to double ridge at or below this day length. [h]"""
    stem_day_length: float
    """No progress from double ridge to flowering at or below this day length. [h]"""
    full_day_length: float
    """Longer days than this hasten nothing further. [h]"""
    vernal_days_base: float
    """Vernal days before which the crop stays in leaf. [d]"""
    vernal_days_full: float
    """Vernal days after which cold slows nothing. [d]"""
    vernal_temperatures: tuple[float, float, float, float]
    """Cold works above the first, fully from the second to the third, and no longer
    from the fourth. [°C]"""
    gs31: float
    """First node, as a share of the way from double ridge to flowering. [1]"""
    gs39: float
    """Flag leaf out, as the same share. [1]"""
    gs59: float
    """Ear out, as the same share. [1]"""


@dataclasses.dataclass(frozen=True)
class GrainFilling:
    """From flowering, GS61, to hard dough, GS87."""

    base_temperature: float
    """Grain fills only above this. [°C]"""
    thermal_sum: float
    """Thermal time, flowering to hard dough. [°C d]"""
    gs71: float
    """Grain watery ripe, as a share of that sum. [1]"""
    gs75: float
    """Medium milk, as the same share. [1]"""
    gs83: float
    """Early dough, as the same share. [1]"""
    gs85: float
    """Soft dough, as the same share. [1]"""


@dataclasses.dataclass(frozen=True)
class CuttingWindow:
    """When a binder may cut for thatching straw."""

    opens_at: float
    """Ripeness at which the window opens. [1]"""
    closes_at: float
    """Ripeness at which it begins to close ... [1]"""
    closes_after: float
    """... and does so this much later. [d]"""


@dataclasses.dataclass(frozen=True)
class VernalisationRule:
    """When a crop's cold is judged to be enough."""

    judged_on: int
    """Day of the harvest year to which vernal days are counted. [day of year]"""
    safe_margin: float
    """Safe from this many times the vernal days needed. [1]"""
    warm_from: int
    """Warmth counts against heading from this day of the year. [day of year]"""
    warm_days: int
    """Days in the mean that tells of warmth. [d]"""
    warm_mean: float
    """Above this mean a crop short of cold heads unevenly. [°C]"""


@dataclasses.dataclass(frozen=True)
class WangEngel:
    """The second opinion on development: smooth responses in place of straight lines.

    Each triple is the lowest, best and highest temperature. [°C]
    """

    vegetative_temperatures: tuple[float, float, float]
    grain_temperatures: tuple[float, float, float]
    vernal_temperatures: tuple[float, float, float]
    critical_day_length: float
    """No progress to flowering at or below this day length. [h]"""
    day_length_response: float
    """How fast longer days hasten it. [h⁻¹]"""
    vernal_half: float
    """Vernal days at which half the effect of cold is reached. [d]"""
    vernal_power: float
    """Steepness of that effect. [1]"""
    vegetative_rate: float
    """Highest rate, emergence to flowering. [d⁻¹]"""
    grain_rate: float
    """Highest rate, flowering to hard dough. [d⁻¹]"""


@dataclasses.dataclass(frozen=True)
class DoubtPrior:
    """How far this place and variety may be from the book, before any date is known."""

    flowering_sd: float
    """Standard deviation of the log of the sums from emergence to flowering. [1]"""
    grain_filling_sd: float
    """Standard deviation of the log of the sum from flowering to hard dough. [1]"""
    cutting_ripeness: float
    """Ripeness at which this grower is expected to cut. [1]"""
    cutting_ripeness_sd: float
    """Its standard deviation from grower to grower. [1]"""
    form_weights: tuple[float, ...]
    """Prior chance of each form of grain filling, in the table's order. [1]"""


@dataclasses.dataclass(frozen=True)
class DateErrors:
    """How far a date the grower gives may lie from the date predicted."""

    flowering: float
    """Standard deviation for the start of flowering. [d]"""
    cutting: float
    """Standard deviation for the day of cutting. [d]"""


@dataclasses.dataclass(frozen=True)
class SignLadder:
    """A sign of ripening that passes through levels, greenest first."""

    levels: tuple[str, ...]
    midpoints: tuple[float, ...]
    """Ripeness at which half of crops have passed from each level to the next. [1]"""
    width: float
    """Spread of that passage: a quarter to three quarters takes 2.2 widths. [1]"""
    misread: float
    """Chance that the level is read at random. [1]"""
