"""How much rain falls in a usual year?"""

import dataclasses

import numpy as np

from sheafwright.answers.working import MEASURED, Step, steps_to_json
from sheafwright.core.errors import NotEnoughWeather
from sheafwright.feeds.weather import read
from sheafwright.feeds.weather.checks import shipped_checks


@dataclasses.dataclass(frozen=True)
class UsualRain:
    """The answer."""

    station: str
    years: np.ndarray
    """Calendar years with enough days measured, (year,)."""
    fell: np.ndarray
    """In each, (year,). [mm]"""

    @property
    def usual(self):
        """Mean of the years. [mm]"""
        return float(self.fell.mean())

    @property
    def sentence(self):
        """The answer in a sentence."""
        return f"{self.usual:,.0f} mm of rain fall in a usual year."

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        says = (
            f"{self.station}: {len(self.years)} years from {self.years[0]} to "
            f"{self.years[-1]}, the driest {self.fell.min():,.0f} mm, the wettest "
            f"{self.fell.max():,.0f} mm."
        )
        return (Step(says, "The weather record", MEASURED),)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "station": self.station,
            "rain_mm_per_year": round(self.usual, 1),
            "by_year": [
                {"year": int(year), "rain_mm": round(float(fell), 1)}
                for year, fell in zip(self.years, self.fell, strict=True)
            ],
            "working": steps_to_json(self.working),
        }


def usual_rain(weather, columns=None, until=None):
    """The `UsualRain` of a weather record.

    Parameters
    ----------
    weather : path
    columns : path, optional
        Of a columns file for it.
    until : datetime.date, optional
        The last day that is read.
    """
    record, enough = read(weather, columns, until), shipped_checks().enough
    rain = record.values.get("rain", np.full(record.days, np.nan))
    days = np.datetime64(record.first) + np.arange(record.days)
    year = days.astype("datetime64[Y]").astype(int) + 1970
    years = np.unique(year)
    measured = np.array([np.isfinite(rain[year == each]).sum() for each in years])
    whole = years[measured >= enough.share_present * 365]
    if len(whole) < enough.seasons_for_odds:
        raise NotEnoughWeather(
            f"{record.station} has {len(whole)} years with the rain of "
            f"{enough.share_present:.0%} of days or more; a usual year should come of "
            f"at least {enough.seasons_for_odds}."
        )
    # A day that is missing is taken to be as wet as the year's others.
    fell = np.array([365.25 * np.nanmean(rain[year == each]) for each in whole])
    return UsualRain(record.station, whole, fell)
