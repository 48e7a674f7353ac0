"""A forecast as the rest of the tool knows it."""

import dataclasses
import datetime

import numpy as np

from sheafwright.core.errors import NotEnoughWeather, OutOfRange


@dataclasses.dataclass(frozen=True)
class Forecast:
    """Whole days ahead, without a gap, in members that are equally likely."""

    issued: datetime.date
    """The day on which it could first be read."""
    first: datetime.date
    """Its first day: ``issued`` itself or the day after, unless cut by `after`."""
    rain: np.ndarray
    """Shape (member, lead_day). [mm d⁻¹]"""
    tmin: np.ndarray | None
    """Shape (member, lead_day), or None where not forecast. [°C]"""
    tmax: np.ndarray | None
    """Shape (member, lead_day), or None where not forecast. [°C]"""
    source: str
    """Whose it is, when it was made, and how it came."""

    @property
    def last(self):
        """Its last day."""
        return self.first + datetime.timedelta(days=self.rain.shape[-1] - 1)

    def after(self, date):
        """The days after ``date``, so that the first has a lead of one day.

        ``issued`` stays, since the skill of an old forecast is that of its age.
        """
        if date < self.issued:
            raise OutOfRange(
                "The forecast was issued on {issued}, so advice for {date} cannot use "
                "it ({source}).",
                issued=str(self.issued),
                date=str(date),
                source=self.source,
            )
        if date >= self.last:
            raise NotEnoughWeather(
                "The forecast ends on {last}, so it says nothing of the days after "
                "{date} ({source}).",
                last=str(self.last),
                date=str(date),
                source=self.source,
            )
        ahead = slice((date - self.first).days + 1, None)
        return dataclasses.replace(
            self,
            first=date + datetime.timedelta(days=1),
            rain=self.rain[:, ahead],
            tmin=None if self.tmin is None else self.tmin[:, ahead],
            tmax=None if self.tmax is None else self.tmax[:, ahead],
        )
