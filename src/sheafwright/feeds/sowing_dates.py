"""Which sowings are compared and how, from the tables."""

from sheafwright.core.inputs.sowing_dates import (
    LodgedLosses,
    Seed,
    SowingRules,
    UsualSowings,
)
from sheafwright.feeds.tables import build_shipped, shipped


def usual_sowings():
    """`UsualSowings`."""
    return _section(UsualSowings, "sowings")


def sowing_rules():
    """`SowingRules`."""
    return _section(SowingRules, "judging")


def lodged_losses():
    """`LodgedLosses`."""
    return _section(LodgedLosses, "lodged")


def seed():
    """`Seed`."""
    return _section(Seed, "seed")


def lost_per_week_later():
    """Share of a crop that may be lost by every week that it is sown later. [week⁻¹]"""
    return shipped("sowing_dates")["unsettled"]["lost_per_week_later"].value


def _section(kind, section):
    return build_shipped(kind, "sowing_dates", section)
