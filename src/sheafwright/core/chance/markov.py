"""Wet and dry days as a two-state Markov chain of the first order.

``p01`` is the chance of a wet day after a dry one, ``p11`` after a wet one. The
equations are the standard ones of the chain [1]_; wet means at least ``wet_from``.

References
----------
.. [1] C. W. Richardson, Stochastic simulation of daily precipitation, temperature
   and solar radiation, Water Resources Research 17, 1981, 182–190.
"""

import numpy as np

from sheafwright.core.chance.time_of_year import days_after
from sheafwright.core.errors import OutOfRange


def calendar_window(day_of_year, centre, half_width):
    """Days of the record within so many days of a calendar day, across New Year.

    Parameters
    ----------
    day_of_year : array_like, shape (day,)
        Of the record. [1–366]
    centre : array_like, shape (...)
        Calendar day in the middle of the window. [1–366]
    half_width : int
        Days on either side. [d]

    Returns
    -------
    ndarray of bool, shape (..., day)
    """
    return np.abs(days_after(day_of_year, np.asarray(centre)[..., None])) <= half_width


def transition_chances(rain, window=True, wet_from=1.0):
    """Chance of a wet day after a dry one and after a wet one, by counting.

    Parameters
    ----------
    rain : array_like, shape (..., day)
        Days in their order. A pair with a missing day is not counted. [mm d⁻¹]
    window : array_like of bool, shape (..., day)
        Days to count; the day before may lie outside. Leading axes are windows.
    wet_from : float
        A day with at least this rain is wet. [mm d⁻¹]

    Returns
    -------
    p01, p11 : ndarray, shape (...)
        NaN where no such pair was counted. [0–1]
    """
    rain, window = np.broadcast_arrays(np.asarray(rain, dtype=float), window)
    wet = np.where(np.isnan(rain), np.nan, rain >= wet_from)
    before, after = wet[..., :-1], wet[..., 1:]
    counted = window[..., 1:] & np.isfinite(before + after)
    return tuple(
        _share_wet(after, counted & (before == was_wet)) for was_wet in (False, True)
    )


def _share_wet(wet, counted):
    """Share of the counted days that are wet; NaN where none is counted."""
    n = counted.sum(axis=-1)
    n_wet = (counted & (wet == 1)).sum(axis=-1)
    return np.where(n > 0, n_wet / np.maximum(n, 1), np.nan)


def stationary_share(p01, p11):
    """Long-run share of wet days. [0–1]"""
    return p01 / (1 + p01 - p11)


def wet_days_mean(n_days, p01, p11):
    """Mean number of wet days in a stretch of days. [d]"""
    return n_days * stationary_share(p01, p11)


def wet_days_variance(n_days, p01, p11):
    """Variance of the number of wet days in a stretch of days, exactly. [d²]"""
    share, lag_one = stationary_share(p01, p11), p11 - p01
    lag = np.arange(1, n_days)
    together = ((n_days - lag) * np.asarray(lag_one)[..., None] ** lag).sum(axis=-1)
    return share * (1 - share) * (n_days + 2 * together)


def wet_days_variance_long(n_days, p01, p11):
    """The same variance in the limit of many days. [d²]"""
    share, lag_one = stationary_share(p01, p11), p11 - p01
    return n_days * share * (1 - share) * (1 + lag_one) / (1 - lag_one)


def dry_spell_survivor(n_days, p01):
    """Chance that a dry spell, once begun, lasts at least so many days. [0–1]"""
    return (1 - p01) ** (np.asarray(n_days) - 1.0)


def dry_spell_mean(p01):
    """Mean length of a dry spell. [d]"""
    return 1 / p01


def simulate(p01, p11, n_draws, n_days, rng):
    """Draw wet and dry days, opening at the stationary share.

    Parameters
    ----------
    p01, p11 : array_like, shape (), (day,) or (..., day)
        Chances into each day. [0–1]
    n_draws, n_days : int
    rng : numpy.random.Generator

    Returns
    -------
    ndarray of bool, shape (..., draw, day)
        True where wet.
    """
    p01, p11 = (_by_draw_and_day(chance, n_days) for chance in (p01, p11))
    places = np.broadcast_shapes(p01.shape, p11.shape)[:-2]
    luck = rng.random((*places, n_draws, n_days))
    wet = np.empty(luck.shape, dtype=bool)
    wet[..., 0] = luck[..., 0] < stationary_share(p01[..., 0], p11[..., 0])
    for day in range(1, n_days):
        chance = np.where(wet[..., day - 1], p11[..., day], p01[..., day])
        wet[..., day] = luck[..., day] < chance
    return wet


def _by_draw_and_day(chance, n_days):
    """Chances with a draw axis put in: (..., day) to (..., 1, day)."""
    chance = np.asarray(chance, dtype=float)
    # A missing chance fails this too, where luck < NaN would pass it off as dry.
    if not ((chance >= 0) & (chance <= 1)).all():
        raise OutOfRange(
            "Chances of a wet day must all be known and lie between 0 and 1; "
            "widen the calendar window or give a longer rain record."
        )
    return np.broadcast_to(chance, (*chance.shape[:-1], n_days))[..., None, :]
