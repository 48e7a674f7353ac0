"""What each sowing would have made of the same past seasons.

Every sowing meets the weather of every season, so that sowings are compared within a
season and the luck of the weather falls on all alike. Crops have the shape (sowing,
season), their weather (season, day), and a day is a position in its season.
"""

from typing import NamedTuple

import numpy as np

from sheafwright.core.crop.development import cutting_window, develop, ripeness
from sheafwright.core.crop.progress import first_day, per_day
from sheafwright.core.season.worth import cutting_worth, ripeness_worth


class Growth(NamedTuple):
    """Crops as they grew, whatever was lost at harvest; days are NaN for never."""

    emergence: np.ndarray
    """(sowing, season)."""
    ear_out: np.ndarray
    """Day of GS59, (sowing, season)."""
    ripeness: np.ndarray
    """(sowing, season, day). [1]"""
    opens: np.ndarray
    """First day of the binder's window, (sowing, season)."""
    closes: np.ndarray
    """Its last day, (sowing, season)."""


class Harvest(NamedTuple):
    """What became of the crops, each (sowing, season)."""

    cut: np.ndarray
    """Day of cutting; NaN for never."""
    fit_spell: np.ndarray
    """Whether a fit spell for the stooks began in the binder's window, of bool."""
    worth: np.ndarray
    """Share of a perfect crop; NaN where the record ends too soon to tell. [0–1]"""


def seasons_of(values, first, n_days):
    """The days of each season, (season, day); NaN past the record's end.

    Parameters
    ----------
    values : array_like, shape (record day,)
        In any unit.
    first : array_like of int, shape (season,)
        Record position of each season's first day.
    n_days : int
        Days in a season.
    """
    values = np.append(np.asarray(values, dtype=float), np.nan)
    asked = np.asarray(first)[:, np.newaxis] + np.arange(n_days)
    return values[np.minimum(asked, len(values) - 1)]


def on_day(values, day):
    """Values on one day of each crop, (sowing, season); NaN on a day that never comes.

    Parameters
    ----------
    values : array_like, shape (..., season, day)
    day : array_like, shape (sowing, season)
    """
    wanted = np.nan_to_num(day).astype(int)[..., np.newaxis]
    values = np.broadcast_to(values, (*np.shape(day), np.shape(values)[-1]))
    found = np.take_along_axis(values, wanted, axis=-1)[..., 0]
    return np.where(np.isnan(day), np.nan, found)


def growth(tmin, tmax, day_length, sown, phases, filling, window):
    """`Growth` of each sowing in each season.

    Parameters
    ----------
    tmin, tmax, day_length : array_like, shape (season, day)
        [°C], [°C], [h]
    sown : array_like, shape (sowing, season)
        Day of sowing.
    phases : Phases
    filling : GrainFilling
    window : CuttingWindow
    """
    stages = develop(tmin, tmax, day_length, sown, phases, filling)
    ripe = ripeness(tmin, tmax, stages.gs61, filling)
    opens, closes = cutting_window(ripe, window)
    return Growth(stages.emergence, stages.gs59, ripe, opens, closes)


def harvest(growth, binder_day, came_through, share, losses):
    """`Harvest` of crops cut on the first day of their window that a binder can go.

    Parameters
    ----------
    growth : Growth
    binder_day : array_like of bool, shape (season, day)
        Whether a binder could go.
    came_through : array_like of bool, shape (season, day)
        Whether stooks cut on each day came through a fit spell.
    share : array_like, shape (season, day)
        What stooks cut on each day brought home. [0–1]
    losses : Losses
    """
    day = np.arange(growth.ripeness.shape[-1])
    can_cut = binder_day & (day >= per_day(growth.opens))
    # A window that has not closed by the season's end is open to it.
    closes = per_day(np.nan_to_num(growth.closes, nan=np.inf))
    spell = can_cut & came_through & (day <= closes)
    cut = first_day(can_cut)
    over = cut - first_day(growth.ripeness >= losses.ripeness.full_to)
    value = ripeness_worth(
        on_day(growth.ripeness, cut), np.fmax(over, 0), losses.ripeness
    )
    worth = cutting_worth(value, on_day(share, cut), losses.stook)
    worth = np.where(np.isnan(cut), losses.stook.never_cut, worth)
    return Harvest(cut, spell.any(axis=-1), worth)


def left_of(product, lodged, lost):
    """What is left of a product where some of the crop lies, same shape.

    Parameters
    ----------
    product : array_like
        Of a crop that stands, in any unit.
    lodged : array_like
        Share that lies. [0–1]
    lost : float
        Share of the product lost where it does. [0–1]
    """
    return product * (1 - np.multiply(lodged, lost))


def is_known(missing, sown, growth, harvest):
    """Whether the record has every day that a crop's fate rests on, (sowing, season).

    Parameters
    ----------
    missing : array_like of bool, shape (season, day)
        Days without all their weather.
    sown : array_like, shape (sowing, season)
        Day of sowing.
    growth, harvest : Growth, Harvest
    """
    so_far = np.cumsum(np.pad(missing, ((0, 0), (1, 0))), axis=-1)
    # What never comes is known only once the whole season is.
    season_end = so_far.shape[-1] - 2
    last = np.nan_to_num(np.maximum(growth.closes, harvest.cut), nan=season_end)
    last = np.minimum(last, season_end)
    whole = on_day(so_far, last + 1) == on_day(so_far, sown)
    return whole & ~np.isnan(harvest.worth)
