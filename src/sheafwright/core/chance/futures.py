"""Possible summers: whole days of the record, drawn one after another.

From the day reached, one of its nearest days on record is chosen, the nearer the
likelier, and the day that followed it comes next [1]_. Days are taken whole, so that
rain, wind, warmth and pressure stay together. Where there is a forecast, followers that
agree with it are likelier by as much as its skill allows, and so are the days that led
to them.

References
----------
.. [1] B. Rajagopalan and U. Lall, A k-nearest-neighbor simulator for daily
   precipitation and other weather variables, Water Resources Research 35, 1999,
   3089–3101.
"""

import dataclasses
from typing import NamedTuple

import numpy as np

from sheafwright.core.chance.time_of_year import days_after

NO_FORECAST = np.empty(0)


class Calendar(NamedTuple):
    """The time of year that each drawn day must lie near."""

    day_of_year: np.ndarray
    """1 to 366: (day,)."""
    half_window: int
    """A day drawn lies within so many days of its date. [d]"""


@dataclasses.dataclass(frozen=True)
class Days:
    """The record as futures are drawn from it."""

    nearest: np.ndarray
    """Nearest days of each day, nearest first; -1 fills: (day, neighbour)."""
    usable: np.ndarray
    """Days that may be drawn: (day,) of bool."""
    wetness: np.ndarray
    """Normal score of the day's rain: (day,). [1]"""
    calendar: Calendar | None = None
    """What keeps long summers to the time of year; without it they stray."""
    _listed: dict = dataclasses.field(default_factory=dict, init=False, repr=False)
    """Followers by number of neighbours: listing them takes longer than a draw."""

    def followers(self, n_near):
        """Days that may follow each day: (day, neighbour); listed when first asked.

        Those of its nearest come first; where fewer may, the last of them fills.
        """
        if n_near not in self._listed:
            self._listed[n_near] = _followers(self.nearest, self.usable, n_near)
        return self._listed[n_near]


def _followers(nearest, usable, n_near):
    # A usable day leads to a usable day, or it can't be followed.
    leads_on = usable & np.append(usable[1:], False)
    # With nobody like it, the day itself goes on, or stays if that is left out.
    itself = np.arange(len(leads_on), dtype=np.int32) + leads_on
    followers = np.repeat(itself[:, np.newaxis], n_near, axis=1)
    asking = np.flatnonzero(nearest[:, 0] >= 0)
    may = leads_on[nearest[asking]] & (nearest[asking] >= 0)
    some = may.any(axis=-1)
    asking, may = asking[some], may[some]
    count = may.sum(axis=-1, keepdims=True)
    first = np.cumsum(count)[:, np.newaxis] - count
    place = np.minimum(np.arange(n_near), count - 1)
    followers[asking] = nearest[asking][may][first + place] + 1
    return followers


def nearness_weights(n_near):
    """Chance of choosing each neighbour, nearest first: (n_near,). [0–1]

    Parameters
    ----------
    n_near : int
        Neighbours among which is chosen.
    """
    weights = 1 / np.arange(1, n_near + 1)
    return weights / weights.sum()


def draw_futures(
    start, days, n_days, n_near, rng, signal=NO_FORECAST, correlation=NO_FORECAST
):
    """Record positions of the start and the days that may follow, (draw, 1 + day).

    Parameters
    ----------
    start : array_like of int, shape (draw,)
        Record position of the last day known, one for each draw; the same for all
        where there is a forecast.
    days : Days
    n_days : int
        Days to draw after it.
    n_near : int
        Usable neighbours among which each next day is chosen.
    rng : numpy.random.Generator
    signal, correlation : array_like, shape (lead,)
        A forecast for the days after the start, and its skill by lead; see
        `foretelling`. A lead with NaN is not foretold.
    """
    followers, weights = days.followers(n_near), nearness_weights(n_near)
    luck = rng.random((len(start), n_days)).T
    usual = np.searchsorted(np.cumsum(weights[:-1]), luck)
    # A day of all draws lies together.
    paths = np.empty((n_days + 1, len(start)), dtype=np.int32)
    paths[0] = start
    for step, here in enumerate(paths[:-1]):
        place = usual[step]
        foretold = step < len(signal) and not np.isnan(signal[step])
        if foretold or days.calendar:
            next_days, share = followers[here], weights
            if foretold:
                wet = days.wetness[next_days]
                share = share * _agreeing(wet, signal[step], correlation[step])
            if days.calendar:
                share = share * _in_season(next_days, days.calendar, paths[0], step + 1)
            # A day that fills a short list counts once.
            share[:, 1:] *= next_days[:, 1:] != next_days[:, :-1]
            if foretold:
                # Summers whose days so far led towards this forecast are likelier.
                kept = _kept(share.sum(axis=-1), rng.random())
                paths[: step + 1] = paths[: step + 1, kept]
                share = share[kept]
            place = _drawn_place(share, luck[step])
        paths[step + 1] = followers[here, place]
    return paths.T


def _kept(likelihood, luck):
    """Draws kept in proportion to their likelihood, as many as there were, (draw,)."""
    passed = np.cumsum(likelihood)
    evenly = (np.arange(likelihood.size) + luck) / likelihood.size
    return np.searchsorted(passed, evenly * passed[-1])


def _in_season(next_days, calendar, start, ahead):
    """1 for days near the date so long after the start, next to nothing for others."""
    date = calendar.day_of_year[start][:, np.newaxis] + ahead
    apart = np.abs(days_after(calendar.day_of_year[next_days], date))
    # Never quite nothing: of days all out of season one must still be chosen.
    return np.where(apart <= calendar.half_window, 1.0, 1e-12)


def _agreeing(wetness, signal, correlation):
    """How likely a forecast makes a wetness, at most 1. [1]"""
    miss = signal - correlation * wetness
    # Never quite nothing: a forecast can be wrong altogether.
    return np.exp(-0.5 * miss**2 / (1 - correlation**2)) + 1e-12


def _drawn_place(share, luck):
    """Place of the follower that each draw chooses by the shares, (draw,)."""
    passed = np.cumsum(share, axis=-1)
    return (passed[:, :-1] < luck[:, np.newaxis] * passed[:, -1:]).sum(axis=-1)
