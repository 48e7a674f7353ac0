"""A count of young plants: how many stand, how sure that is, and how evenly."""

import numpy as np

from sheafwright.core.stand.drill import student_interval
from sheafwright.core.stand.germination import Interval


def density(counted, area):
    """Plants standing. [m⁻²]

    Parameters
    ----------
    counted : array_like, shape (..., spot)
        Plants in each. [1]
    area : float
        Of one spot. [m²]
    """
    return np.asarray(counted, dtype=float).mean(axis=-1) / area


def row_area(length, row_spacing):
    """Ground that a length of row stands for. [m²]

    Parameters
    ----------
    length, row_spacing : array_like
        [m]
    """
    return np.asarray(length, dtype=float) * row_spacing


def poisson_interval(counted, confidence):
    """`Interval` of the expected count, plants falling by chance alone. [1]

    Parameters
    ----------
    counted : array_like
        Plants in all. [1]
    confidence : float
        That the interval holds the true mean, at least. [0–1]

    References
    ----------
    .. [1] F. Garwood, Fiducial limits for the Poisson distribution, Biometrika
       28:437-442, 1936.
    """
    from scipy.special import gammaincinv

    counted, tail = np.asarray(counted, dtype=float), (1 - confidence) / 2
    # With nothing counted the lower bound is 0, which the inverse can't say of 0.
    low = np.where(counted > 0, gammaincinv(np.maximum(counted, 1), tail), 0.0)
    return Interval(low, gammaincinv(counted + 1, 1 - tail))


def density_interval(counted, area, confidence):
    """`Interval` of the true density: the wider of chance's and the spots' own. [m⁻²]

    Plants stand in patches, so the spots may differ by more than chance; too few spots
    may by luck differ by less. One spot shows chance alone.

    Parameters
    ----------
    counted : array_like, shape (..., spot)
        Plants in each. [1]
    area : float
        Of one spot. [m²]
    confidence : float
        That the interval holds the true density, at least. [0–1]
    """
    counted = np.asarray(counted, dtype=float)
    spots = counted.shape[-1]
    low, high = poisson_interval(counted.sum(axis=-1), confidence)
    low, high = low / spots, high / spots
    if spots > 1:
        own = student_interval(counted, confidence)
        # Less than no plants can't stand.
        low, high = np.clip(own.low, 0, low), np.maximum(own.high, high)
    return Interval(low / area, high / area)


def chance_so_uneven(counted):
    """That spots of an even stand differ as much as these, or more. [0–1]

    Parameters
    ----------
    counted : array_like, shape (..., spot)
        Plants in each, two spots or more and not all empty. [1]

    References
    ----------
    .. [1] R. A. Fisher, H. G. Thornton and W. A. Mackenzie, The accuracy of the
       plating method of estimating the density of bacterial populations, Annals of
       Applied Biology 9:325-359, 1922: the index of dispersion.
    """
    from scipy.special import chdtrc

    counted = np.asarray(counted, dtype=float)
    mean = counted.mean(axis=-1, keepdims=True)
    squares = ((counted - mean) ** 2 / mean).sum(axis=-1)
    return chdtrc(counted.shape[-1] - 1, squares)
