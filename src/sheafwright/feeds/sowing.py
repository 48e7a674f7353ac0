"""How thick to sow and how to judge what came of it, from the tables."""

import datetime

from sheafwright.core.inputs.sowing import (
    ByDate,
    CountRules,
    DrillTest,
    SeedCrop,
    SeedHandling,
    ThickSeed,
)
from sheafwright.feeds.tables import build, build_shipped, shipped

PURPOSES = ("straw", "grain", "seed")
TILLERING = ("free", "shy")
SOILS = ("sand", "loam", "clay")
PREVIOUS_CROPS = ("oats", "beans", "other")
PURITIES = ("basic", "first", "second")
AUTUMN_FROM = 8
"""A sowing from this month on is harvested in the next calendar year."""
SEPTEMBER_ENDS = (9, 30)
"""Month and day from which what changes by the date of sowing is counted."""


def harvest_year(sown):
    """Calendar year of the harvest of a crop sown on a date."""
    return sown.year + (sown.month >= AUTUMN_FROM)


def dates_in(years, month, day):
    """A day of each season, (season,) of datetime64; autumn's lies the year before.

    29 February is 1 March in a year that has none.

    Parameters
    ----------
    years : ndarray of int, shape (season,)
        Of the harvests.
    month, day : int
    """
    months = (years - (month >= AUTUMN_FROM) - 1970) * 12 + month - 1
    return months.astype("datetime64[M]").astype("datetime64[D]") + (day - 1)


def days_after(day, sown):
    """Days from a month and day of the same sowing season, below 0 before it. [d]"""
    year = harvest_year(sown) - (day[0] >= AUTUMN_FROM)
    return (sown - datetime.date(year, *day)).days


def optimum_by_date():
    """`ByDate` of the plants that yield best for their seed. [m⁻²]"""
    table = shipped("sowing")
    published = build(ByDate, table["optimum"], "sowing.toml [optimum]")
    return _until_february(published, table["february"]["optimum"])


def thick_by_date(name):
    """`ByDate` of a limit of `ThickSeed`, which February's few tillers raise."""
    last = optimum_by_date().days[-2]
    autumn = ByDate((last,), (getattr(thick_seed(), name),))
    return _until_february(autumn, shipped("sowing")["february"][name])


def _until_february(autumn, row):
    days = shipped("sowing")["february"]["days"].value
    return ByDate((*autumn.days, *days), (*autumn.values, *row.value))


def established_by_date():
    """`ByDate` of the share of all seed that makes a plant. [0–1]"""
    return _section(ByDate, "established_by_date")


def thick_seed():
    """`ThickSeed`."""
    return _section(ThickSeed, "thick")


def seed_handling():
    """`SeedHandling`."""
    return _section(SeedHandling, "handling")


def drill_test():
    """`DrillTest`."""
    return _section(DrillTest, "drill_test")


def count_rules():
    """`CountRules`."""
    return _section(CountRules, "count")


def seed_crop():
    """`SeedCrop`."""
    return _section(SeedCrop, "increase")


def sowing_row(section, name):
    """One `Row` of the table."""
    return shipped("sowing")[section][name]


def rogueing_rows():
    """Every `Row` of how seed is kept true."""
    return tuple(shipped("sowing")["rogueing"].values())


def law_rows():
    """Every `Row` of what the law says of seed that a grower saves."""
    return tuple(shipped("sowing")["law"].values())


def _section(kind, section):
    return build_shipped(kind, "sowing", section)
