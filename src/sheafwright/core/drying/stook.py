"""Stooks from cutting to carting: grain in the ear dries, rain wets and spoils.

On a dry day moisture, dry basis, falls towards its equilibrium at a rate that follows
evaporative demand; on a wet day it gains. Stooks are carted on the first day that the
grain is fit and there is no water on them. Until then each day's rain, and after a
while time itself, take their share.
"""

import numpy as np

from sheafwright.core.moisture.basis import dry_basis

GIVEN_UP = -1
"""Days out of stooks that were never fit to carry."""
AFTER_SOAKING = 0.5
"""Share of its drying that a dry day keeps after a soaking. [1]"""


def drying_rate(evapotranspiration, drying):
    """Rate at which moisture nears its equilibrium on a dry day, same shape. [d⁻¹]

    Parameters
    ----------
    evapotranspiration : array_like
        Of short grass. [mm d⁻¹]
    drying : Drying
    """
    demand = np.asarray(evapotranspiration, dtype=float)
    demand = demand / drying.reference_evapotranspiration
    return drying.rate_per_dry_day * np.sqrt(demand)


def stooks(paths, rain, rate, n_cuts, losses):
    """Share of a perfect crop left by the stooks, and their days out.

    Both have the shape (draw, cut): cut on each of the path's first days. The share is
    NaN, and the days out 0, where the path ends before the end is known or meets a day
    without weather.

    Parameters
    ----------
    paths : array_like of int, shape (draw, day)
        Positions in the record of the days as they come. A single path of a record's
        own days values every day of the record as a cutting day.
    rain, rate : array_like, shape (record day,)
        Rain [mm d⁻¹]; from `drying_rate` [d⁻¹].
    n_cuts : int
        Days of the path on which is cut.
    losses : Losses
    """
    stook, drying = losses.stook, losses.drying
    keeps, gains, takes, carries = standing_days(paths, rain, rate, n_cuts, losses)
    dry = dry_basis(drying.equilibrium)
    fit = dry_basis(drying.fit_to_carry) - dry
    # A day's stooks of all cuts and draws take one step together.
    excess = np.full(n_cuts * len(paths), dry_basis(drying.at_cutting) - dry)
    lost, share = np.zeros_like(excess), np.full_like(excess, np.nan)
    days_out = np.zeros(excess.shape, dtype=np.int64)
    for out in range(1, stook.longest_days + 1):
        on = slice((out - 1) * len(paths), (out - 1 + n_cuts) * len(paths))
        excess *= keeps[on]
        excess += gains[on]
        lost += takes[on]
        if out > stook.free_days:
            lost += stook.late_loss_share
        carted = np.flatnonzero(carries[on] & (excess <= fit))
        share[carted] = np.maximum(stook.floor, 1 - lost[carted])
        days_out[carted] = out
        # What is off the field is never fit to carry again.
        excess[carted] = np.nan
    standing = ~np.isnan(excess)
    share[standing], days_out[standing] = stook.never_carted, GIVEN_UP
    return tuple(each.reshape(n_cuts, -1).T for each in (share, days_out))


def standing_days(paths, rain, rate, n_cuts, losses):
    """What each day after a path's first does to the stooks that stand on it.

    Four arrays: what it leaves of the moisture above equilibrium, NaN if not known; the
    moisture gained, dry basis; the share of worth taken; and whether may be carried.
    They are flat, with all draws of a day together: (day × draw,).

    Parameters
    ----------
    paths, rain, rate, n_cuts, losses : as in `stooks`
    """
    drying = losses.drying
    short = max(n_cuts + losses.stook.longest_days - np.shape(paths)[1], 0)
    # Past a path's end comes a day of which nothing is known.
    paths = np.pad(paths, ((0, 0), (0, short)), constant_values=-1)
    rain, rate = np.append(rain, np.nan), np.append(rate, np.nan)
    wet, known = rain >= drying.wet_day_mm, np.where(np.isnan(rain), np.nan, 1.0)
    # Butts and bands stay wet into the day after a soaking.
    pace = known * np.where(rain >= drying.soaking_mm, AFTER_SOAKING, 1.0)
    dries = known * rate * ~wet
    before, today = paths[:, :-1].T.ravel(), paths[:, 1:].T.ravel()
    may = (rain < drying.carrying_rain_before_mm)[before]
    return (
        np.exp(-pace[before] * dries[today]),
        (wet * drying.wet_day_gain_dry_basis)[today],
        rain_loss(rain, losses.stook)[today],
        (rain < drying.carrying_rain_mm)[today] & may,
    )


def rain_loss(rain, stook):
    """Share that a day's rain takes from the stooks, same shape as rain. [1]

    Parameters
    ----------
    rain : array_like
        Rain. [mm d⁻¹]
    stook : StookLosses
    """
    shares = np.concatenate([[0.0], stook.rain_loss_share])
    return shares[np.searchsorted(stook.rain_loss_mm, rain, side="right")]
