"""How long grain keeps in the ear, and the dry matter that it breathes away meanwhile.

Two clocks. One is wheat's own: days until one seed in twenty has died [1]_. The other
is shelled maize's, for want of wheat's: carbon dioxide given off in hours that are made
equal to those at 15.6 °C, 25 % of water and 30 % of broken grain [2]_.

References
----------
.. [1] B. M. Fraser and W. E. Muir, Airflow requirements predicted for drying grain
   with ambient and solar-heated air in Canada, Transactions of the ASAE 24:208-210,
   1981. From memory.
.. [2] ASAE Data X535, Shelled corn storage time for 0.5 % dry matter loss, after
   R. A. Saul and J. L. Steele, 1966.
"""

import numpy as np

from sheafwright.core.constants import HOURS_PER_DAY
from sheafwright.core.moisture.basis import dry_basis

CARBON_DIOXIDE = 1470.0
"""Given off by a kilogram of dry matter breathed away, as glucose. [g kg⁻¹]"""


def safe_days(moisture, temperature, life):
    """Days until one seed in twenty has died; NaN outside the equations. [d]

    Parameters
    ----------
    moisture : array_like
        Of the grain, wet basis. [0–1]
    temperature : array_like
        Of the grain. [°C]
    life : GrainLife
    """
    moisture = np.asarray(moisture, dtype=float)
    sets = np.where(moisture[..., np.newaxis] <= life.bend, life.dry, life.damp)
    a, b, c = np.moveaxis(sets, -1, 0)
    days = 10 ** (a - 100 * b * moisture - np.multiply(c, temperature))
    holds = (moisture >= life.driest) & (moisture <= life.dampest)
    return np.where(holds, days, np.nan)


def life_used(moisture, temperature, life):
    """Share of the grain's life that is over after each day. [1]

    Parameters
    ----------
    moisture : array_like
        Of the grain, wet basis; one, or (..., day). [0–1]
    temperature : array_like, shape (..., day)
        Of the grain. [°C]
    life : GrainLife
    """
    return np.cumsum(1 / safe_days(moisture, temperature, life), axis=-1)


def moisture_factor(moisture):
    """Times as long as at 25 % of water. [1]

    Parameters
    ----------
    moisture : array_like
        Of the grain, wet basis. [0–1]
    """
    percent = 100 * dry_basis(moisture)
    return 0.103 * (np.exp(455 / percent**1.53) - 0.00845 * percent + 1.558)


def temperature_factor(temperature):
    """Times as long as at 15.6 °C. [1]

    Above 19 % of water the standard adds to it where it is warm. That is left out: it
    would lengthen the time.

    Parameters
    ----------
    temperature : array_like
        Of the grain. [°C]
    """
    fahrenheit = 32 + 1.8 * np.asarray(temperature, dtype=float)
    cool = 128.389 * np.exp(-4.86 * fahrenheit / 60)
    return np.where(fahrenheit <= 60, cool, 32.3 * np.exp(-3.48 * fahrenheit / 60))


def damage_factor(damage):
    """Times as long as with 30 % of broken grain. [1]

    Parameters
    ----------
    damage : array_like
        Broken grain. [0–1]
    """
    return 2.08 * np.exp(-2.39 * np.asarray(damage))


def equal_hours(moisture, temperature, damage):
    """Hours of 15.6 °C, 25 % of water and 30 % of broken grain, by each day's end. [h]

    Parameters
    ----------
    moisture : array_like
        Of the grain, wet basis; one, or (..., day). [0–1]
    temperature : array_like, shape (..., day)
        Of the grain. [°C]
    damage : array_like
        Broken grain. [0–1]
    """
    as_long = moisture_factor(moisture) * damage_factor(damage)
    return np.cumsum(HOURS_PER_DAY / (as_long * temperature_factor(temperature)), -1)


def carbon_dioxide(hours):
    """Carbon dioxide given off per kilogram of dry matter. [g kg⁻¹]

    Parameters
    ----------
    hours : array_like
        From `equal_hours`. [h]
    """
    hours = np.asarray(hours, dtype=float)
    return 1.3 * np.expm1(0.006 * hours) + 0.015 * hours


def dry_matter_lost(hours):
    """Share of the dry matter breathed away. [0–1]

    Parameters
    ----------
    hours : array_like
        From `equal_hours`. [h]
    """
    return carbon_dioxide(hours) / CARBON_DIOXIDE
