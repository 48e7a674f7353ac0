"""Learn when to cut from the record, less what must not be looked at."""

import dataclasses
from typing import NamedTuple

import numpy as np

from sheafwright.core.chance.foretelling import issue
from sheafwright.core.chance.futures import NO_FORECAST, Days, draw_futures
from sheafwright.core.chance.neighbours import nearest_days
from sheafwright.core.chance.time_of_year import DAYS
from sheafwright.core.chance.wetness import HALF_WINDOW, wetness
from sheafwright.core.decide.expect import YearlySums, line, yearly_sums
from sheafwright.core.decide.known import (
    Memory,
    Sky,
    foretold,
    foretold_on_paths,
    known_on_paths,
    known_on_record,
    likeness,
    memories,
    sky,
)
from sheafwright.core.decide.stopping import Stopping, learn_policy
from sheafwright.core.drying.stook import drying_rate, stooks
from sheafwright.core.inputs.losses import Losses
from sheafwright.core.season.summers import summers


@dataclasses.dataclass(frozen=True)
class FutureSettings:
    """How possible summers are drawn."""

    near: int
    """Neighbours among which each next day is chosen."""
    half_window: int
    """Neighbours lie within so many days of the time of year. [d]"""
    cutting_days: int
    """Days ahead on which may be cut. [d]"""
    training_summers: int
    """Summers from which a policy is learned."""
    least_years: int
    """Fewer years than this on record are too few. [y]"""


@dataclasses.dataclass(frozen=True)
class Settings:
    """All that learning is set by."""

    futures: FutureSettings
    memory: Memory
    stopping: Stopping
    expectation_ridge: float
    """Pull on the stooks' expected share, in days of record. [d]"""


@dataclasses.dataclass(frozen=True)
class Weather:
    """A record's days as the decision needs them, each (day,)."""

    day_of_year: np.ndarray
    year: np.ndarray
    """Of the calendar; a harvest goes by that of its first day."""
    tmax: np.ndarray
    """[°C]"""
    rain: np.ndarray
    """[mm d⁻¹]"""
    evapotranspiration: np.ndarray
    """[mm d⁻¹]"""
    pressure: np.ndarray | None
    """[hPa]"""
    gain: np.ndarray
    """Ripeness that the day's warmth adds after flowering. [d⁻¹]"""


@dataclasses.dataclass(frozen=True)
class Past:
    """A record made ready, by which summers are drawn and valued."""

    weather: Weather
    losses: Losses
    settings: Settings
    correlation: np.ndarray
    """Skill of the forecasts, (lead,); empty where there are none. [0–1]"""
    sky: Sky
    memories: np.ndarray
    rate: np.ndarray
    """Drying rate. [d⁻¹]"""
    stook_share: np.ndarray
    """What stooks cut on each day of the record brought home. [0–1]"""
    days_out: np.ndarray
    whole: np.ndarray
    """Days with all their weather, of bool."""
    harvest: np.ndarray
    """Days in the time of year from which summers are drawn, of bool."""
    nearest: np.ndarray
    signals: np.ndarray
    """Forecasts issued on each day, (day, lead)."""
    known: np.ndarray
    """What is known on each day, (day, feature)."""
    sums: YearlySums


class Lessons(NamedTuple):
    """Possible summers from which a policy is learned."""

    paths: np.ndarray
    """Record positions: (draw, 1 + longer)."""
    ripeness: np.ndarray
    """(draw, 1 + day). [1]"""
    known: np.ndarray
    """What is known on each day: (draw, day, feature)."""


def in_season(day_of_year, first, n_days):
    """Whether each day lies in the season that begins on a day of the year, of bool.

    Parameters
    ----------
    day_of_year : array_like, shape (day,)
    first, n_days : int
        First day of the year, and length. [d]
    """
    return (np.asarray(day_of_year) - first) % DAYS < n_days


