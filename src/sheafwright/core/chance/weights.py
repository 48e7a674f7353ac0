"""Weights of what may be so, from the logarithms in which they are reckoned."""

import numpy as np


def from_logs(log_weight, axis=None):
    """Weights in proportion that sum to 1, same shape. [0–1]

    Parameters
    ----------
    log_weight : ndarray
        One at least is finite. [1]
    axis : int or tuple of int, optional
        Over which they sum; all of them if not given.
    """
    # Less the greatest: of numbers so small as likelihoods none may vanish.
    weight = np.exp(log_weight - log_weight.max(axis=axis, keepdims=True))
    return weight / weight.sum(axis=axis, keepdims=True)
