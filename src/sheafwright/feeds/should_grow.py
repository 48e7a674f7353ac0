"""What a newcomer is told, from the tables."""

import dataclasses

from sheafwright.feeds.tables import build_shipped


@dataclasses.dataclass(frozen=True)
class HarvestOdds:
    """How often the straw comes home, by the place."""

    august_rain: tuple[float, ...]
    """[mm]"""
    good_years: tuple[float, ...]
    """Of years, at each of those. [1]"""
    rich_ground: float
    """[1]"""
    open_ground: float
    """[1]"""
    chance_of_good: float
    """[1]"""


@dataclasses.dataclass(frozen=True)
class Shopping:
    """What is bought before the first harvest. [£]"""

    meter_gbp: float
    covers_gbp: float
    binder_parts_gbp: float
    safety_gbp: float
    hours_a_week: float
    """[h]"""


def harvest_odds():
    """`HarvestOdds` of the package."""
    return build_shipped(HarvestOdds, "should_grow", "harvest")


def shopping():
    """`Shopping` of the package."""
    return build_shipped(Shopping, "should_grow", "shopping")
