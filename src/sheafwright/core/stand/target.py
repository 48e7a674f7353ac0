"""How many plants to aim for, and what share of the seed will make one."""

import numpy as np


def by_date(days, table):
    """A value on a day: straight lines between the table's days, held beyond them.

    Parameters
    ----------
    days : array_like
        After 30 September. [d]
    table : ByDate
    """
    return np.interp(days, table.days, table.values)


def target_plants(optimum, factor, most):
    """Plants to aim for, never more than will stand. [m⁻²]

    Parameters
    ----------
    optimum : array_like
        Plants that yield best for their seed. [m⁻²]
    factor : array_like
        For the purpose and the tillering: above 1 for finer stems. [1]
    most : array_like
        Beyond which a tall wheat is apt to lodge. [m⁻²]
    """
    return np.minimum(np.asarray(optimum, dtype=float) * factor, most)


def share_established(usual, shares):
    """Share of seed that makes a plant, where several things change it. [0–1]

    Each share was found with all else usual; what it does to the odds is done to the
    odds of the others too, so the outcome never leaves 0 to 1.

    Parameters
    ----------
    usual : float
        Share with all as usual. [0–1]
    shares : array_like, shape (..., cause)
        Share under each cause alone. [0–1]
    """
    shares = np.asarray(shares, dtype=float)
    odds = usual / (1 - usual)
    odds = odds * np.prod(shares / (1 - shares) / odds, axis=-1)
    return odds / (1 + odds)