def prepare(weather, losses, settings, season, counted, correlation, rng, signals=None):
    """`Past` of a record.

    Parameters
    ----------
    weather : Weather
    losses : Losses
    settings : Settings
    season : pair of int
        First day of the year, and length, of the time that summers are drawn from.
    counted : array_like of bool, shape (day,)
        Days of past harvests from which the stooks' expected share is learned.
    correlation : array_like, shape (lead,)
        Skill of forecasts; empty for none. [0–1]
    rng : numpy.random.Generator
    signals : array_like, shape (day, lead), optional
        Forecasts as issued; made from what came if not given.
    """
    state = sky(
        weather.day_of_year, weather.rain, weather.tmax, weather.evapotranspiration,
        weather.pressure,
    )  # fmt: skip
    kept = memories(state, settings.memory)
    rate, share, days_out = brought_home(weather, losses)
    whole = ~np.isnan(weather.rain + rate + weather.gain + weather.tmax)
    harvest = in_season(weather.day_of_year, *season)
    if signals is None:
        signals = issue(_wetness(weather, whole), correlation, rng)
    known = known_on_record(state, kept)
    if len(correlation):
        known = np.concatenate([known, foretold(signals, correlation)], axis=-1)
    return Past(
        weather=weather,
        losses=losses,
        settings=settings,
        correlation=np.asarray(correlation, dtype=float),
        sky=state,
        memories=kept,
        rate=rate,
        stook_share=share,
        days_out=days_out,
        whole=whole,
        harvest=harvest,
        nearest=_nearest(likeness(state, kept), weather, whole, harvest, settings),
        signals=signals,
        known=known,
        sums=dry_day_sums(weather, losses, known, share, counted),
    )


def _wetness(weather, climate, days=slice(None)):
    """Normal scores of some days' rain in the climate of others, (day,). [1]"""
    columns = weather.rain, weather.evapotranspiration, weather.day_of_year, climate
    return wetness(*(each[days] for each in columns))


def _nearest(state, weather, whole, harvest, settings):
    """`Days.nearest`, of harvest's whole days."""
    future = settings.futures
    # Every day of three years may be left out, and the rest must still be enough.
    listed = future.near + 3 * (2 * future.half_window + 1)
    state = np.where(whole[:, np.newaxis], state, np.nan)
    return nearest_days(state, weather.day_of_year, harvest, future.half_window, listed)


def brought_home(weather, losses):
    """Drying rate, share brought home and days out of stooks cut on each day, (day,).

    Parameters
    ----------
    weather : Weather
    losses : Losses

    Returns
    -------
    rate, share, days_out : ndarray, shape (day,)
        [d⁻¹], [0–1], [d]
    """
    rate = drying_rate(weather.evapotranspiration, losses.drying)
    every_day = np.arange(len(rate))[np.newaxis]
    share, days_out = stooks(every_day, weather.rain, rate, len(rate), losses)
    return rate, share[0], days_out[0]


def dry_day_sums(weather, losses, known, share, counted):
    """`YearlySums` over the days counted on which could be cut, with all known.

    Parameters
    ----------
    weather : Weather
    losses : Losses
    known : array_like, shape (day, feature)
        What is known on each day.
    share : array_like, shape (day,)
        From `brought_home`. [0–1]
    counted : array_like of bool, shape (day,)
        As in `prepare`.
    """
    counted = counted & ~np.isnan(known).any(axis=-1) & ~np.isnan(share)
    counted &= weather.rain < losses.ripeness.cutting_rain
    return yearly_sums(known, share, weather.year, counted)


def days_without(past, years):
    """The record's days, to draw summers from, without some years: `Days`.

    Parameters
    ----------
    past : Past
    years : sequence of int
        Harvest years left out altogether.
    """
    usable = past.whole & ~np.isin(past.weather.year, years)
    # Some days more on each side make the climate of the first and the last.
    before, after = (np.roll(past.harvest, by) for by in (-HALF_WINDOW, HALF_WINDOW))
    reach = past.harvest | before | after
    score = np.full(len(usable), np.nan)
    score[reach] = _wetness(past.weather, usable, reach)
    return Days(past.nearest, usable, score)


