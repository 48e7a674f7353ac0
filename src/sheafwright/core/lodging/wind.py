"""The gust that a crop's top feels, from what the station wrote down."""

from typing import NamedTuple

import numpy as np

from sheafwright.core.weather.wind import gust_factor, wind_at_crop_top


class GustLine(NamedTuple):
    """A day's strongest gust from its mean wind: ln gust = at_one + slope · ln wind."""

    at_one: float
    """Logarithm of the gust on a day of 1 m s⁻¹. [1]"""
    slope: float
    """[1]"""
    sd: float
    """Standard deviation of ln gust about the line. [1]"""


def gust_at_crop(gust, height, mast_gust_factor, turbulence, peak_factor, blending):
    """Strongest gust at the top of a crop, from that at the mast. [m s⁻¹]

    Only the mean wind is carried from one ground to another: the mast's gust is brought
    down to its mean, and the crop's mean up to its own gust.

    Parameters
    ----------
    gust : array_like
        Strongest of the day at 10 m over grass. [m s⁻¹]
    height : array_like
        Of the crop. [m]
    mast_gust_factor : array_like
        Gust over the hour's mean at the mast. [1]
    turbulence, peak_factor : array_like
        Of the wind at the top of the crop, as `gust_factor` takes them. [1]
    blending : array_like
        Height at which the wind forgets what grows below. [m]
    """
    mean = wind_at_crop_top(np.divide(gust, mast_gust_factor), height, blending)
    return mean * gust_factor(turbulence, peak_factor)


def gust_line(wind, gust):
    """`GustLine` of a station, from the days that have both.

    Parameters
    ----------
    wind, gust : array_like, shape (day,)
        Mean wind and strongest gust; NaN where not measured. [m s⁻¹]
    """
    with np.errstate(divide="ignore"):
        x, y = np.log(wind), np.log(gust)
    both = np.isfinite(x) & np.isfinite(y)
    slope, at_one = np.polyfit(x[both], y[both], 1)
    away = y[both] - at_one - slope * x[both]
    return GustLine(float(at_one), float(slope), float(away.std()))


def gust_from_wind(wind, line):
    """Middle of what a day's strongest gust may be, from its mean wind. [m s⁻¹]

    Parameters
    ----------
    wind : array_like, shape (day,)
        [m s⁻¹]
    line : GustLine
    """
    return np.exp(line.at_one) * np.power(wind, line.slope)
