"""The work that every way of valuing the ensemble is given."""

import dataclasses
from pathlib import Path

import numpy as np

from sheafwright.answers.daily import daily_weather
from sheafwright.core.chance.futures import Calendar, Days
from sheafwright.core.decide.learn import Weather, days_without, in_season, prepare
from sheafwright.core.inputs.losses import Losses
from sheafwright.core.weather.thermal_time import thermal_time
from sheafwright.feeds import crop, decision, weather

ROOT = Path(__file__).parents[2]
REAL = ROOT / "../shared/data/weather/dly532.csv"
REAL_PLACE = (53.43, 71.0)
DEMO = ROOT / "src/sheafwright/data/demo"
DEMO_PLACE = (52.4, 90.0)
TODAY = 205
"""Day of the year: about when the crop is first fit to cut."""
SEED = 1


@dataclasses.dataclass(frozen=True)
class Case:
    """Possible summers from one day, each valued on so many cutting days."""

    start: np.ndarray
    """Record position of today: (draw,)."""
    ripeness: float
    """Of today. [1]"""
    n_cuts: int
    """Cutting days: today and the days after it."""
    n_near: int
    """Neighbours among which each next day is chosen."""
    days: Days
    rain: np.ndarray
    """(record day,) [mm d⁻¹]"""
    rate: np.ndarray
    """Drying rate: (record day,). [d⁻¹]"""
    gain: np.ndarray
    """Ripeness that each day adds: (record day,). [d⁻¹]"""
    losses: Losses

    @property
    def n_days(self):
        """Days to draw: to the end of the last cutting day's stooks."""
        return self.n_cuts - 1 + self.losses.stook.longest_days

    @property
    def rng(self):
        """The same luck for every way."""
        return np.random.default_rng(SEED)

    @property
    def luck(self):
        """That luck as numbers: (draw, day). [0–1]"""
        return self.rng.random((len(self.start), self.n_days))

    def fewer(self, n_draws):
        """The first so many of its summers."""
        return dataclasses.replace(self, start=self.start[:n_draws])


def record(small=False):
    """The record on which all is timed, with its latitude and altitude.

    ``small`` asks for the demo's, which is read where there is no other too.
    """
    if REAL.exists() and not small:
        return weather.read(REAL), *REAL_PLACE
    return weather.read(DEMO / "weather.csv.gz", DEMO / "columns.toml"), *DEMO_PLACE


def case(n_draws, n_cuts, small=False):
    """The `Case` of the last harvest that the record holds the first day of."""
    station, latitude, altitude = record(small)
    losses, settings = decision.losses(), decision.settings()
    weather_ready = weather_of(station, daily_weather(station, latitude, altitude))
    half_window = settings.futures.half_window
    season = TODAY - half_window, n_cuts + losses.stook.longest_days + 2 * half_window
    past = prepare(
        weather_ready,
        losses,
        settings,
        season,
        in_season(weather_ready.day_of_year, TODAY, n_cuts),
        np.empty(0),
        np.random.default_rng(SEED),
    )
    today = np.flatnonzero(weather_ready.day_of_year == TODAY)[-1]
    days = days_without(past, [weather_ready.year[today]])
    calendar = Calendar(weather_ready.day_of_year, half_window)
    return Case(
        start=np.full(n_draws, today),
        ripeness=losses.ripeness.fit_from,
        n_cuts=n_cuts,
        n_near=settings.futures.near,
        days=dataclasses.replace(days, calendar=calendar),
        rain=weather_ready.rain,
        rate=past.rate,
        gain=weather_ready.gain,
        losses=losses,
    )


def weather_of(station, daily):
    filling = crop.grain_filling_forms()[0]
    warmth = thermal_time(daily.tmin, daily.tmax, filling.base_temperature)
    return Weather(
        day_of_year=daily.day_of_year,
        year=station.dates.astype("datetime64[Y]").astype(int) + 1970,
        tmax=daily.tmax,
        rain=daily.rain,
        evapotranspiration=daily.evapotranspiration,
        pressure=daily.pressure,
        gain=warmth / filling.thermal_sum,
    )
