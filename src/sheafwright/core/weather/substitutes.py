"""What FAO-56 puts in place of weather that the station does not measure.

References
----------
.. [1] R. G. Allen, L. S. Pereira, D. Raes and M. Smith, Crop evapotranspiration,
   FAO Irrigation and Drainage Paper 56, 1998, chapter 3, eqs. 48 and 50.
"""

import numpy as np

from sheafwright.core.weather.humidity import saturation_vapour_pressure


def vapour_pressure_from_tmin(tmin, dewpoint_below_tmin):
    """Vapour pressure taken from the night, FAO-56 eq. 48. [kPa]

    In a damp climate the air cools each night to about its dewpoint.

    Parameters
    ----------
    tmin : array_like, shape (..., day)
        Lowest air temperature. [°C]
    dewpoint_below_tmin : float
        How far the dewpoint lies below it. [°C]
    """
    return saturation_vapour_pressure(np.subtract(tmin, dewpoint_below_tmin))


def radiation_from_temperature(tmin, tmax, extraterrestrial, adjustment):
    """Radiation taken from the day's range of temperature, FAO-56 eq. 50. [MJ m⁻² d⁻¹]

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        Lowest and highest air temperature. [°C]
    extraterrestrial : array_like, shape (..., day)
        Radiation above the air. [MJ m⁻² d⁻¹]
    adjustment : float
        FAO-56's k_Rs. [°C^-0.5]
    """
    # A gap filled from its neighbours may put the night above the day.
    span = np.maximum(np.subtract(tmax, tmin), 0.0)
    return adjustment * np.sqrt(span) * extraterrestrial


def first_known(*estimates):
    """Day by day the first estimate that is not missing, best estimate first.

    Parameters
    ----------
    *estimates : array_like, broadcast against each other to (..., day)
        Estimates of one quantity, NaN where missing.

    Returns
    -------
    value : ndarray, shape (..., day)
        In the unit of the estimates.
    choice : ndarray of int, shape (..., day)
        Position of the estimate taken; -1 where all are missing.
    """
    stacked = np.stack(np.broadcast_arrays(*estimates))
    known = ~np.isnan(stacked)
    choice = known.argmax(axis=0)
    value = np.take_along_axis(stacked, choice[np.newaxis], axis=0)[0]
    return value, np.where(known.any(axis=0), choice, -1)
