"""A second opinion on development: smooth responses in place of straight lines.

Where the two schemes part by more than their own doubt, the year is outside what
either has been tried on.

References
----------
.. [1] E. Wang and T. Engel, Simulation of phenological development of wheat
   crops, Agricultural Systems 58, 1998, 1-24.
.. [2] N. A. Streck, A. Weiss and P. S. Baenziger, A generalized vernalization
   response function for winter wheat, Agronomy Journal 95, 2003, 155-159.
"""

import numpy as np

from sheafwright.core.crop.progress import first_day, sum_since
from sheafwright.core.crop.vernalisation import streck_factor
from sheafwright.core.weather.thermal_time import mean_over_parts


def shape_exponent(lowest, best, highest):
    """Exponent that puts the top of `temperature_response` at ``best``. [1]

    Parameters
    ----------
    lowest, best, highest : float
        Cardinal temperatures. [°C]
    """
    return np.log(2) / np.log((highest - lowest) / (best - lowest))


def temperature_response(temperature, lowest, best, highest):
    """Share of the highest rate at a temperature [1]_. [0–1]

    Parameters
    ----------
    temperature : array_like
        Air temperature. [°C]
    lowest, best, highest : float
        Cardinal temperatures. [°C]
    """
    above = np.clip(temperature, lowest, highest) - lowest
    x = (above / (best - lowest)) ** shape_exponent(lowest, best, highest)
    return x * (2 - x)


def day_length_response(day_length, critical, response):
    """Share of the highest rate at a day length [1]_. [0–1]

    Parameters
    ----------
    day_length : array_like
        Day length. [h]
    critical, response : float
        Day length below which the crop stands still [h], and how fast longer days
        hasten it [h⁻¹].
    """
    beyond = np.maximum(np.subtract(day_length, critical), 0.0)
    return 1 - np.exp(-response * beyond)


def flowering_and_hard_dough(tmin, tmax, day_length, emergence, scheme):
    """Flowering and hard dough, each (...). [day position]

    Cold acts by the smooth curve of [2]_, whose trials took in a parent of a
    thatching wheat, instead of the straight line of [1]_.

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        Lowest and highest air temperature. [°C]
    day_length : array_like, shape (..., day)
        Day length, sunrise taken as the sun's centre on the horizon. [h]
    emergence : array_like, shape (...)
        Day position of emergence.
    scheme : WangEngel
    """

    def warmth(temperatures):
        return mean_over_parts(
            lambda t: temperature_response(t, *temperatures), tmin, tmax
        )

    gathered = sum_since(warmth(scheme.vernal_temperatures), emergence)
    cold = streck_factor(gathered, scheme.vernal_half, scheme.vernal_power)
    light = day_length_response(
        day_length, scheme.critical_day_length, scheme.day_length_response
    )
    rate = scheme.vegetative_rate * warmth(scheme.vegetative_temperatures)
    flowering = first_day(sum_since(rate * light * cold, emergence) >= 1)
    rate = scheme.grain_rate * warmth(scheme.grain_temperatures)
    return flowering, first_day(sum_since(rate, flowering) >= 1)
