"""Quantiles: of draws, where some never get there, and of the normal law."""

from statistics import NormalDist

import numpy as np

ROUNDING = 1e-12
"""Slack for sums of weights, so that ten tenths make one."""


def weighted_quantiles(values, probabilities, weights=None):
    """Smallest value that at least the given share of the draws does not pass.

    Nothing is interpolated: a quantile of stage dates is a date that some draw
    gave, and it can be "never".

    Parameters
    ----------
    values : array_like, shape (..., draw)
        NaN, or +inf, in a draw that never gets there: later than every date.
    probabilities : array_like, shape (probability,)
        Shares of the draws. [0–1]
    weights : array_like, shape (..., draw), optional
        Weight of each draw; equal if not given.

    Returns
    -------
    ndarray, shape (..., probability)
        In the unit of `values`; +inf where too few of the draws get there.
    """
    values = np.where(np.isnan(values), np.inf, values)
    weights = np.ones_like(values) if weights is None else weights
    weights = np.broadcast_to(weights, values.shape)
    order = np.argsort(values, axis=-1)
    share = np.cumsum(np.take_along_axis(weights, order, axis=-1), axis=-1)
    wanted = np.asarray(probabilities) * share[..., -1:]
    below = share[..., None, :] < wanted[..., None] - ROUNDING * share[..., -1:, None]
    rank = np.take_along_axis(order, below.sum(axis=-1), axis=-1)
    return np.take_along_axis(values, rank, axis=-1)


def normal_reach(confidence):
    """Standard deviations to either side of the mean that hold a share of it. [1]

    Parameters
    ----------
    confidence : float
        The share. [0–1]
    """
    return NormalDist().inv_cdf((1 + confidence) / 2)
