"""Rows in any order, twice or left out, laid on the calendar."""

import datetime

import numpy as np
import pytest

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds import weather

HEADING = "date,rain_mm,tmin_c\n"


@pytest.fixture
def examined(file):
    def examine(*rows, **options):
        return weather.examine(file(HEADING + "\n".join(rows) + "\n"), **options)

    return examine


def told(examined):
    return [(s.check, s.variable, str(s.first), s.days) for s in examined.suspects]


def test_rows_in_any_order_are_put_in_order(examined):
    record = examined("2024-03-01,3,4", "2024-02-29,1,2").record
    assert record.values["rain"].tolist() == [1, 3]


def test_a_leap_day_left_out_is_missing_and_told(examined):
    found = examined("2024-02-28,1,2", "2024-03-01,3,4")
    assert told(found) == [("missing_days", "date", "2024-02-29", 1)]
    assert np.isnan(found.record.values["rain"][1])


def test_a_day_given_twice_alike_counts_once(examined):
    found = examined("2024-02-28,1,2", "2024-02-28,1,2", "2024-02-29,0,3")
    assert found.record.values["rain"].tolist() == [1, 0]
    assert told(found) == [("duplicated_days", "date", "2024-02-28", 1)]


def test_a_day_given_twice_unlike_is_missing_where_unlike(examined):
    found = examined("2024-02-28,1,2", "2024-02-28,7,2", "2024-02-29,0,3")
    np.testing.assert_array_equal(found.record.values["rain"], [np.nan, 0])
    np.testing.assert_array_equal(found.record.values["tmin"], [2, 3])
    assert ("duplicated_days", "rain", "2024-02-28", 1) in told(found)


def test_days_all_given_twice_unlike_leave_nothing(examined):
    with pytest.raises(UnreadableInput, match="no value that can be used"):
        examined("2024-02-28,1,2", "2024-02-28,7,3")


def test_two_halves_of_a_day_make_one(examined):
    found = examined("2024-02-28,1,", "2024-02-28,,2")
    assert found.record.values["tmin"].tolist() == [2]
    assert found.record.values["rain"].tolist() == [1]


def test_days_to_come_are_told(examined):
    tomorrow = datetime.date.today() + datetime.timedelta(1)
    assert told(examined(f"{tomorrow},1,2")) == [
        ("days_ahead", "date", str(tomorrow), 1)
    ]


def test_days_after_the_last_asked_for_change_nothing(examined):
    rows = [f"2024-02-{day},0,3" for day in range(11, 21)]
    until = datetime.date(2024, 2, 19)
    found = examined(*rows, until=until)
    assert (found.record.last, told(found)) == (until, [])
    # With its tenth day alike the thermometer would count as stuck.
    assert told(examined(*rows)) == [("stuck", "tmin", "2024-02-11", 10)]


def test_a_record_that_begins_after_the_last_day_asked_for_is_refused(examined):
    with pytest.raises(UnreadableInput, match="up to 2024-02-27, and begins later"):
        examined("2024-02-28,1,2", until=datetime.date(2024, 2, 27))


def test_more_rows_than_days_in_five_centuries_are_refused(file):
    with pytest.raises(UnreadableInput, match="200,001 rows are more than five"):
        weather.read(file(HEADING + "2024-02-28,1,2\n" * 200_001))
