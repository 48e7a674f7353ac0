"""Twelve fields on four farms that share one binder, and their past harvests.

The fields are invented. They were set down before anything was measured on them.
"""

import dataclasses
from typing import NamedTuple

import numpy as np

from parts.case import SEED, record, weather_of
from sheafwright.answers.daily import daily_weather
from sheafwright.answers.season_past import variety
from sheafwright.core.chance.foretelling import correlation_of_skill
from sheafwright.core.decide import gang_day
from sheafwright.core.decide.harvests import grown
from sheafwright.core.decide.learn import Past, in_season, prepare
from sheafwright.core.weather.day_length import day_length
from sheafwright.core.work.carting import pitching_hours
from sheafwright.core.work.field import field_capacity, hand_hours
from sheafwright.feeds import decision, sheaves, work
from sheafwright.feeds.sowing import harvest_year

HARVEST_DAYS = 80
"""From the day before the first field is fit. [d]"""
MOVE = 1.0
"""Fit time lost by going to another farm. [h]"""
HANDS = 8
"""Two from each farm."""


class Field(NamedTuple):
    """A field as it was sown."""

    farm: int
    area: float
    """[ha]"""
    variety_class: str
    month: int
    day: int


FIELDS = (
    Field(0, 4.0, "end-january", 10, 10),
    Field(0, 2.5, "end-january", 10, 25),
    Field(0, 3.0, "mid-february", 11, 10),
    Field(1, 5.0, "end-january", 10, 10),
    Field(1, 2.0, "alternative", 10, 25),
    Field(1, 3.5, "alternative", 2, 15),
    Field(2, 1.5, "end-february", 10, 10),
    Field(2, 3.0, "end-february", 11, 25),
    Field(2, 4.5, "end-january", 9, 25),
    Field(3, 2.0, "spring", 2, 26),
    Field(3, 3.5, "mid-february", 10, 10),
    Field(3, 1.5, "spring", 3, 10),
)


@dataclasses.dataclass(frozen=True)
class Made:
    """The record made ready, and every whole harvest of the twelve fields."""

    station: str
    past: Past
    fields: gang_day.Fields
    gang: gang_day.Gang
    years: np.ndarray
    """(season,)"""
    position: np.ndarray
    """Record position of each day of each harvest, its stooks' too, from the day
    before the first: (season, 1 + day)."""
    ripeness: np.ndarray
    """(season, field, day). [1]"""
    over_before: np.ndarray
    """Days over full ripeness before each day; -1 where not passed, same shape. [d]"""

    @property
    def seasons(self):
        """All harvests as they came, `core.decide.gang_day.Ahead`."""
        return gang_day.ahead(
            self.position, self.ripeness, self.over_before[..., 0],
            self.past.weather.rain, self.past.rate, self.past.losses, self.gang,
        )  # fmt: skip


def gang():
    """The binder and hands, by the package's rates of work."""
    rates, kept = work.work_rates(), sheaves.sheaves()
    binder, day, crew = rates.binder, rates.day, rates.carting
    capacity = field_capacity(binder.width, binder.speed, binder.efficiency)
    stooking = hand_hours(1, np.mean(rates.stooking.area_a_day), day.hand_hours)
    pitched = pitching_hours(
        kept.crop_kg_per_ha / kept.kg_per_sheaf, crew.pitchers, crew.sheaves_an_hour
    )
    carters = crew.pitchers + crew.at_rick
    carters += np.mean(crew.loaders) + np.mean(crew.stackers)
    return gang_day.Gang(
        binder=capacity,
        move=MOVE,
        fit_hours=day.fit_hours,
        fit_hours_after_rain=day.fit_hours_after_rain,
        wet_from=day.wet_from,
        hands=HANDS * day.hand_hours,
        cutting=binder.hands / capacity + stooking,
        carting=pitched * carters,
    )


def made(forecasts, losses, small=False):
    """`Made` of a record, with forecasts ``none`` or ``modelled``."""
    station, latitude, altitude = record(small)
    daily = daily_weather(station, latitude, altitude)
    weather = weather_of(station, daily)
    light = day_length(latitude, daily.day_of_year)
    grew = [_grown(station, daily, light, field) for field in FIELDS]
    years = sorted(set.intersection(*(set(each) for each in grew)))
    fit = losses.ripeness.fit_from
    first_fit = np.array(
        [
            [each[y][0] + (each[y][1] >= fit).argmax() for each in grew]
            for y in years
        ]
    )  # fmt: skip
    skill = decision.forecast_skill()
    correlation = correlation_of_skill(skill) if forecasts == "modelled" else []
    longest = losses.stook.longest_days
    start = first_fit.min(axis=-1) - 1
    position = start[:, np.newaxis] + np.arange(-1, HARVEST_DAYS + longest)
    whole = position[:, -1] < len(weather.rain)
    position, years = position[whole], np.array(years)[whole]
    ripeness = np.array(
        [
            [_from(each[y], p[1]) for each in grew]
            for y, p in zip(years, position, strict=True)
        ]
    )
    first = weather.day_of_year[start]
    ahead = HARVEST_DAYS + longest + len(correlation)
    past = prepare(
        weather,
        losses,
        decision.settings(),
        (int(first.min()) - 20, int(np.ptp(first)) + 20 + ahead),
        in_season(weather.day_of_year, int(np.median(first)) - 15, 95),
        correlation,
        np.random.default_rng(SEED),
        None if len(correlation) else np.empty((station.days, 0)),
    )
    known = past.whole[position].all(axis=-1) & np.isfinite(ripeness).all(axis=(1, 2))
    full = ripeness >= losses.ripeness.full_to
    return Made(
        station=station.station,
        past=past,
        fields=gang_day.Fields(*(np.array([f[k] for f in FIELDS]) for k in (1, 0))),
        gang=gang(),
        years=years[known],
        position=position[known],
        ripeness=ripeness[known],
        over_before=(np.cumsum(full, axis=-1) - full - 1)[known],
    )


def _grown(station, daily, light, field):
    """By harvest year: record position of sowing, and ripeness from then on."""
    sort = variety(field.variety_class, field.month, field.day)
    sown_on = f"{field.month:02}-{field.day:02}"
    on = np.flatnonzero(np.char.endswith(station.dates.astype(str), sown_on))
    ripe = grown(daily.tmin, daily.tmax, light, on, sort.phases, sort.filling)
    reached = (ripe >= 0.75).any(axis=-1)
    dates = station.dates[on].astype(object)
    return {
        harvest_year(date): (sown, each)
        for date, sown, each, ever in zip(dates, on, ripe, reached, strict=True)
        if ever
    }


def _from(grew, position):
    sown, ripe = grew
    begun = position - sown
    return ripe[begun : begun + HARVEST_DAYS]
