"""Possible summers: whole days of the record, drawn one after another.

From the day reached, one of its nearest days on record is chosen, the nearer the
likelier, and the day that followed it comes next [1]_. Days are taken whole, so that
rain, wind, warmth and pressure stay together. Where there is a forecast, followers that
agree with it are likelier by as much as its skill allows.

References
----------
.. [1] B. Rajagopalan and U. Lall, A k-nearest-neighbor simulator for daily
   precipitation and other weather variables, Water Resources Research 35, 1999,
   3089–3101.
"""

import dataclasses

import numpy as np

from sheafwright.core.compiled import compiled

NO_FORECAST = np.empty(0)


@dataclasses.dataclass(frozen=True)
class Days:
    """The record as futures are drawn from it."""

    nearest: np.ndarray
    """Nearest days of each day, nearest first; -1 fills: (day, neighbour)."""
    usable: np.ndarray
    """Days that may be drawn: (day,) of bool."""
    wetness: np.ndarray
    """Normal score of the day's rain: (day,). [1]"""


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
        Record position of the last day known, one for each draw.
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
    start = np.asarray(start, dtype=np.int32)
    paths = np.empty((start.size, n_days + 1), dtype=np.int32)
    paths[:, 0] = start
    # A usable day leads to a usable day, or it can't be followed.
    leads_on = days.usable & np.append(days.usable[1:], False)
    compiled(_walk)(
        paths,
        days.nearest,
        leads_on,
        days.wetness,
        np.cumsum(nearness_weights(n_near)),
        rng.random((start.size, n_days)),
        np.asarray(signal, dtype=float),
        np.asarray(correlation, dtype=float),
    )
    return paths


def _walk(  # noqa: C901 (a kernel calls no other)
    paths, nearest, leads_on, wetness, cumulated, luck, signal, correlation
):
    """Fill the paths from their first column, a day at a time."""
    n_draws, n_steps = luck.shape
    n_near, n_listed = cumulated.size, nearest.shape[1]
    chosen = np.empty(n_near, dtype=np.int64)
    weight = np.empty(n_near)
    for draw in range(n_draws):
        for step in range(n_steps):
            here = paths[draw, step]
            found, total = 0, 0.0
            foretold = step < signal.size and not np.isnan(signal[step])
            last = 0.0 if foretold else luck[draw, step]
            for place in range(n_listed):
                like = nearest[here, place]
                if found == n_near or like < 0:
                    break
                if not leads_on[like]:
                    continue
                chosen[found] = like
                share = cumulated[found]
                if foretold:
                    r = correlation[step]
                    miss = signal[step] - r * wetness[like + 1]
                    share -= cumulated[found - 1] if found else 0.0
                    # Never quite nothing: a forecast can be wrong altogether.
                    share *= np.exp(-0.5 * miss * miss / (1 - r * r)) + 1e-12
                    total += share
                    share = total
                weight[found] = share
                found += 1
                if not foretold and share >= last:
                    break
            if foretold:
                last = luck[draw, step] * total
            pick = 0
            while pick < found - 1 and weight[pick] < last:
                pick += 1
            # With nobody like it, the day itself goes on, or stays if that is left out.
            follows = chosen[pick] if found else here
            paths[draw, step + 1] = follows + 1 if leads_on[follows] else here
