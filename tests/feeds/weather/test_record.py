"""The record itself: its days, and parts of it."""

import datetime

import numpy as np
import pytest

from sheafwright.core.errors import NotEnoughWeather
from sheafwright.feeds.weather.gaps import fill_short_gaps
from sheafwright.feeds.weather.record import WeatherRecord


def february(day):
    return datetime.date(2024, 2, day)


@pytest.fixture
def record():
    tmin = np.array([1, 2, np.nan, np.nan, 5, 6.0])
    values = {"tmin": tmin, "rain": np.arange(6.0)}
    bare = WeatherRecord("Long Meadow", "by hand", february(25), values)
    return fill_short_gaps(bare, longest=3)


def test_a_record_knows_its_days(record):
    assert (record.days, record.last) == (6, datetime.date(2024, 3, 1))
    assert record.dates[[0, -1]].tolist() == [record.first, record.last]
    assert record.day_of_year.tolist() == [56, 57, 58, 59, 60, 61]


def test_a_bridged_day_is_still_not_measured(record):
    assert record.values["tmin"].tolist() == [1, 2, 3, 4, 5, 6]
    assert record.missing("tmin").tolist() == [False, False, True, True, False, False]


def test_up_to_a_day_holds_nothing_later(record):
    early = record.upto(february(29))
    assert (early.first, early.last) == (record.first, february(29))
    assert early.values["rain"].tolist() == [0, 1, 2, 3, 4]


@pytest.mark.parametrize("day", [27, 28])
def test_a_gap_is_bridged_only_once_the_day_after_it_is_known(record, day):
    early = record.upto(february(day))
    assert np.isnan(early.values["tmin"][2:]).all()
    assert not early.filled["tmin"].any()


def test_between_two_days_keeps_both(record):
    part = record.between(february(26), february(29))
    assert (part.first, part.days) == (february(26), 4)
    assert part.values["tmin"].tolist() == [2, 3, 4, 5]
    assert part.filled["tmin"].tolist() == [False, True, True, False]


def test_days_that_the_record_has_not_are_refused_in_words(record):
    with pytest.raises(NotEnoughWeather, match="from 2024-02-25 to 2024-03-01"):
        record.upto(february(24))
