"""Short gaps bridged and marked; long ones listed, with the seasons they spoil."""

import datetime

import numpy as np
import pytest

from sheafwright.feeds.weather import gaps
from sheafwright.feeds.weather.record import WeatherRecord

FIRST = datetime.date(2000, 10, 1)
DAYS = np.arange("2000-10-01", "2003-10-01", dtype="datetime64[D]")


def record(**missing):
    """Three harvest years, missing what is given as variable=(day, number of days)."""
    values = {
        "tmin": 5 + np.arange(len(DAYS)) % 7.0,
        "tmax": 15 + np.arange(len(DAYS)) % 5.0,
        "rain": np.arange(len(DAYS)) % 3.0,
    }
    for name, (day, count) in missing.items():
        start = int((np.datetime64(day) - DAYS[0]).astype(int))
        values[name][start : start + count] = np.nan
    bare = WeatherRecord("Long Meadow", "by hand", FIRST, values)
    return gaps.fill_short_gaps(bare, longest=3)


@pytest.mark.parametrize("days", [1, 2, 3])
def test_a_short_gap_of_temperature_is_bridged_and_marked(days):
    (gap,) = gaps.gaps(record(tmin=("2002-01-10", days)))
    assert (gap.variable, gap.days, gap.filled) == ("tmin", days, True)
    assert gap.last == datetime.date(2002, 1, 9) + datetime.timedelta(days)


def test_a_longer_gap_stays_open():
    open_gap = record(tmin=("2002-01-10", 4))
    assert np.isnan(open_gap.values["tmin"]).sum() == 4
    assert not gaps.gaps(open_gap)[0].filled


def test_rain_is_never_made_up():
    dry_or_not = record(rain=("2002-07-10", 1))
    assert np.isnan(dry_or_not.values["rain"]).sum() == 1
    assert not dry_or_not.filled


def test_a_bridge_never_crosses_a_temperature_that_was_measured():
    cold_day = record(tmin=("2002-01-10", 1))
    values = {name: each.copy() for name, each in cold_day.values.items()}
    at = int((np.datetime64("2002-01-10") - DAYS[0]).astype(int))
    values["tmin"][at], values["tmax"][at] = np.nan, -20.0
    bare = WeatherRecord("Long Meadow", "by hand", FIRST, values)
    assert np.isnan(gaps.fill_short_gaps(bare, longest=3).values["tmin"][at])


def test_whole_seasons_run_from_october_to_september():
    assert gaps.whole_seasons(record()) == [2001, 2002, 2003]
    assert gaps.whole_seasons(record().upto(datetime.date(2003, 9, 29))) == [2001, 2002]


def spoiled(**missing):
    return [
        (season.harvest_year, season.variable, str(season.first), season.days)
        for season in gaps.spoiled_seasons(record(**missing))
    ]


def test_a_long_gap_of_temperature_spoils_its_harvest_year():
    assert spoiled(tmax=("2001-12-30", 4)) == [(2002, "tmax", "2001-12-30", 4)]
    assert spoiled(tmax=("2001-12-30", 3)) == []


def test_missing_rain_spoils_a_season_only_between_ear_and_rick():
    assert spoiled(rain=("2002-07-10", 1)) == [(2002, "rain", "2002-07-10", 1)]
    assert spoiled(rain=("2002-01-10", 60)) == []


def test_a_gap_over_the_turn_of_a_season_spoils_both():
    years = [year for year, *_ in spoiled(tmin=("2001-09-28", 10))]
    assert years == [2001, 2002]
