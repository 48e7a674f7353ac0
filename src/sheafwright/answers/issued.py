"""What does a forecast say of each day ahead, and how far is it to be believed?"""

import dataclasses
import datetime

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows
from sheafwright.core.chance.foretelling import correlation_of_skill, signal_of_members
from sheafwright.core.chance.futures import NO_FORECAST
from sheafwright.core.chance.wetness import wetness_foretold
from sheafwright.feeds import decision
from sheafwright.feeds.tables import shipped


@dataclasses.dataclass(frozen=True)
class Issued:
    """A forecast's rain on the days after today."""

    rain: np.ndarray
    """(member, lead). [mm d⁻¹]"""
    correlation: np.ndarray
    """Its skill by lead, (lead,); empty where there is none. [0–1]"""
    first: datetime.date | None
    """Its first day."""
    step: Step

    def signal(self, weather, usable):
        """Signal of each lead, (lead,). [1]

        Parameters
        ----------
        weather : sheafwright.core.decide.learn.Weather
        usable : array_like of bool, shape (day,)
            Days of the record that make the climate.
        """
        if not len(self.correlation):
            return NO_FORECAST
        climate = (
            weather.rain[usable],
            weather.evapotranspiration[usable],
            weather.day_of_year[usable],
        )
        scores = [
            wetness_foretold(*climate, rain, self._day_of_year(lead))
            for lead, rain in enumerate(self.rain.T)
        ]
        return signal_of_members(np.transpose(scores), self.correlation)

    def _day_of_year(self, lead):
        return (self.first + datetime.timedelta(lead)).timetuple().tm_yday


def issued(forecast, today):
    """What a forecast says of the days after today, `Issued`.

    Parameters
    ----------
    forecast : sheafwright.feeds.forecast.daily.Forecast or None
    today : datetime.date
    """
    skill = shipped("decision")["forecast"]["brier_skill"]
    if forecast is None:
        step = Step(wording.NO_FORECAST, YOU, GIVEN)
        return Issued(np.empty((0, 0)), NO_FORECAST, None, step)
    ahead = forecast.after(today)
    # An old forecast is as good as its age lets it be.
    age = (today - ahead.issued).days
    left = correlation_of_skill(decision.forecast_skill())[age:]
    n_leads = min(len(left), ahead.rain.shape[-1])
    says = wording.forecast(ahead.source, n_leads, age)
    step = step_from_rows(says, skill)
    return Issued(ahead.rain[:, :n_leads], left[:n_leads], ahead.first, step)
