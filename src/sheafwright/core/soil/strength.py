"""How firmly wet or dry ground holds a root: topsoil wetness and shear strength.

References
----------
.. [1] P. M. Berry, M. Sterling, C. J. Baker, J. Spink and D. L. Sparkes, A calibrated
   model of wheat lodging compared with field measurements, Agricultural and Forest
   Meteorology 119, 2003, 167-180.
"""

import numpy as np


def topsoil_capacity(rooting_depth, available_water):
    """Rain that wets the ground about the roots from dry to full. [mm]

    Parameters
    ----------
    rooting_depth : array_like
        Depth of the roots that hold the plant up. [mm]
    available_water : array_like
        Water by volume at field capacity less that at wilting point. [0–1]
    """
    return np.multiply(rooting_depth, available_water)


def topsoil_wetness(rain, evapotranspiration, capacity):
    """Share of its capacity that the topsoil holds as each day's gusts come. [0–1]

    The day's rain counts in full, and what the topsoil cannot hold runs through. Until
    the next day it dries by the air's demand, less as it empties. From dry ground one
    day's rain gives the published min(1, rain / capacity). [1]_

    Parameters
    ----------
    rain, evapotranspiration : array_like, shape (..., day)
        [mm d⁻¹]
    capacity : array_like, shape (...)
        From `topsoil_capacity`; the ground is dry before the first day. [mm]
    """
    capacity = np.asarray(capacity, dtype=float)[..., np.newaxis]
    wetting, kept = np.broadcast_arrays(
        np.divide(rain, capacity), np.exp(-np.divide(evapotranspiration, capacity))
    )
    wetness, left = np.empty(wetting.shape), 0.0
    for day in range(wetness.shape[-1]):
        wetness[..., day] = np.minimum(left + wetting[..., day], 1.0)
        left = wetness[..., day] * kept[..., day]
    return wetness


def shear_strength(wetness, dry, wet):
    """Shear strength of the topsoil, straight between dry and wet. [unit of both] [1]_

    Parameters
    ----------
    wetness : array_like
        From `topsoil_wetness`. [0–1]
    dry, wet : array_like
        Strength of dry and of full topsoil, in one unit.
    """
    dry = np.asarray(dry, dtype=float)
    return dry - (dry - wet) * np.minimum(wetness, 1.0)
