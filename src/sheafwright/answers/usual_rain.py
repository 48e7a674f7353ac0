"""How much rain falls in a usual year?"""

import dataclasses

import numpy as np

from sheafwright.answers.working import MEASURED, THE_RECORD, Step, steps_to_json
from sheafwright.core.errors import NotEnoughWeather
from sheafwright.feeds.telling import measured, say
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
        rain = measured(self.usual, "mm", ",.0f")
        return say("{rain} of rain fall in a usual year.", rain=rain)

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        says = say(
            "{station}: {years} years from {first} to {last}, the driest {driest}, the "
            "wettest {wettest}.",
            station=self.station,
            years=len(self.years),
            first=self.years[0],
            last=self.years[-1],
            driest=measured(self.fell.min(), "mm", ",.0f"),
            wettest=measured(self.fell.max(), "mm", ",.0f"),
        )
        return (Step(says, THE_RECORD, MEASURED),)

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
    year = record.year
    years = np.unique(year)
    present = np.array([np.isfinite(rain[year == each]).sum() for each in years])
    whole = years[present >= enough.share_present * 365]
    if len(whole) < enough.seasons_for_odds:
        raise NotEnoughWeather(
            "{station} has {years} years with the rain of {share:.0%} of days or more; "
            "a usual year should come of at least {least}.",
            station=record.station,
            years=len(whole),
            share=enough.share_present,
            least=enough.seasons_for_odds,
        )
    # A day that is missing is taken to be as wet as the year's others.
    fell = np.array([365.25 * np.nanmean(rain[year == each]) for each in whole])
    return UsualRain(record.station, whole, fell)
