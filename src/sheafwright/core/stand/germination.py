"""A germination test: how much came up, how sure that is, and whether trays agree."""

from typing import NamedTuple

import numpy as np

from sheafwright.core.chance.quantiles import normal_reach


class Interval(NamedTuple):
    """Where the true value lies, in the unit of what was measured."""

    low: float
    high: float


def share_up(came_up, seeds_in_tray):
    """Share of all the seed that came up. [0–1]

    Parameters
    ----------
    came_up : array_like, shape (..., tray)
        Seeds that made a sound seedling. [1]
    seeds_in_tray : float
        Seeds laid in each tray. [1]
    """
    return np.asarray(came_up, dtype=float).mean(axis=-1) / seeds_in_tray


def in_hundred(share):
    """A share as tests report it: whole seeds in 100, a half going up. [seeds in 100]

    Parameters
    ----------
    share : array_like
        [0–1]
    """
    # A mean of trays is exact in quarters of a seed; the product may fall just below.
    return np.floor(np.round(100 * np.asarray(share, dtype=float), 6) + 0.5)


def wilson_interval(share, seeds, confidence):
    """`Interval` of the true share, seeds being alike but for chance.

    Parameters
    ----------
    share : array_like
        That came up. [0–1]
    seeds : array_like
        Laid in all. [1]
    confidence : float
        That the interval holds the true share. [0–1]

    References
    ----------
    .. [1] E. B. Wilson, Probable inference, the law of succession, and statistical
       inference, Journal of the American Statistical Association 22:209-212, 1927.
    """
    z2 = normal_reach(confidence) ** 2 / np.asarray(seeds)
    share = np.asarray(share, dtype=float)
    middle = (share + z2 / 2) / (1 + z2)
    half = np.sqrt(z2 * share * (1 - share) + z2**2 / 4) / (1 + z2)
    return Interval(middle - half, middle + half)


def widest_by_chance(mean, tray_range):
    """Furthest that trays lie apart by chance alone. [seeds in 100]

    Parameters
    ----------
    mean : array_like
        Of the trays, whole. [seeds in 100]
    tray_range : TrayRange

    References
    ----------
    .. [1] United States, Code of Federal Regulations, title 7, section 201.55.
    """
    upper = np.maximum(mean, 101 - np.asarray(mean))
    # The table's means fall; a search wants them rising.
    falls = -np.asarray(tray_range.lowest_mean)
    at = np.searchsorted(falls, -upper, side="left")
    return np.asarray(tray_range.widest)[at]


def spread(came_up):
    """Highest tray less lowest. [1]

    Parameters
    ----------
    came_up : array_like, shape (..., tray)
        [1]
    """
    return np.ptp(np.asarray(came_up, dtype=float), axis=-1)
