"""Stooks from cutting to carting: grain in the ear dries, rain wets and spoils.

On a dry day moisture, dry basis, falls towards its equilibrium at a rate that follows
evaporative demand; on a wet day it gains. Stooks are carted on the first day that the
grain is fit and there is no water on them. Until then each day's rain, and after a
while time itself, take their share.
"""

import numpy as np

from sheafwright.core.compiled import compiled
from sheafwright.core.moisture.basis import dry_basis

GIVEN_UP = -1
"""Days out of stooks that were never fit to carry."""


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
    paths = np.asarray(paths)
    share = np.full((len(paths), n_cuts), np.nan)
    days_out = np.zeros((len(paths), n_cuts), dtype=np.int64)
    stook, drying = losses.stook, losses.drying
    compiled(_stand)(
        share,
        days_out,
        paths,
        np.asarray(rain, dtype=float),
        np.asarray(rate, dtype=float),
        rain_loss(rain, stook),
        dry_basis(drying.at_cutting),
        dry_basis(drying.equilibrium),
        dry_basis(drying.fit_to_carry),
        (drying.wet_day_mm, drying.soaking_mm, drying.wet_day_gain_dry_basis),
        (drying.carrying_rain_mm, drying.carrying_rain_before_mm),
        (stook.free_days, stook.longest_days, stook.late_loss_share),
        (stook.floor, stook.never_carted),
    )
    return share, days_out


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


def _stand(  # noqa: C901 (a kernel calls no other)
    share, days_out, paths, rain, rate, rain_loss, cut, dry, fit, wetting, carrying,
    waiting, ends,
):  # fmt: skip
    """Fill shares and days out, a cutting day at a time."""
    wet_day, soaking, gain = wetting
    no_rain, little_rain = carrying
    free_days, longest, late = waiting
    floor, never = ends
    n_draws, n_days = paths.shape
    for draw in range(n_draws):
        for cutting in range(share.shape[1]):
            moisture, lost = cut, 0.0
            before = rain[paths[draw, cutting]]
            if np.isnan(before):
                continue
            for out in range(1, min(longest, n_days - 1 - cutting) + 1):
                day = paths[draw, cutting + out]
                fallen = rain[day]
                if np.isnan(fallen) or np.isnan(rate[day]):
                    break
                if fallen >= wet_day:
                    moisture += gain
                else:
                    # Butts and bands stay wet into the day after a soaking.
                    drying = rate[day] * (0.5 if before >= soaking else 1.0)
                    moisture = dry + (moisture - dry) * np.exp(-drying)
                lost += rain_loss[day]
                if out > free_days:
                    lost += late
                if moisture <= fit and fallen < no_rain and before < little_rain:
                    share[draw, cutting] = max(floor, 1 - lost)
                    days_out[draw, cutting] = out
                    break
                before = fallen
                if out == longest:
                    share[draw, cutting] = never
                    days_out[draw, cutting] = -1
