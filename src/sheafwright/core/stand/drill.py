"""A tray test: what the drill gives, how sure that is, and where to set it."""

import numpy as np

from sheafwright.core.constants import SQUARE_METRES_PER_HECTARE
from sheafwright.core.stand.germination import Interval

MOST_CATCHES = 1000


def distance_run(circumference, turns):
    """Distance that the land wheel would have gone. [m]

    Parameters
    ----------
    circumference : array_like
        Of the wheel, loaded. [m]
    turns : array_like
        [1]
    """
    return np.asarray(circumference, dtype=float) * turns


def delivered(caught, distance, width):
    """What the drill sows. [kg ha⁻¹]

    Parameters
    ----------
    caught : array_like, shape (..., catch)
        Mass in the trays. [kg]
    distance : array_like
        Run while it was caught. [m]
    width : array_like
        Sown by the coulters whose seed was caught. [m]
    """
    area = np.asarray(distance, dtype=float) * width
    return SQUARE_METRES_PER_HECTARE * np.asarray(caught, dtype=float) / area


def spread_of(values):
    """Standard deviation over the mean. [1]

    Parameters
    ----------
    values : array_like, shape (..., catch)
        Two or more.
    """
    return np.std(values, axis=-1, ddof=1) / np.mean(values, axis=-1)


def student_interval(values, confidence):
    """`Interval` of the true mean of values that scatter evenly.

    Parameters
    ----------
    values : array_like, shape (..., value)
        Two or more.
    confidence : float
        That the interval holds the true mean. [0–1]

    References
    ----------
    .. [1] Student, The probable error of a mean, Biometrika 6:1-25, 1908.
    """
    from scipy.special import stdtrit

    number = np.shape(values)[-1]
    t = stdtrit(number - 1, (1 + confidence) / 2)
    half = t * np.std(values, axis=-1, ddof=1) / np.sqrt(number)
    return Interval(np.mean(values, axis=-1) - half, np.mean(values, axis=-1) + half)


def catches_wanted(spread, within, confidence):
    """Fewest catches whose interval is so narrow; NaN for over ``MOST_CATCHES``. [1]

    Student's t falls with each catch, so the number stands on both sides; it is found
    by trying every one.

    Parameters
    ----------
    spread : array_like
        Standard deviation over the mean. [1]
    within : float
        Half the interval over the mean. [1]
    confidence : float
        That the interval holds the true mean. [0–1]
    """
    from scipy.special import stdtrit

    number = np.arange(2, MOST_CATCHES + 1)
    half = stdtrit(number - 1, (1 + confidence) / 2) / np.sqrt(number)
    narrow = half * np.asarray(spread, dtype=float)[..., None] <= within
    return np.where(narrow.any(axis=-1), number[narrow.argmax(axis=-1)], np.nan)


def setting_in_proportion(setting, rate, wanted):
    """Setting that sows what is wanted, if nothing is sown at 0. [of the drill]

    Parameters
    ----------
    setting : array_like
        That was tested. [of the drill]
    rate, wanted : array_like
        What it gave; what it should. [kg ha⁻¹]
    """
    return np.asarray(setting, dtype=float) * wanted / rate


def setting_between(settings, rates, wanted):
    """Setting on the straight line through two that were tested. [of the drill]

    Parameters
    ----------
    settings : array_like, shape (2,)
        [of the drill]
    rates : array_like, shape (2,)
        What each gave, not the same. [kg ha⁻¹]
    wanted : array_like
        [kg ha⁻¹]
    """
    (first, second), (low, high) = settings, rates
    return first + (np.asarray(wanted) - low) * (second - first) / (high - low)
