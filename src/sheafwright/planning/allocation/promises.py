"""On which day each order is filled, season by season."""

import numpy as np

NEVER = np.inf
CRUMB = 1e-6
"""[kg]"""


def seasons(bands, dates, yields=20, days=10):
    """Equally likely seasons of lots that are to come.

    A poor season is poor for every lot: no record of how fields differ is drawn on.
    Yields and days are taken apart from one another.

    Parameters
    ----------
    bands : array_like, shape (lot, 3)
        Of which 10, 50 and 90 % come to no more. [kg]
    dates : array_like, shape (lot, 3)
        Days by which 10, 50 and 90 % are ready. [d]

    Returns
    -------
    kg, ready : ndarray, shape (lot, season)
    """
    kg = np.maximum(_spread(bands, yields), 0.0)
    ready = _spread(dates, days)
    return np.repeat(kg, days, axis=-1), np.tile(ready, (1, yields))


def _spread(bands, n):
    """Values at evenly spaced chances, straight on beyond the outer two."""
    low, middle, high = np.asarray(bands, dtype=float).reshape(-1, 3).T[..., np.newaxis]
    at = (np.arange(n) + 0.5) / n
    below = middle + (at - 0.5) / 0.4 * (middle - low)
    above = middle + (at - 0.5) / 0.4 * (high - middle)
    return np.where(at < 0.5, below, above)


def filled_on(wants, given, kg, ready, fit):
    """Day on which each order has all that it wants; never where it hasn't. [d]

    Each takes first what it is allotted, in the order of the wants, and then, of what
    nobody else is allotted, what suits it and is ready first.

    Parameters
    ----------
    wants : sequence of float
        [kg]
    given : array_like, shape (want, lot)
        [kg]
    kg, ready : array_like, shape (lot, season)
        [kg], [d]
    fit : array_like of bool, shape (want, lot)
        Lots that may make up what is lacking.

    Returns
    -------
    ndarray, shape (want, season)
    """
    left = np.array(kg, dtype=float)
    wanted = np.asarray(wants, dtype=float)
    short = np.repeat(wanted[:, np.newaxis], left.shape[-1], axis=-1)
    day = np.full_like(short, -np.inf)
    for want in range(len(wanted)):
        for lot in np.flatnonzero(given[want]):
            _take(want, lot, given[want][lot], left, short, day, ready)
    for want in range(len(wanted)):
        lots = np.flatnonzero(fit[want])
        for lot in lots[np.argsort(ready[lots].mean(axis=-1), kind="stable")]:
            _take(want, lot, np.inf, left, short, day, ready)
    return np.where(short > CRUMB, NEVER, day)


def _take(want, lot, most, left, short, day, ready):
    """So much of a lot as there is, in every season at once."""
    took = np.minimum(np.minimum(left[lot], short[want]), most)
    left[lot] -= took
    short[want] -= took
    day[want] = np.where(took > CRUMB, np.maximum(day[want], ready[lot]), day[want])
