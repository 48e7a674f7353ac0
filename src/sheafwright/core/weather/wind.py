"""Wind carried from the mast to other heights and over other crops.

Mast wind is at 10 m over short grass; evapotranspiration asks for 2 m over grass,
and standing straw feels the wind at its own height.

References
----------
.. [1] R. G. Allen, L. S. Pereira, D. Raes and M. Smith, Crop evapotranspiration,
   FAO Irrigation and Drainage Paper 56, 1998, eqs. 4 and 47.
"""

import numpy as np

MAST_HEIGHT = 10.0
"""Height of a station's anemometer. [m]"""

GRASS_HEIGHT = 0.12
"""Height of the grass about the mast, FAO-56's reference. [m]"""


def wind_at_two_metres(wind, height=MAST_HEIGHT):
    """Wind at 2 m over short grass, FAO-56 eq. 47. [m s⁻¹]

    Parameters
    ----------
    wind : array_like, shape (..., day)
        Mean wind at `height`. [m s⁻¹]
    height : float
        Height of the anemometer. [m]
    """
    return np.asarray(wind, dtype=float) * 4.87 / np.log(67.8 * height - 5.42)


def log_profile(height, crop_height):
    """Wind at a height over a crop, in friction velocities over von Kármán's constant.

    Only ratios of two values over one crop mean anything. Displacement is two
    thirds of the crop's height and roughness 0.123 of it, as in FAO-56. [1]

    Parameters
    ----------
    height, crop_height : array_like
        Heights above the ground. [m]
    """
    crop_height = np.asarray(crop_height, dtype=float)
    displacement, roughness = 2 / 3 * crop_height, 0.123 * crop_height
    return np.log((height - displacement) / roughness)


def wind_at_crop_top(wind, crop_height, blending_height):
    """Mean wind at the top of a tall crop, from a mast over grass. [m s⁻¹]

    The log profile over the grass is followed up to the height where the two
    surfaces are no longer told apart, and the crop's own profile down again.

    Parameters
    ----------
    wind : array_like, shape (..., day)
        Mean wind at 10 m over grass. [m s⁻¹]
    crop_height : array_like
        Height of the crop. [m]
    blending_height : float
        Height at which the wind forgets what grows below. [m]
    """
    up = log_profile(blending_height, GRASS_HEIGHT) / log_profile(
        MAST_HEIGHT, GRASS_HEIGHT
    )
    down = log_profile(crop_height, crop_height) / log_profile(
        blending_height, crop_height
    )
    return np.asarray(wind, dtype=float) * up * down


def gust_factor(turbulence_intensity, peak_factor):
    """Highest gust over mean wind at one point. [1]

    Parameters
    ----------
    turbulence_intensity : array_like
        Standard deviation of the wind over its mean. [1]
    peak_factor : array_like
        How many standard deviations the gust stands above the mean. [1]
    """
    return 1 + np.multiply(peak_factor, turbulence_intensity)