def draw_paths(past, days, start, ripeness, n_cuts, rng, signal=NO_FORECAST):
    """Paths after the start, and the crop's ripeness on each day it may be cut on.

    Parameters
    ----------
    past : Past
    days : Days
    start : array_like of int, shape (draw,)
        Record position of the last day known.
    ripeness : array_like, shape (draw,)
        Ripeness on that day. [1]
    n_cuts : int
        Days after it on which may be cut.
    rng : numpy.random.Generator
    signal : array_like, shape (lead,)
        The forecast issued on that day.
    """
    reach = past.losses.stook.longest_days + len(past.correlation)
    paths = draw_futures(
        start, days, n_cuts + reach, past.settings.futures.near, rng, signal,
        past.correlation,
    )  # fmt: skip
    warmth = past.weather.gain[paths[:, 1 : n_cuts + 1]]
    return paths, np.cumsum(np.column_stack([ripeness, warmth]), axis=-1)


def draw_summers(past, days, start, ripeness, over, n_cuts, rng, signal=NO_FORECAST):
    """Paths after the start, and the `Summers` they make.

    Parameters
    ----------
    over : int
        Days over full ripeness on the day before the start; -1 where not passed. [d]
    past, days, start, ripeness, n_cuts, rng, signal : as in `draw_paths`
    """
    paths, ripening = draw_paths(past, days, start, ripeness, n_cuts, rng, signal)
    return paths, valued(past, paths, ripening, over)


def valued(past, paths, ripening, over=-1):
    """The `Summers` that paths make.

    Parameters
    ----------
    past : Past
    paths, ripening : array_like
        From `draw_paths`.
    over : int
        As in `draw_summers`. [d]
    """
    return summers(paths, ripening, over, past.weather.rain, past.rate, past.losses)


def known_ahead(past, days, paths, n_cuts, rng):
    """What will be known on each day of possible summers, (draw, day, feature).

    Parameters
    ----------
    past : Past
    days : Days
    paths : array_like of int, shape (draw, 1 + longer)
        From `draw_summers`.
    n_cuts : int
        Days after the start on which may be cut.
    rng : numpy.random.Generator
    """
    on_days = paths[:, : n_cuts + 1]
    known = known_on_paths(past.sky, past.memories, past.settings.memory, on_days)
    if not len(past.correlation):
        return known
    longer = paths[:, : n_cuts + 1 + len(past.correlation)]
    told = foretold_on_paths(days.wetness, longer, past.correlation, rng)
    return np.concatenate([known, told[:, :n_cuts]], axis=-1)


def learn(past, days, left_out, starts, ripeness, rng):
    """The `Policy` learned from the record without some years.

    Parameters
    ----------
    past : Past
    days : Days
        The record without those years, from `days_without`.
    left_out : sequence of int
        Harvest years left out.
    starts : array_like of int, shape (season,)
        Record position of the day before the crop was first fit to cut, in each
        season kept.
    ripeness : array_like, shape (season,)
        Ripeness on those days. [1]
    rng : numpy.random.Generator
    """
    return learn_from(past, lessons(past, days, starts, ripeness, rng), left_out)


def lessons(past, days, starts, ripeness, rng):
    """`Lessons` for a policy, whatever is lost by rain and by waiting.

    Parameters
    ----------
    past, days, starts, ripeness, rng : as in `learn`
    """
    ahead = past.settings.futures
    chosen = rng.integers(len(starts), size=ahead.training_summers)
    paths, ripening = draw_paths(
        past, days, starts[chosen], ripeness[chosen], ahead.cutting_days, rng
    )
    known = known_ahead(past, days, paths, ahead.cutting_days, rng)
    return Lessons(paths, ripening, known)


def learn_from(past, lessons, left_out):
    """The `Policy` that lessons teach under a past's losses.

    Parameters
    ----------
    past : Past
    lessons : Lessons
    left_out : sequence of int
        Harvest years left out.
    """
    made = valued(past, lessons.paths, lessons.ripeness)
    kept = ~np.isin(past.sums.years, left_out)
    return learn_policy(
        made.ripeness[:, 1:],
        made.can_cut[:, 1:],
        made.worth[:, 1:],
        lessons.known,
        line(past.sums, kept, past.settings.expectation_ridge),
        past.losses.stook.never_cut,
        past.settings.stopping,
    )
