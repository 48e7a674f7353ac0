"""Radiation at the top of the air, at the ground, and what grass keeps of it.

The sun's path here is FAO-56's own, and its daylight hours serve these equations
only; the crop's day length is in ``day_length`` and is never mixed with it.

Latitude and day of year broadcast against each other: a column of latitudes
against a row of days gives (place, day).

References
----------
.. [1] R. G. Allen, L. S. Pereira, D. Raes and M. Smith, Crop evapotranspiration,
   FAO Irrigation and Drainage Paper 56, 1998, chapter 3.
"""

import numpy as np

from sheafwright.core.constants import DAYS_PER_YEAR, HOURS_PER_DAY

SOLAR_CONSTANT = 0.0820
"""Radiation on a surface facing the sun above the air. [MJ m⁻² min⁻¹]"""

GRASS_ALBEDO = 0.23
"""Share of sunlight that the reference grass sends back. [0–1]"""

STEFAN_BOLTZMANN = 4.903e-9
"""Radiation of a black body over a day. [MJ K⁻⁴ m⁻² d⁻¹]"""

MINUTES_PER_DAY = 60 * HOURS_PER_DAY

FAO_KELVIN = 273.16
"""What FAO-56 adds to °C in its radiation balance. [K]"""


def _season_angle(day_of_year):
    return 2 * np.pi / DAYS_PER_YEAR * np.asarray(day_of_year, dtype=float)


def inverse_relative_distance(day_of_year):
    """How near the sun is, as flux relative to its mean, FAO-56 eq. 23. [1]

    Parameters
    ----------
    day_of_year : array_like, shape (day,)
        1 to 366.
    """
    return 1 + 0.033 * np.cos(_season_angle(day_of_year))


def solar_declination(day_of_year):
    """Declination of the sun as one sine wave, FAO-56 eq. 24. [rad]

    Parameters
    ----------
    day_of_year : array_like, shape (day,)
        1 to 366.
    """
    return 0.409 * np.sin(_season_angle(day_of_year) - 1.39)


def sunset_hour_angle(latitude, day_of_year):
    """Hour angle of the sun as it sets, FAO-56 eq. 25. [rad]

    Parameters
    ----------
    latitude : array_like
        North positive. [°]
    day_of_year : array_like, shape (day,)
        1 to 366.
    """
    climb = np.tan(np.radians(latitude)) * np.tan(solar_declination(day_of_year))
    # Beyond ±1 the sun doesn't cross the horizon: no day, or no night.
    return np.arccos(np.clip(-climb, -1, 1))


def daylight_hours(latitude, day_of_year):
    """Longest possible sunshine, FAO-56 eq. 34. [h]

    Parameters
    ----------
    latitude : array_like
        North positive. [°]
    day_of_year : array_like, shape (day,)
        1 to 366.
    """
    return HOURS_PER_DAY / np.pi * sunset_hour_angle(latitude, day_of_year)


def extraterrestrial_radiation(latitude, day_of_year):
    """Radiation on the flat above the air, FAO-56 eq. 21. [MJ m⁻² d⁻¹]

    Parameters
    ----------
    latitude : array_like
        North positive. [°]
    day_of_year : array_like, shape (day,)
        1 to 366.
    """
    north, declination = np.radians(latitude), solar_declination(day_of_year)
    sunset = sunset_hour_angle(latitude, day_of_year)
    level = sunset * np.sin(north) * np.sin(declination)
    swing = np.sin(sunset) * np.cos(north) * np.cos(declination)
    flux = SOLAR_CONSTANT * inverse_relative_distance(day_of_year)
    return MINUTES_PER_DAY / np.pi * flux * (level + swing)


def radiation_from_sunshine(
    sunshine, daylight, extraterrestrial, angstrom_a, angstrom_b
):
    """Ångström's radiation at the ground, FAO-56 eq. 35. [MJ m⁻² d⁻¹]

    Parameters
    ----------
    sunshine : array_like, shape (..., day)
        Bright sunshine. [h]
    daylight : array_like, shape (..., day)
        Longest possible sunshine. [h]
    extraterrestrial : array_like, shape (..., day)
        Radiation above the air. [MJ m⁻² d⁻¹]
    angstrom_a, angstrom_b : float
        Share that comes through on an overcast day, and what full sun adds. [1]
    """
    share = angstrom_a + angstrom_b * np.divide(sunshine, daylight)
    return share * extraterrestrial


def clear_sky_radiation(extraterrestrial, altitude):
    """Radiation at the ground under a cloudless sky, FAO-56 eq. 37. [MJ m⁻² d⁻¹]

    Parameters
    ----------
    extraterrestrial : array_like, shape (..., day)
        Radiation above the air. [MJ m⁻² d⁻¹]
    altitude : array_like
        Height above the sea. [m]
    """
    return (0.75 + 2e-5 * np.asarray(altitude)) * extraterrestrial


def net_shortwave(radiation):
    """Sunlight that the reference grass keeps, FAO-56 eq. 38. [MJ m⁻² d⁻¹]

    Parameters
    ----------
    radiation : array_like, shape (..., day)
        Radiation at the ground. [MJ m⁻² d⁻¹]
    """
    return (1 - GRASS_ALBEDO) * np.asarray(radiation, dtype=float)


def net_longwave(tmin, tmax, vapour_pressure, clearness):
    """Heat that the ground loses to the sky, FAO-56 eq. 39. [MJ m⁻² d⁻¹]

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        Lowest and highest air temperature. [°C]
    vapour_pressure : array_like, shape (..., day)
        Vapour pressure. [kPa]
    clearness : array_like, shape (..., day)
        Radiation as a share of that under a cloudless sky; counts as 1 above 1. [1]
    """
    coldest, warmest = np.add(tmin, FAO_KELVIN), np.add(tmax, FAO_KELVIN)
    black_body = STEFAN_BOLTZMANN * (coldest**4 + warmest**4) / 2
    dry_air = 0.34 - 0.14 * np.sqrt(vapour_pressure)
    clear_sky = 1.35 * np.minimum(clearness, 1.0) - 0.35
    return black_body * dry_air * clear_sky


def net_radiation(tmin, tmax, vapour_pressure, radiation, clear_sky):
    """Radiation that the reference grass keeps, FAO-56 eq. 40. [MJ m⁻² d⁻¹]

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        Lowest and highest air temperature. [°C]
    vapour_pressure : array_like, shape (..., day)
        Vapour pressure. [kPa]
    radiation, clear_sky : array_like, shape (..., day)
        Radiation at the ground, and what a cloudless sky would give. [MJ m⁻² d⁻¹]
    """
    clearness = np.divide(radiation, clear_sky)
    return net_shortwave(radiation) - net_longwave(
        tmin, tmax, vapour_pressure, clearness
    )
