"""Room in a rick or a barn bay: volume, its top's area, sheaves, and settling.

Ricks swell from base to eaves and draw in above; here their sides stand upright, so
what they hold is a little more than is said.
"""

import numpy as np


def round_plan(diameter):
    """Ground under a round rick. [m²]

    Parameters
    ----------
    diameter : array_like
        [m]
    """
    return np.pi * np.asarray(diameter, dtype=float) ** 2 / 4


def round_volume(diameter, eaves, top):
    """Volume of a round rick: a cylinder, and a cone upon it. [m³]

    Parameters
    ----------
    diameter : array_like
        [m]
    eaves : array_like
        Height of the eaves. [m]
    top : array_like
        Height of the peak above the eaves. [m]
    """
    return round_plan(diameter) * (eaves + np.asarray(top) / 3)


def hipped_ridge(length, width):
    """Ridge of a top that slopes alike on all four sides. [m]

    Parameters
    ----------
    length, width : array_like
        Of the base, the length no less than the width. [m]
    """
    return np.subtract(length, width)


def oblong_volume(length, width, eaves, top, ridge):
    """Volume of an oblong rick: a box, and a wedge upon it. [m³]

    Parameters
    ----------
    length, width : array_like
        Of the base. [m]
    eaves : array_like
        Height of the eaves. [m]
    top : array_like
        Height of the ridge above the eaves. [m]
    ridge : array_like
        Length of the ridge: that of the base between gables, `hipped_ridge` if hipped.
        [m]
    """
    box = np.multiply(length, width) * eaves
    return box + np.multiply(width, top) * (2 * np.asarray(length) + ridge) / 6


def slope_factor(rise, run):
    """Area of a slope over the ground that it covers. [1]

    Parameters
    ----------
    rise, run : array_like
        Up, and level. [m]
    """
    return np.hypot(1, np.divide(rise, run))


def settled_height(days, settling):
    """Height of a rick over its height as built. [0–1]

    Parameters
    ----------
    days : array_like
        Since it was built. [d]
    settling : Settling
    """
    return 1 + settling.share * np.expm1(-np.asarray(days) / settling.time_constant)


def days_to_settle(height, settling):
    """Days until a rick has sunk to a share of its height as built; inf for never. [d]

    Parameters
    ----------
    height : float
        Over that as built. [0–1]
    settling : Settling
    """
    left = 1 - (1 - height) / settling.share
    return -settling.time_constant * np.log(left) if left > 0 else np.inf


def sheaves_in(volume, density, sheaf):
    """Sheaves that a volume holds. [1]

    Parameters
    ----------
    volume : array_like
        [m³]
    density : array_like
        Of sheaves as they lie. [kg m⁻³]
    sheaf : array_like
        One sheaf. [kg]
    """
    return np.multiply(volume, density) / sheaf


def room_for(sheaves, density, sheaf):
    """Volume that sheaves take up. [m³]

    Parameters
    ----------
    sheaves : array_like
        [1]
    density : array_like
        Of sheaves as they lie. [kg m⁻³]
    sheaf : array_like
        One sheaf. [kg]
    """
    return np.multiply(sheaves, sheaf) / density
