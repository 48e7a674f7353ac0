"""Water vapour in the air, from whichever instrument the station has.

References
----------
.. [1] R. G. Allen, L. S. Pereira, D. Raes and M. Smith, Crop evapotranspiration,
   FAO Irrigation and Drainage Paper 56, 1998, chapter 3.
"""

import numpy as np


def saturation_vapour_pressure(air_temperature):
    """Saturation vapour pressure over water, FAO-56 eq. 11. [kPa]

    Parameters
    ----------
    air_temperature : array_like, shape (..., day)
        Air temperature. [°C]
    """
    t = np.asarray(air_temperature, dtype=float)
    return 0.6108 * np.exp(17.27 * t / (t + 237.3))


def saturation_slope(air_temperature):
    """Slope of saturation vapour pressure with temperature, FAO-56 eq. 13. [kPa °C⁻¹]

    Parameters
    ----------
    air_temperature : array_like, shape (..., day)
        Air temperature. [°C]
    """
    t = np.asarray(air_temperature, dtype=float)
    return 4098 * saturation_vapour_pressure(t) / (t + 237.3) ** 2


def mean_saturation_vapour_pressure(tmin, tmax):
    """Saturation vapour pressure of the day, FAO-56 eq. 12. [kPa]

    The mean of both ends, not that of the mean temperature: the curve bends up.

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        Lowest and highest air temperature. [°C]
    """
    coolest, warmest = map(saturation_vapour_pressure, (tmin, tmax))
    return (coolest + warmest) / 2


def vapour_pressure_from_extremes(tmin, tmax, humidity_min, humidity_max):
    """Vapour pressure from the day's extremes of humidity, FAO-56 eq. 17. [kPa]

    The dampest hour is taken as the coolest and the driest as the warmest.

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        Lowest and highest air temperature. [°C]
    humidity_min, humidity_max : array_like, shape (..., day)
        Lowest and highest relative humidity. [0–1]
    """
    at_dawn = np.multiply(humidity_max, saturation_vapour_pressure(tmin))
    at_noon = np.multiply(humidity_min, saturation_vapour_pressure(tmax))
    return (at_dawn + at_noon) / 2


def vapour_pressure_from_mean(tmin, tmax, humidity):
    """Vapour pressure from the day's mean humidity, FAO-56 eq. 19. [kPa]

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        Lowest and highest air temperature. [°C]
    humidity : array_like, shape (..., day)
        Mean relative humidity. [0–1]
    """
    return np.multiply(humidity, mean_saturation_vapour_pressure(tmin, tmax))


def vapour_pressure_from_wet_bulb(dry_bulb, wet_bulb, pressure):
    """Vapour pressure from a ventilated wet and dry bulb, FAO-56 eq. 15. [kPa]

    Parameters
    ----------
    dry_bulb, wet_bulb : array_like, shape (..., day)
        Temperatures of the two thermometers. [°C]
    pressure : array_like, broadcast against them
        Air pressure. [kPa]
    """
    depression = np.subtract(dry_bulb, wet_bulb)
    return saturation_vapour_pressure(wet_bulb) - 0.000662 * pressure * depression


def relative_humidity(vapour_pressure, air_temperature):
    """Vapour pressure as a share of saturation, FAO-56 eq. 10. [0–1]

    Parameters
    ----------
    vapour_pressure : array_like, shape (..., day)
        Vapour pressure. [kPa]
    air_temperature : array_like, shape (..., day)
        Air temperature. [°C]
    """
    return vapour_pressure / saturation_vapour_pressure(air_temperature)
