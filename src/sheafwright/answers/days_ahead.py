"""What may the next days bring to a field, whatever stands in it?

Possible summers as `field_season` has them, for a question that no crop's stage enters.
"""

import dataclasses

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.issued import Issued, issued
from sheafwright.core.chance.futures import Calendar, Days, draw_futures
from sheafwright.core.chance.neighbours import nearest_days
from sheafwright.core.chance.wetness import wetness
from sheafwright.core.decide.known import likeness, memories, sky
from sheafwright.core.decide.learn import in_season
from sheafwright.core.errors import NotEnoughWeather
from sheafwright.feeds import decision

THIS_SEASON = 182
"""Days up to today from which none is drawn: they would only repeat themselves. [d]"""
CLIMATE_REACH = 10
"""Days on each side that make the climate of the first and the last. [d]"""


@dataclasses.dataclass(frozen=True)
class DaysAhead:
    """Possible days after today."""

    paths: np.ndarray
    """Record positions, today's first: (draw, 1 + day)."""
    n_years: int
    """Years that they are drawn from."""
    issued: Issued

    @property
    def n_leads(self):
        """Days after today that a forecast covers."""
        return len(self.issued.correlation)


def days_ahead(known, forecast, n_draws, n_days, rng):
    """`DaysAhead` of the last day known.

    Parameters
    ----------
    known : sheafwright.answers.known_days.KnownWeather
    forecast : sheafwright.feeds.forecast.daily.Forecast or None
    n_draws, n_days : int
        Possible summers, and days of each.
    rng : numpy.random.Generator
    """
    weather, settings = known.weather, decision.settings()
    futures, date = settings.futures, weather.day_of_year
    begins, length = date[-1] - futures.half_window, n_days + 2 * futures.half_window
    season = in_season(date, begins, length + 1)
    whole = _whole(weather)
    usable = whole & (np.arange(len(whole)) < known.today - THIS_SEASON)
    n_years = len(np.unique(known.record.year[usable & season]))
    _refuse_few(known, n_years, futures.least_years)
    told = issued(forecast, known.as_of)
    days = Days(
        nearest=_nearest(weather, whole, season, settings),
        usable=usable,
        wetness=_wetness(weather, usable, begins, length, told),
        calendar=Calendar(date, futures.half_window),
    )
    paths = draw_futures(
        np.full(n_draws, known.today),
        days,
        n_days,
        futures.near,
        rng,
        told.signal(weather, usable),
        told.correlation,
    )
    return DaysAhead(paths, n_years, told)


def _whole(weather):
    """Days with all that stooks and their likeness ask for, (day,) of bool."""
    # Temperatures are in the evapotranspiration.
    needed = weather.rain + weather.evapotranspiration + weather.vapour_pressure
    return ~np.isnan(needed)


def _nearest(weather, whole, season, settings):
    state = sky(
        weather.day_of_year,
        weather.rain,
        weather.tmax,
        weather.evapotranspiration,
        weather.pressure,
    )
    like = likeness(state, memories(state, settings.memory))
    futures = settings.futures
    # Every day of this year is left out, and the rest must still be enough.
    listed = futures.near + 2 * futures.half_window + 1
    known = np.where(whole[:, np.newaxis], like, np.nan)
    return nearest_days(known, weather.day_of_year, season, futures.half_window, listed)


def _wetness(weather, usable, begins, length, told):
    """Wetness of the days that may be drawn; only a forecast asks for it."""
    score = np.full(len(usable), np.nan)
    if len(told.correlation):
        begins, length = begins - CLIMATE_REACH, length + 2 * CLIMATE_REACH
        reach = in_season(weather.day_of_year, begins, length + 1)
        score[reach] = wetness(
            weather.rain[reach],
            weather.evapotranspiration[reach],
            weather.day_of_year[reach],
            usable[reach],
        )
    return score


def _refuse_few(known, n_years, least):
    if n_years < least:
        raise NotEnoughWeather(
            "{station} has {years} years with days at this time of year before {day}; "
            "it should have at least {least} to draw possible summers from.",
            station=known.record.station,
            years=n_years,
            day=wording.date(known.as_of),
            least=least,
        )
