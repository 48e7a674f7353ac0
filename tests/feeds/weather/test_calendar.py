"""Dates as files write them."""

import datetime

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.feeds.weather.calendar import (
    DIRECTIVES,
    calendar_days,
    date_pattern,
    to_days,
    with_century,
)

FORMATS = st.sampled_from(["%Y-%m-%d", "%Y%m%d", "%d-%b-%Y", "%d/%m/%Y", "%d.%m.%Y"])
DATES = st.dates(datetime.date(1650, 1, 1), datetime.date(2200, 12, 31))


@given(st.lists(DATES, min_size=1, max_size=5), FORMATS)
def test_dates_read_back_as_they_were_written(dates, date_format):
    cells = [date.strftime(date_format) for date in dates]
    days, wrong = to_days(cells, date_format)
    assert wrong is None
    assert days.tolist() == dates


def is_date(year, month, day):
    try:
        return datetime.date(year, month, day).year in range(1650, 2201)
    except ValueError:
        return False


@given(st.tuples(st.integers(1000, 9999), st.integers(0, 99), st.integers(0, 99)))
def test_numbers_that_make_no_date_are_pointed_at(parts):
    year, month, day = parts
    _, wrong = to_days(["2024-02-29", f"{year}-{month}-{day}"], "%Y-%m-%d")
    assert wrong == (None if is_date(*parts) else 1)


@pytest.mark.parametrize(
    "cell", ["", " ", "2024", "2024-2", "2024-02-29x", "-2024-2-9"]
)
def test_any_other_text_is_pointed_at(cell):
    assert to_days(["2024-02-29", cell, "2024-03-01"], "%Y-%m-%d") == (None, 1)


@pytest.mark.parametrize(
    "day", [(2023, 2, 29), (1900, 2, 29), (2024, 13, 1), (9999, 1, 1)]
)
def test_a_day_that_never_was_is_pointed_at(day):
    parts = np.array([(2024, 2, 29), day]).T
    assert calendar_days(*parts)[1] == 1


def test_a_two_digit_year_is_the_last_not_after_today():
    short = np.array([42, 99, 0, 26, 27])
    years = [1942, 1999, 2000, 2026, 1927]
    assert with_century(short, latest=2026).tolist() == years


@pytest.mark.parametrize("wrong", ["", "%Y", "%Y-%m", "%Y-%m-%d %H", "%d%d%m%Y", "%j"])
def test_a_format_without_exactly_a_day_month_and_year_is_none(wrong):
    assert date_pattern(wrong) is None


def test_every_directive_can_be_used():
    used = "%d-%m-%Y", "%d-%b-%y"
    assert all(date_pattern(each) for each in used)
    assert {d for each in used for d in each.split("-")} == set(DIRECTIVES)
