"""What a coat of straw takes: mass, bundles, spars, rods, hooks, loads."""

import numpy as np

from sheafwright.core.constants import GRAVITY

SQUARE = 9.290304
"""A square of roof, 100 square feet. [m²]"""
FOOT = 0.3048
"""[m]"""
HUNDREDWEIGHT = 50.80234544
"""112 pounds. [kg]"""


def squares(area):
    """Squares in an area. [1]

    Parameters
    ----------
    area : array_like
        [m²]
    """
    return np.divide(area, SQUARE)


def mass_per_area(bundles, bundle):
    """Straw on a square metre. [kg m⁻²]

    Parameters
    ----------
    bundles : array_like
        To the square. [1]
    bundle : array_like
        Mass of one. [kg]
    """
    return np.multiply(bundles, bundle) / SQUARE


def mass_per_length(bundles, bundle):
    """Straw on a metre of ridge. [kg m⁻¹]

    Parameters
    ----------
    bundles : array_like
        To the foot. [1]
    bundle : array_like
        Mass of one. [kg]
    """
    return np.multiply(bundles, bundle) / FOOT


def as_thick(mass, thickness, usual):
    """A rate of one thickness at another, packed alike. [kg m⁻²]

    Parameters
    ----------
    mass : array_like
        On a square metre at the usual thickness. [kg m⁻²]
    thickness, usual : array_like
        [m]
    """
    return np.multiply(mass, thickness) / usual


def density(mass, thickness):
    """Of the straw in a coat. [kg m⁻³]

    Parameters
    ----------
    mass : array_like
        On a square metre. [kg m⁻²]
    thickness : array_like
        [m]
    """
    return np.divide(mass, thickness)


def whole(much, each):
    """How many of one size make so much, the last perhaps not full. [1]

    Parameters
    ----------
    much, each : array_like
        In one unit.
    """
    # A hair more than a whole one is no reason to buy another.
    return np.ceil(np.divide(much, each) - 1e-9)


def pressure(mass):
    """Weight on a square metre of slope. [kN m⁻²]

    Parameters
    ----------
    mass : array_like
        [kg m⁻²]
    """
    return np.multiply(mass, GRAVITY) / 1000


def sways(area, spacing):
    """Rods across the rafters, end to end. [m]

    Parameters
    ----------
    area : array_like
        [m²]
    spacing : array_like
        Between courses, up the slope. [m]
    """
    return np.divide(area, spacing)


def hooks(sway, rafters):
    """One at each rafter that a sway crosses. [1]

    Parameters
    ----------
    sway : array_like
        Length of all of them. [m]
    rafters : array_like
        From middle to middle. [m]
    """
    return np.divide(sway, rafters)
