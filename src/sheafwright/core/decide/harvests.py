"""The harvests on record: the days on which each could have been cut."""

import dataclasses

import numpy as np

from sheafwright.core.chance.wetness import wetness_of
from sheafwright.core.crop.development import develop, ripeness
from sheafwright.core.decide.rules import Seasons, run_ahead, running
from sheafwright.core.season.worth import (
    can_cut,
    cutting_worth,
    days_over,
    ripeness_worth,
)

GROWING_DAYS = 420
"""From sowing to the end of the longest harvest. [d]"""
MOST_DAYS = 60
"""A harvest is watched for no longer. [d]"""


@dataclasses.dataclass(frozen=True)
class Harvests:
    """Past harvests; every array begins with (season,)."""

    harvest_year: np.ndarray
    position: np.ndarray
    """Record position of each day of the harvest: (season, day)."""
    in_window: np.ndarray
    """Days of the harvest; after them nothing is left to wait for: (season, day)."""
    seasons: Seasons
    ripe: np.ndarray
    """Record position of the day that ripeness passed the sign asked for."""
    start: np.ndarray
    """Record position of the day before the crop was first fit to cut."""
    start_ripeness: np.ndarray
    """Ripeness on that day. [1]"""
    complete: np.ndarray
    """Whether every day's worth is known, of bool."""


def grown(tmin, tmax, day_length, sown, phases, filling):
    """Ripeness of crops sown on record, (season, day), from each sowing day. [1]

    Parameters
    ----------
    tmin, tmax, day_length : array_like, shape (record day,)
        [°C], [°C], [h]
    sown : array_like of int, shape (season,)
        Record position of sowing.
    phases : Phases
    filling : GrainFilling
    """
    asked = np.asarray(sown)[:, np.newaxis] + np.arange(GROWING_DAYS)
    inside = np.minimum(asked, len(tmin) - 1)
    # Past the record's end nothing is known, and nothing ripens.
    cold, warm = (np.where(asked < len(tmin), t[inside], np.nan) for t in (tmin, tmax))
    first = np.zeros(len(asked), dtype=int)
    stages = develop(cold, warm, day_length[inside], first, phases, filling)
    return ripeness(cold, warm, stages.gs61, filling)


def harvests(past, sown, ripeness, ripe_at):
    """`Harvests` of crops sown on record.

    Parameters
    ----------
    past : Past
    sown : array_like of int, shape (season,)
        Record position of sowing.
    ripeness : array_like, shape (season, day)
        From `grown`. [1]
    ripe_at : float
        Ripeness on the day called the ripe date. [1]
    """
    fit = ripeness >= past.losses.ripeness.fit_from
    reached = fit.any(axis=-1) & (ripeness >= ripe_at).any(axis=-1)
    sown, ripeness, fit = sown[reached], ripeness[reached], fit[reached]
    first = np.maximum(fit.argmax(axis=-1), 1)[:, np.newaxis]
    column = np.minimum(first + np.arange(MOST_DAYS), ripeness.shape[1] - 1)
    position = sown[:, np.newaxis] + column
    inside = np.minimum(position, len(past.rate) - 1)
    ripe = np.take_along_axis(ripeness, column, axis=-1)
    seasons, in_window = _seasons(past, ripe, inside, position)
    known = ~np.isnan(ripe) & ~np.isnan(past.weather.rain[inside])
    known &= ~(seasons.can_cut & np.isnan(seasons.worth))
    return Harvests(
        harvest_year=past.weather.year[inside[:, 0]],
        position=inside,
        in_window=in_window,
        seasons=seasons,
        ripe=sown + (ripeness >= ripe_at).argmax(axis=-1),
        start=sown + first[:, 0] - 1,
        start_ripeness=np.take_along_axis(ripeness, first - 1, axis=-1)[:, 0],
        complete=(known | ~in_window).all(axis=-1),
    )


def _seasons(past, ripe, inside, position):
    """`Seasons` of so ripe crops, and which of their days belong to the harvest."""
    table, stook = past.losses.ripeness, past.losses.stook
    value = ripeness_worth(ripe, days_over(ripe, table.full_to), table)
    in_window = ~((value <= stook.never_cut) & (ripe > table.full_to))
    worth = cutting_worth(value, past.stook_share[inside], stook)
    rain = past.weather.rain
    return Seasons(
        day_of_year=past.weather.day_of_year[inside],
        ripeness=ripe,
        can_cut=can_cut(ripe, rain[inside], table) & in_window,
        # A day at the end of the record stands for those beyond it, and has no worth.
        worth=np.where(position < len(past.rate), worth, np.nan),
        dry_before=running(rain < 1)[inside],
        dry_ahead=_dry_ahead(past)[inside],
    ), in_window


def taken(harvests, chosen):
    """Some of the harvests, as `Harvests`.

    Parameters
    ----------
    harvests : Harvests
    chosen : array_like
        Positions, or of bool, on the axis of seasons.
    """
    seasons = harvests.seasons
    some = {
        f.name: getattr(seasons, f.name)[chosen] for f in dataclasses.fields(seasons)
    }
    rest = {
        f.name: getattr(harvests, f.name)[chosen]
        for f in dataclasses.fields(harvests)
        if f.name != "seasons"
    }
    return Harvests(**rest, seasons=Seasons(**some))


def _dry_ahead(past):
    """Dry days in sight on each day of the record, (day,). [d]"""
    if not len(past.correlation):
        return running(past.weather.rain < 1)
    weather = past.weather
    dry = wetness_of(1.0, weather.rain, weather.day_of_year, past.whole)
    # Likelier dry than not where the wetness expected is under that of 1 mm.
    return run_ahead(past.signals * past.correlation < dry[:, np.newaxis])
