"""Moisture of grain and straw in a stook, day by day, as a meter would find it.

The decision values stooks by the grain alone, at one equilibrium (see `stook`). Here
each follows the air of the day: on a dry day moisture, dry basis, nears its
equilibrium; on a wet day it gains. Dew takes its share of the day's evaporation before
the sheaf dries, and while water lies on the sheaves they are not carried [1]_.

Days are all there is: nothing is said of the hour at which the dew is off.

References
----------
.. [1] D. Crampin and C. Dalton, 1971, and J. J. Atzema, 1998, both in the Journal of
   Agricultural Engineering Research: the structure, from memory.
"""

import numpy as np

from sheafwright.core.drying.stook import AFTER_SOAKING, drying_rate
from sheafwright.core.moisture.basis import dry_basis, wet_basis
from sheafwright.core.weather.humidity import relative_humidity


def drying_air(tmin, tmax, vapour_pressure, warmth):
    """Air of the hours in which sheaves dry: humidity [0–1] and temperature [°C].

    A day's mean humidity counts the damp of the night, when nothing dries.

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        [°C]
    vapour_pressure : array_like, shape (..., day)
        Of the day. [kPa]
    warmth : float
        How far those hours lie from the lowest to the highest temperature. [0–1]
    """
    temperature = tmin + warmth * np.subtract(tmax, tmin)
    humidity = relative_humidity(vapour_pressure, temperature)
    return np.minimum(humidity, 1.0), temperature


def equilibrium(curve, humidity, temperature, constants, dampest):
    """Moisture at which grain or straw settles in a day's air, wet basis. [0–1]

    Parameters
    ----------
    curve : callable
        A form of `sheafwright.core.moisture.equilibrium`.
    humidity, temperature : array_like, shape (..., day)
        Of the day. [0–1], [°C]
    constants : tuple of float
        The form's own.
    dampest : float
        Humidity up to which the curve holds; damper air is taken as this. [0–1]
    """
    return curve(np.minimum(humidity, dampest), temperature, constants)


def dew_falls(humidity, tmin, dewpoint, dew):
    """Whether dew lies in the morning: 1 yes, 0 no, NaN unknown, (..., day).

    It does after a damp night, and where the air cooled to its dewpoint. Either sign
    may be missing.

    Parameters
    ----------
    humidity : array_like, shape (..., day)
        The night's, or the day's mean where that is all there is. [0–1]
    tmin, dewpoint : array_like, shape (..., day)
        [°C]
    dew : Dew
    """
    cooled = np.subtract(dewpoint, tmin)
    dewy = (np.asarray(humidity) >= dew.dewy_humidity) | (cooled >= 0)
    unknown = np.isnan(humidity) & np.isnan(cooled)
    return np.where(unknown, np.nan, dewy)


def evaporation_left(evapotranspiration, dewy, dew):
    """Evaporation left to the sheaves when the dew is off, (..., day). [mm d⁻¹]

    Parameters
    ----------
    evapotranspiration : array_like, shape (..., day)
        [mm d⁻¹]
    dewy : array_like, shape (..., day)
        From `dew_falls`.
    dew : Dew
    """
    return np.maximum(evapotranspiration - np.multiply(dewy, dew.dew_mm), 0)


def water_lies(rain, evapotranspiration, dewy, drying, dew):
    """Whether water stays on the sheaves all day: 1, 0, or NaN unknown, (..., day).

    Parameters
    ----------
    rain : array_like, shape (..., day)
        The first day is that of cutting. [mm d⁻¹]
    evapotranspiration, dewy : array_like, shape (..., day)
        As in `evaporation_left`.
    drying : Drying
    dew : Dew
    """
    before, rain = _day_before(rain), np.asarray(rain, dtype=float)
    left = evaporation_left(evapotranspiration, dewy, dew)
    rained = rain >= drying.carrying_rain_mm
    rained |= before >= drying.carrying_rain_before_mm
    dewy_still = (np.asarray(dewy) == 1) & (left == 0)
    return np.where(np.isnan(rain + before + left), np.nan, rained | dewy_still)


def dried(moisture, equilibrium, pull):
    """Moisture, wet basis, after it has neared its equilibrium. [0–1]

    Parameters
    ----------
    moisture, equilibrium : array_like
        Before, and that which it nears, wet basis. [0–1]
    pull : array_like
        Drying rate times time. [1]
    """
    dry = dry_basis(equilibrium)
    return wet_basis(dry + (dry_basis(moisture) - dry) * np.exp(-np.asarray(pull)))


def dry_days_needed(moisture, limit, equilibrium, rate):
    """Dry days until moisture falls to a limit: 0 if it has, inf if it never will. [d]

    Parameters
    ----------
    moisture, limit, equilibrium : array_like
        Wet basis. [0–1]
    rate : array_like
        Drying rate. [d⁻¹]
    """
    now, then, at_last = map(dry_basis, (moisture, limit, equilibrium))
    with np.errstate(divide="ignore", invalid="ignore"):
        days = np.log((now - at_last) / (then - at_last)) / rate
    never = (now > then) & (then <= at_last)
    return np.where(now <= then, 0.0, np.where(never, np.inf, days))


def moisture_by_day(rain, evapotranspiration, dewy, equilibrium, drying, dew):
    """Moisture of grain or straw at the end of each day, wet basis, (..., day). [0–1]

    The first day is that of cutting. From a day without weather on it is NaN.

    Parameters
    ----------
    rain, evapotranspiration : array_like, shape (..., day)
        [mm d⁻¹]
    dewy : array_like, shape (..., day)
        From `dew_falls`.
    equilibrium : array_like, shape (..., day)
        Of that day's air, wet basis. [0–1]
    drying : Drying
        Of the grain or of the straw; its rate may be an array (..., 1).
    dew : Dew
    """
    rain = np.asarray(rain, dtype=float)
    wet = rain >= drying.wet_day_mm
    soaked = np.where(_day_before(rain) >= drying.soaking_mm, AFTER_SOAKING, 1.0)
    left = evaporation_left(evapotranspiration, dewy, dew)
    pull = np.where(wet, 0.0, soaked) * drying_rate(left, drying)
    gain = np.where(np.isnan(rain), np.nan, wet * drying.wet_day_gain_dry_basis)
    pull, gain, equilibrium = np.broadcast_arrays(pull, gain, equilibrium)
    moisture = np.empty(pull.shape)
    moisture[..., 0] = drying.at_cutting
    for day in range(1, moisture.shape[-1]):
        nearer = dried(moisture[..., day - 1], equilibrium[..., day], pull[..., day])
        moisture[..., day] = wet_basis(dry_basis(nearer) + gain[..., day])
    return moisture


def fit_to_carry(grain, straw, water_lies, grain_limit, straw_limit):
    """Whether the sheaves may be carried: 1, 0, or NaN unknown, (..., day).

    Parameters
    ----------
    grain, straw : array_like, shape (..., day)
        Moisture, wet basis. [0–1]
    water_lies : array_like, shape (..., day)
        From `water_lies`.
    grain_limit, straw_limit : float
        Moisture at or below which each may be carried, wet basis. [0–1]
    """
    fit = (grain <= grain_limit) & (straw <= straw_limit) & (water_lies == 0)
    return np.where(np.isnan(grain + straw + water_lies), np.nan, fit)


def _day_before(rain):
    """Rain of the day before; the first day stands before itself, as at cutting."""
    rain = np.asarray(rain, dtype=float)
    return np.concatenate([rain[..., :1], rain[..., :-1]], axis=-1)
