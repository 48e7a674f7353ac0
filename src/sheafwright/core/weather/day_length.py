"""Day length as the crop sees it (Forsythe et al. 1995).

This is the day length of the development model. The daylight hours that the
radiation equations need follow a simpler declination and live in ``radiation``;
the two differ by up to a quarter of an hour in autumn, so one never stands in for
the other.

References
----------
.. [1] W. C. Forsythe, E. J. Rykiel, R. S. Stahl, H. Wu and R. M. Schoolfield, A
   model comparison for daylength as a function of latitude and day of year,
   Ecological Modelling 80, 1995, 87-95.
"""

import numpy as np

from sheafwright.core.constants import DAYS_PER_YEAR, HOURS_PER_DAY

AXIAL_TILT_SINE = 0.39795


def solar_declination(day_of_year):
    """Declination of the sun on the eccentric orbit. [rad]

    Parameters
    ----------
    day_of_year : array_like, shape (day,)
        1 to 366; the 366th counts as the first.
    """
    day = (np.asarray(day_of_year, dtype=float) - 1) % DAYS_PER_YEAR + 1
    along_orbit = 2 * np.arctan(0.9671396 * np.tan(0.00860 * (day - 186)))
    return np.arcsin(AXIAL_TILT_SINE * np.cos(0.2163108 + along_orbit))


def day_length(latitude, day_of_year, sun_depression=0.0):
    """Time for which the sun stands above a given depression. [h]

    Parameters
    ----------
    latitude : array_like, broadcast against `day_of_year`
        North positive. [°]
    day_of_year : array_like, shape (day,)
        1 to 366.
    sun_depression : float
        Angle of the sun's centre below the horizon at which the day begins: 0
        at the horizon, 0.8333 at sunrise with refraction, 6 in civil twilight. [°]
    """
    north = np.radians(latitude)
    declination = solar_declination(day_of_year)
    depth = np.sin(np.radians(sun_depression))
    lift = (depth + np.sin(north) * np.sin(declination)) / (
        np.cos(north) * np.cos(declination)
    )
    # Beyond ±1 the sun doesn't cross that depression: no day, or no night.
    return HOURS_PER_DAY * (1 - np.arccos(np.clip(lift, -1, 1)) / np.pi)
