"""What a germination test is held against."""

import dataclasses


@dataclasses.dataclass(frozen=True)
class TrayRange:
    """How far trays of one test may lie apart, by their mean.

    Each width holds from its lowest mean up to the one before. Below one half it is
    that of the mirror, 101 less the mean.
    """

    lowest_mean: tuple[float, ...]
    """The highest first, the last 51. [seeds in 100]"""
    widest: tuple[float, ...]
    """Highest tray less lowest. [seeds in 100]"""


@dataclasses.dataclass(frozen=True)
class GerminationRules:
    """How a test is judged."""

    seeds_in_tray: int
    """That the ranges of trays hold for. [1]"""
    confidence: float
    """With which the interval is said. [0–1]"""
    least: float
    """That seed sold as wheat must reach. [0–1]"""
