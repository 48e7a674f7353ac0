"""A weather record: one station's days without a break, missing values as NaN."""

import dataclasses
import datetime
from collections.abc import Mapping

import numpy as np

from sheafwright.core.errors import NotEnoughWeather


@dataclasses.dataclass(frozen=True)
class WeatherRecord:
    """Daily weather of one station, in our names and units."""

    station: str
    layout: str
    """The kind of file it came from."""
    first: datetime.date
    values: Mapping[str, np.ndarray]
    """Variable to its days, each of shape (day,); a variable never seen is absent."""
    latitude: float | None = None
    """North is positive. [°]"""
    longitude: float | None = None
    """East is positive. [°]"""
    altitude: float | None = None
    """Height above the sea. [m]"""
    filled: Mapping[str, np.ndarray] = dataclasses.field(default_factory=dict)
    """Variable to the days filled rather than measured, each of shape (day,)."""

    @property
    def days(self):
        """Number of days from the first to the last."""
        return len(next(iter(self.values.values())))

    @property
    def last(self):
        """The last day."""
        return self.first + datetime.timedelta(self.days - 1)

    @property
    def dates(self):
        """Every day: (day,) of datetime64[D]."""
        return np.datetime64(self.first, "D") + np.arange(self.days)

    @property
    def day_of_year(self):
        """1 on 1 January, to 366: (day,) of int."""
        dates = self.dates
        return (dates - dates.astype("datetime64[Y]")).astype(int) + 1

    @property
    def year(self):
        """Of the calendar: (day,) of int."""
        return self.dates.astype("datetime64[Y]").astype(int) + 1970

    @property
    def month(self):
        """1 for January: (day,) of int."""
        return self.dates.astype("datetime64[M]").astype(int) % 12 + 1

    def missing(self, name):
        """Days without a measured value, filled or not: (day,) of bool."""
        nothing = np.zeros(self.days, dtype=bool)
        return np.isnan(self.values[name]) | self.filled.get(name, nothing)

    def upto(self, date):
        """The record as it stood at the end of a day: nothing of any later one."""
        return self.between(self.first, date)

    def between(self, first, last):
        """The days from ``first`` to ``last``, as far as the record has them."""
        first, last = max(first, self.first), min(last, self.last)
        if first > last:
            raise NotEnoughWeather(
                "{station} has weather from {first} to {last}; the days asked for lie "
                "outside.",
                station=self.station,
                first=str(self.first),
                last=str(self.last),
            )
        kept = slice((first - self.first).days, (last - self.first).days + 1)
        # A gap still open on the last day was filled towards a day after it.
        known = {
            name: ~_open_at_end(filled[kept]) for name, filled in self.filled.items()
        }
        values = {name: values[kept] for name, values in self.values.items()}
        filled = {name: self.filled[name][kept] & known[name] for name in known}
        values |= {n: np.where(known[n], values[n], np.nan) for n in known}
        return dataclasses.replace(self, first=first, values=values, filled=filled)


def _open_at_end(filled):
    return np.logical_and.accumulate(filled[::-1])[::-1]
