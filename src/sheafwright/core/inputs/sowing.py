"""What a sowing is held against."""

import dataclasses


@dataclasses.dataclass(frozen=True)
class ByDate:
    """A value by date: straight lines between the days, held beyond them."""

    days: tuple[float, ...]
    """After 30 September, rising. [d]"""
    values: tuple[float, ...]


@dataclasses.dataclass(frozen=True)
class ThickSeed:
    """When a sowing is called thick, for a tall wheat."""

    seeds_enough: float
    """That were enough in a trial. [m⁻²]"""
    seeds_thick: float
    """More live seed is thick whatever comes up, and never advised in autumn. [m⁻²]"""
    plants_most: float
    """The densest stand that autumn sowing should aim for. [m⁻²]"""


@dataclasses.dataclass(frozen=True)
class SeedHandling:
    """What is lost, spared and put by on the way from the sack to the drill."""

    spare: float
    """Over what the drill needs, for headlands and the hopper's last. [1]"""
    sack: float
    """Mass of seed in one. [kg]"""
    cleaning_loss: float
    """Share of the grain that cleaning takes out. [0–1]"""
    reserve: float
    """Over what next year needs, against a poor test. [1]"""


@dataclasses.dataclass(frozen=True)
class DrillTest:
    """How a tray test is judged."""

    confidence: float
    """With which the interval is said. [0–1]"""
    within: float
    """Of the mean, to which catches should narrow it. [1]"""


@dataclasses.dataclass(frozen=True)
class CountRules:
    """How a count of plants is judged."""

    confidence: float
    """With which the interval is said. [0–1]"""
    least: float
    """A stand below this is sown again. [m⁻²]"""
    uneven_below: float
    """Spots so uneven by no more than this chance stand in patches. [0–1]"""


@dataclasses.dataclass(frozen=True)
class SeedCrop:
    """What thinly sown seed gives back."""

    yield_low: float
    """Grain of a poor year, 1 in 10 below it. [kg ha⁻¹]"""
    yield_high: float
    """Grain of a good year, 1 in 10 above it. [kg ha⁻¹]"""
    thin_share: float
    """Of a full stand's yield, that a thin one gives. [0–1]"""
    failure: float
    """Chance that a year's seed plot is lost. [0–1]"""
    kept_back: float
    """Share of the seed in hand that is never sown in the same year. [0–1]"""
    enough_tenths: int
    """A year is named once so many chances in 10 say that there is enough. [1]"""
