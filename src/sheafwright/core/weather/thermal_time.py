"""Thermal time from daily extremes, the day taken in eight three-hour parts.

A night below the base adds nothing and a warm afternoon is not averaged away, so
thermal time is never less than that of the plain daily mean.

References
----------
.. [1] A. H. Weir, P. L. Bragg, J. R. Porter and J. H. Rayner, A winter wheat
   crop simulation model without water or nutrient limitations, Journal of
   Agricultural Science 102, 1984, 371-382.
"""

import numpy as np

PARTS = 8


def warmth_share(part):
    """Where a part of the day lies between minimum (0) and maximum (1). [0–1]

    Parameters
    ----------
    part : array_like of int
        Three-hour part, 1 the warmest to 8 the coldest.
    """
    return 0.5 * (1 + np.cos(np.radians(90 / PARTS) * (2 * np.asarray(part) - 1)))


def part_temperatures(tmin, tmax):
    """Yield the air temperature of each part of the day, warmest first. [°C]

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        Lowest and highest air temperature. [°C]

    Yields
    ------
    ndarray, shape (..., day)
    """
    tmin, tmax = np.asarray(tmin, dtype=float), np.asarray(tmax, dtype=float)
    span = tmax - tmin
    # One part at a time: a thousand draws of a season would fill eight times as much.
    for share in warmth_share(np.arange(1, PARTS + 1)):
        yield tmin + share * span


def mean_over_parts(response, tmin, tmax):
    """The day's mean of a response to temperature, (..., day).

    Parameters
    ----------
    response : callable
        From an array of air temperatures [°C] to an array of the same shape.
    tmin, tmax : array_like, shape (..., day)
        Lowest and highest air temperature. [°C]
    """
    return sum(response(t) for t in part_temperatures(tmin, tmax)) / PARTS


def thermal_time(tmin, tmax, base):
    """Thermal time above a base temperature, (..., day). [°C d]

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        Lowest and highest air temperature. [°C]
    base : array_like
        Temperature below which nothing develops. [°C]
    """
    return mean_over_parts(lambda t: np.maximum(t - base, 0.0), tmin, tmax)
