import datetime

import numpy as np
import pytest

from sheafwright.core.errors import NotEnoughWeather, OutOfRange
from sheafwright.feeds.forecast.daily import Forecast

AUGUST = [datetime.date(2026, 8, day) for day in range(1, 12)]


@pytest.fixture
def forecast():
    """Issued on the 3rd (position 2), for the 3rd to the 7th."""
    rain = np.arange(10.0).reshape(2, 5)
    return Forecast(AUGUST[2], AUGUST[2], rain, rain + 5, rain + 15, "ours")


def test_the_last_day_follows_from_the_first(forecast):
    assert forecast.last == AUGUST[6]


def test_the_day_of_issue_is_no_lead(forecast):
    ahead = forecast.after(AUGUST[2])
    assert ahead.first == AUGUST[3]
    np.testing.assert_array_equal(ahead.rain, [[1, 2, 3, 4], [6, 7, 8, 9]])
    np.testing.assert_array_equal(ahead.tmin, ahead.rain + 5)
    np.testing.assert_array_equal(ahead.tmax, ahead.rain + 15)


def test_an_old_forecast_keeps_its_date_of_issue(forecast):
    ahead = forecast.after(AUGUST[5])
    assert (ahead.issued, ahead.first, ahead.last) == (AUGUST[2], AUGUST[6], AUGUST[6])


def test_rain_alone_is_cut_too(forecast):
    rain_alone = Forecast(AUGUST[2], AUGUST[3], forecast.rain, None, None, "ours")
    assert rain_alone.after(AUGUST[2]).rain.shape == (2, 5)
    assert rain_alone.after(AUGUST[3]).rain.shape == (2, 4)


def test_a_forecast_says_nothing_of_days_before_it_was_issued(forecast):
    with pytest.raises(OutOfRange, match="issued on 2026-08-03, so advice for 2026-08"):
        forecast.after(AUGUST[1])


def test_a_forecast_that_has_ended_is_refused(forecast):
    with pytest.raises(NotEnoughWeather, match="ends on 2026-08-07"):
        forecast.after(AUGUST[6])
