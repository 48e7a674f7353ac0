"""A year of monthly means to grow wheat in, wherever the tests run."""

import datetime
from typing import NamedTuple

import numpy as np
import pytest

from sheafwright.core.weather.day_length import day_length

FIRST = datetime.date(2000, 9, 1)
# Rothamsted's means of 1981-2010 from January on, from memory. [°C]
WARMEST = [6.7, 7.0, 10.0, 12.7, 16.2, 19.2, 21.8, 21.6, 18.3, 14.0, 9.7, 7.0]
COLDEST = [1.4, 1.1, 2.9, 4.2, 7.1, 10.0, 12.1, 12.1, 10.1, 7.4, 4.1, 1.9]
LATITUDE = 51.81


class Season(NamedTuple):
    """Daily weather from 1 September 2000, with harvest in 2001."""

    tmin: np.ndarray
    tmax: np.ndarray
    day_length: np.ndarray

    def day(self, text):
        """Position of a day: October on is the sowing year unless a year is given."""
        if text is None:
            return np.nan
        year = "2000" if text[3:6] in ("Oct", "Nov", "Dec") else "2001"
        date = datetime.datetime.strptime(f"{text} {year}"[:11], "%d %b %Y").date()
        return (date - FIRST).days

    def warmer(self, by):
        """The same season, warmer by some degrees."""
        return self._replace(tmin=self.tmin + by, tmax=self.tmax + by)


@pytest.fixture(scope="session")
def season():
    """Means held at the 15th of each month, and straight lines between."""
    dates = [FIRST + datetime.timedelta(n) for n in range(480)]
    middles = [
        datetime.date(y, m, 15) for y in (2000, 2001, 2002) for m in range(1, 13)
    ]

    def daily(monthly):
        held = [middle.toordinal() for middle in middles]
        return np.interp([d.toordinal() for d in dates], held, monthly * 3)

    day_of_year = np.array([date.timetuple().tm_yday for date in dates])
    return Season(daily(COLDEST), daily(WARMEST), day_length(LATITUDE, day_of_year))
