"""What possible summers would make of the crop: worth and odds by cutting day."""

import dataclasses

import numpy as np

from sheafwright.core.drying.stook import stooks
from sheafwright.core.season.worth import (
    can_cut,
    cutting_worth,
    days_over,
    ripeness_worth,
)


@dataclasses.dataclass(frozen=True)
class Summers:
    """Possible summers by cutting day, each (draw, 1 + day): today, then the next."""

    ripeness: np.ndarray
    """[1]"""
    can_cut: np.ndarray
    """Of bool."""
    worth: np.ndarray
    """Worth if cut that day. [0–1]"""
    days_out: np.ndarray
    """Days from cutting to carting. [d]"""
    stook_share: np.ndarray
    """What the stooks bring home of what was cut. [0–1]"""


def summers(paths, ripeness, over_before, rain, rate, losses):
    """`Summers` along paths of whole days.

    Parameters
    ----------
    paths : array_like of int, shape (draw, 1 + longer)
        Positions in the record; long enough after the last cutting day for its stooks.
    ripeness : array_like, shape (draw, 1 + day)
        Today's, and that of the days after it on which may be cut. [1]
    over_before : int or array_like, shape (draw,)
        Days over full ripeness on the day before today; -1 where not passed. [d]
    rain, rate : array_like, shape (record day,)
        Rain [mm d⁻¹]; drying rate [d⁻¹].
    losses : Losses
    """
    n_cuts = ripeness.shape[1]
    share, days_out = stooks(paths, rain, rate, n_cuts, losses)
    over = days_over(ripeness, losses.ripeness.full_to, over_before)
    ripe = ripeness_worth(ripeness, over, losses.ripeness)
    return Summers(
        ripeness=ripeness,
        can_cut=can_cut(ripeness, rain[paths[:, :n_cuts]], losses.ripeness),
        worth=cutting_worth(ripe, share, losses.stook),
        days_out=days_out,
        stook_share=share,
    )


def fit_week(summers, longest_days, least_share):
    """Chance that stooks cut on each day come through a fit spell, (1 + day,). [0–1]

    Fit is a spell that a well-built stook comes through, showers and all: carted
    within so many days, and most of its worth kept.

    Parameters
    ----------
    summers : Summers
    longest_days : int
        Days in the stook. [d]
    least_share : float
        Share kept. [0–1]
    """
    return came_through(
        summers.days_out, summers.stook_share, longest_days, least_share
    ).mean(axis=0)


def came_through(days_out, share, longest_days, least_share):
    """Whether stooks came through a fit spell, same shape as ``share``, of bool.

    Parameters
    ----------
    days_out, share : array_like
        From `stooks`. [d], [0–1]
    longest_days, least_share : as in `fit_week`
    """
    carted = (np.asarray(days_out) > 0) & (np.asarray(days_out) <= longest_days)
    return carted & (np.asarray(share) >= least_share)
