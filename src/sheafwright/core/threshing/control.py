"""Control limits of shares: is a run as the runs before it, or is something set amiss?

A chart of individuals with moving ranges [1]_, of shares taken as log-ratios: limits
drawn on shares themselves may lie below nothing or above the whole.

References
----------
.. [1] W. A. Shewhart, Economic Control of Quality of Manufactured Product, 1931; as
   worked in the NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.2.
.. [2] J. Aitchison, The Statistical Analysis of Compositional Data, 1986.
"""

from typing import NamedTuple

import numpy as np

TO_SPREAD = 1.128
"""Mean range of two draws from a normal distribution, in its standard deviations."""
REACH = 3.0
"""Standard deviations from the centre to a limit."""
RANGE_REACH = 3.267
"""Mean ranges of two up to the limit of one."""
OF_A_RANGE = 2 - 4 / np.pi
"""Variance of a range of two draws. [of their variance]"""
OF_TWO_RANGES = (2 * np.sqrt(3) - 2 * np.pi / 3 + np.pi) / np.pi - 4 / np.pi
"""Covariance of two ranges that share a draw. [of their variance]"""


class Limits(NamedTuple):
    """Between what a run is like those before it; each shape (...)."""

    low: np.ndarray
    centre: np.ndarray
    high: np.ndarray


def log_ratio(shares):
    """A share against all the rest, as a logarithm; NaN for none and for all. [1]

    Parameters
    ----------
    shares : array_like
        [0–1]
    """
    shares = np.asarray(shares, dtype=float)
    inside = np.where((shares > 0) & (shares < 1), shares, np.nan)
    return np.log(inside / (1 - inside))


def share_of(log_ratios):
    """The share that a log-ratio is of. [0–1]"""
    return 1 / (1 + np.exp(-np.asarray(log_ratios, dtype=float)))


def moving_ranges(values):
    """How far each run is from the one before it, (..., run - 1). [of the values]

    Parameters
    ----------
    values : array_like, shape (..., run)
        In the order that they were made.
    """
    return np.abs(np.diff(np.asarray(values, dtype=float), axis=-1))


def individuals_limits(values):
    """`Limits` of single values, from the mean of their moving ranges [1]_.

    Parameters
    ----------
    values : array_like, shape (..., run)
        Two or more, none missing.
    """
    centre = np.mean(values, axis=-1)
    reach = REACH * moving_ranges(values).mean(axis=-1) / TO_SPREAD
    return Limits(centre - reach, centre, centre + reach)


def range_limit(values):
    """The most that two runs one after the other may differ [1]_. [of the values]

    Parameters
    ----------
    values : array_like, shape (..., run)
        Two or more, none missing.
    """
    return RANGE_REACH * moving_ranges(values).mean(axis=-1)


def false_alarm(runs):
    """Chance that a run like those before it lies outside limits set by them. [0–1]

    By Student's distribution, with the freedom that their mean range has; a little more
    than simulation gives while runs are few.

    Parameters
    ----------
    runs : array_like
        That set the limits, three or more. [1]
    """
    from scipy.special import stdtr

    n = np.asarray(runs, dtype=float)
    spread = (n - 1) * OF_A_RANGE + 2 * (n - 2) * OF_TWO_RANGES
    freedom = 2 / np.pi * (n - 1) ** 2 / spread
    return 2 * stdtr(freedom, -REACH / np.sqrt(1 + 1 / n))


def share_limits(shares):
    """`Limits` of a share, from the shares of the runs before. [0–1]

    Parameters
    ----------
    shares : array_like, shape (..., run)
        Each between none and all. [0–1]
    """
    return Limits(*map(share_of, individuals_limits(log_ratio(shares))))
