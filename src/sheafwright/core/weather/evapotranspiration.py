"""Evapotranspiration of well-watered short grass: how hard the day's air dries.

References
----------
.. [1] R. G. Allen, L. S. Pereira, D. Raes and M. Smith, Crop evapotranspiration,
   FAO Irrigation and Drainage Paper 56, 1998, chapters 2 to 4.
"""

import numpy as np

from sheafwright.core.weather.humidity import (
    mean_saturation_vapour_pressure,
    saturation_slope,
)
from sheafwright.core.weather.radiation import (
    clear_sky_radiation,
    net_radiation,
)

WATER_PER_ENERGY = 0.408
"""Water that a unit of energy turns to vapour. [mm m² MJ⁻¹]"""


def air_pressure(altitude):
    """Usual air pressure at a height, FAO-56 eq. 7. [kPa]

    Parameters
    ----------
    altitude : array_like
        Height above the sea. [m]
    """
    return 101.3 * (1 - 0.0065 / 293 * np.asarray(altitude, dtype=float)) ** 5.26


def psychrometric_constant(pressure):
    """How vapour pressure and wet-bulb depression trade, FAO-56 eq. 8. [kPa °C⁻¹]

    Parameters
    ----------
    pressure : array_like
        Air pressure. [kPa]
    """
    return 0.665e-3 * np.asarray(pressure, dtype=float)


def penman_monteith(
    tmin, tmax, vapour_pressure, net_radiation, wind, pressure, soil_heat=0.0
):
    """Evapotranspiration from energy and wind, FAO-56 eq. 6. [mm d⁻¹]

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        Lowest and highest air temperature. [°C]
    vapour_pressure : array_like, shape (..., day)
        Vapour pressure. [kPa]
    net_radiation : array_like, shape (..., day)
        Radiation that the grass keeps. [MJ m⁻² d⁻¹]
    wind : array_like, shape (..., day)
        Mean wind at 2 m. [m s⁻¹]
    pressure : array_like
        Air pressure. [kPa]
    soil_heat : array_like
        Heat that goes into the ground, next to nothing over a day. [MJ m⁻² d⁻¹]
    """
    tmean = np.add(tmin, tmax) / 2
    slope, gamma = saturation_slope(tmean), psychrometric_constant(pressure)
    deficit = mean_saturation_vapour_pressure(tmin, tmax) - vapour_pressure
    by_energy = WATER_PER_ENERGY * slope * np.subtract(net_radiation, soil_heat)
    by_wind = gamma * 900 / (tmean + 273) * np.multiply(wind, deficit)
    resistance = slope + gamma * (1 + 0.34 * np.asarray(wind))
    return (by_energy + by_wind) / resistance


def hargreaves(tmin, tmax, extraterrestrial):
    """Evapotranspiration from temperature alone, FAO-56 eq. 52. [mm d⁻¹]

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        Lowest and highest air temperature. [°C]
    extraterrestrial : array_like, shape (..., day)
        Radiation above the air. [MJ m⁻² d⁻¹]
    """
    tmean = np.add(tmin, tmax) / 2
    span = np.sqrt(np.subtract(tmax, tmin))
    return 0.0023 * (tmean + 17.8) * span * WATER_PER_ENERGY * extraterrestrial


def reference_evapotranspiration(
    tmin, tmax, vapour_pressure, radiation, wind, extraterrestrial, altitude
):
    """Reference evapotranspiration from a day's weather. [mm d⁻¹]

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        Lowest and highest air temperature. [°C]
    vapour_pressure : array_like, shape (..., day)
        Vapour pressure. [kPa]
    radiation : array_like, shape (..., day)
        Radiation at the ground. [MJ m⁻² d⁻¹]
    wind : array_like, shape (..., day)
        Mean wind at 2 m. [m s⁻¹]
    extraterrestrial : array_like, shape (..., day)
        Radiation above the air. [MJ m⁻² d⁻¹]
    altitude : array_like
        Height above the sea. [m]
    """
    clear_sky = clear_sky_radiation(extraterrestrial, altitude)
    kept = net_radiation(tmin, tmax, vapour_pressure, radiation, clear_sky)
    pressure = air_pressure(altitude)
    evaporated = penman_monteith(tmin, tmax, vapour_pressure, kept, wind, pressure)
    # A winter day that loses more heat than it gains makes dew; it dries nothing.
    return np.maximum(evaporated, 0.0)
