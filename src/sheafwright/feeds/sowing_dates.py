"""Which sowings are compared and how, from the tables."""

from sheafwright.core.inputs.sowing_dates import SowingRules, UsualSowings
from sheafwright.feeds.tables import build, shipped


def usual_sowings():
    """`UsualSowings`."""
    return _section(UsualSowings, "sowings")


def sowing_rules():
    """`SowingRules`."""
    return _section(SowingRules, "judging")


def _section(kind, section):
    rows = shipped("sowing_dates")[section]
    return build(kind, rows, f"sowing_dates.toml [{section}]")
