"""Gaps: short ones bridged and marked, long ones listed with the seasons they spoil.

Only what drifts from day to day is bridged. Rain, sunshine, radiation, gusts and
evapotranspiration are not: nothing beside a gap tells whether it was wet, and a dry
day made up would be a cutting day made up.
"""

import dataclasses
import datetime

import numpy as np

from sheafwright.core.weather.quality import bridge_short_gaps, out_of_order, runs
from sheafwright.feeds.telling import mark
from sheafwright.feeds.weather.variables import ORDERED

METHOD = mark("straight line from the day before the gap to the day after")
BRIDGED = (
    "tmin",
    "tmax",
    "tmean",
    "dewpoint",
    "soil_temperature",
    "wind",
    "pressure",
    "humidity",
    "humidity_min",
    "humidity_max",
)
SEASON_BEGINS = 10
"""A harvest year runs from October, when the last year's straw is in the rick."""
ALL_SEASON = ("tmin", "tmax")
"""A crop's stages need every day's temperatures."""
HARVEST = ("rain",)
HARVEST_MONTHS = (6, 7, 8, 9)
"""Rain matters to us between ear and rick."""


@dataclasses.dataclass(frozen=True)
class Gap:
    """Days of one variable that were not measured."""

    variable: str
    first: datetime.date
    last: datetime.date
    days: int
    filled: bool


@dataclasses.dataclass(frozen=True)
class SpoiledSeason:
    """A harvest year that a gap makes useless."""

    harvest_year: int
    variable: str
    first: datetime.date
    """The first missing day that matters."""
    days: int
    """How many."""


def fill_short_gaps(record, longest):
    """The record with gaps of up to ``longest`` days bridged, and marked."""
    values, filled = dict(record.values), {}
    for name in filter(values.__contains__, BRIDGED):
        values[name] = bridge_short_gaps(record.values[name], longest)
    for pair in ORDERED:
        if set(pair) <= values.keys():
            # A line may cross what was measured that day: no value then.
            crossed = out_of_order(*(values[name] for name in pair))
            for name in pair:
                values[name] = np.where(crossed, record.values[name], values[name])
    for name in values:
        bridged = np.isnan(record.values[name]) & ~np.isnan(values[name])
        if bridged.any():
            filled[name] = bridged
    return dataclasses.replace(record, values=values, filled=filled)


def gaps(record):
    """Every run of days not measured, filled or not."""
    found = []
    for name in record.values:
        filled = record.filled.get(name, np.zeros(record.days, dtype=bool))
        for start, length in zip(*runs(record.missing(name)), strict=True):
            found.append(
                Gap(
                    variable=name,
                    first=_date(record, start),
                    last=_date(record, start + length - 1),
                    days=int(length),
                    filled=bool(filled[start : start + length].all()),
                )
            )
    return found


def whole_seasons(record):
    """Harvest years of which the record has every day: list of int."""
    years, counts = np.unique(_harvest_year(record), return_counts=True)
    return [int(year) for year, days in zip(years, counts, strict=True) if days >= 365]


def spoiled_seasons(record):
    """Whole harvest years without a value they need, one entry for each variable."""
    harvest_year = _harvest_year(record)
    whole = whole_seasons(record)
    in_harvest = np.isin(record.month, HARVEST_MONTHS)
    everywhere = np.ones(record.days, dtype=bool)
    needed = dict.fromkeys(ALL_SEASON, everywhere) | dict.fromkeys(HARVEST, in_harvest)
    spoiled = []
    for name, when in needed.items():
        if name not in record.values:
            continue
        lacking = np.flatnonzero(np.isnan(record.values[name]) & when)
        years, firsts, counts = np.unique(
            harvest_year[lacking], return_index=True, return_counts=True
        )
        spoiled += [
            SpoiledSeason(int(year), name, _date(record, lacking[first]), int(days))
            for year, first, days in zip(years, firsts, counts, strict=True)
            if year in whole
        ]
    return spoiled


def _harvest_year(record):
    return record.year + (record.month >= SEASON_BEGINS)


def _date(record, position):
    return record.first + datetime.timedelta(int(position))
