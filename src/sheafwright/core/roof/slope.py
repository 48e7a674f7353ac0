"""Factors of one pitch, by which a plan becomes a slope."""

import numpy as np


def run(pitch):
    """How far a slope runs level for each metre that it rises; 0 for a wall. [1]

    Parameters
    ----------
    pitch : array_like
        From the level; 90 for a wall. [°]
    """
    pitch = np.asarray(pitch, dtype=float)
    # The tangent of 90° is large but not endless.
    return np.where(pitch == 90, 0.0, 1 / np.tan(np.radians(pitch)))


def rise(pitch):
    """How far a slope rises for each metre that it runs level. [1]

    Parameters
    ----------
    pitch : array_like
        [°]
    """
    return np.tan(np.radians(pitch))


def area_factor(pitch):
    """Area of a slope over the plan below it; rafter over its level run. [1]

    Parameters
    ----------
    pitch : array_like
        [°]
    """
    return 1 / np.cos(np.radians(pitch))


def hip_factor(pitch):
    """Length of a hip or valley, at a right-angled corner, over the rafter's run. [1]

    Parameters
    ----------
    pitch : array_like
        Of both slopes. [°]
    """
    return np.sqrt(2 + rise(pitch) ** 2)


def pitch_of(up, along):
    """Pitch of a slope that rises ``up`` on a run of ``along``. [°]

    Parameters
    ----------
    up, along : array_like
        [m]
    """
    return np.degrees(np.arctan2(up, along))


def stem_slope(pitch, coat, stem):
    """Slope of the stems in a coat: each lies on the butts of the course below. [°]

    Parameters
    ----------
    pitch : array_like
        Of the rafters. [°]
    coat : array_like
        Thickness, square to the rafters. [m]
    stem : array_like
        Length. [m]
    """
    return pitch - np.degrees(np.arcsin(np.divide(coat, stem)))
