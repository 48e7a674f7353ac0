"""Progress that starts on its own day, is put right when the crop is seen, and arrives.

Days are positions on the last axis. A stage is reached at the end of a day, so the
next one is paid for from the day after.
"""

import numpy as np


def per_day(value):
    """A value over the leading axes, (...), made to broadcast over days, (..., 1)."""
    return np.asarray(value, dtype=float)[..., None]


def sum_since(rate, start):
    """Sum of a daily rate over the days after ``start``, (..., day).

    Zero on ``start`` itself, NaN before it, and NaN from a missing day on.

    Parameters
    ----------
    rate : array_like, shape (..., day)
        Daily rate, in any unit.
    start : array_like, shape (...)
        Day position; NaN where it is never reached.
    """
    day, start = np.arange(np.shape(rate)[-1]), per_day(start)
    total = np.where(day > start, rate, 0.0).cumsum(axis=-1)
    return np.where(day >= start, total, np.nan)


def first_day(reached):
    """First day on which something is so, (...); NaN if on none. [day position]

    Parameters
    ----------
    reached : array_like of bool, shape (..., day)
    """
    reached = np.asarray(reached)
    return np.where(reached.any(axis=-1), reached.argmax(axis=-1), np.nan)


def put_right(progress, rate, level, seen):
    """Progress restarted from the day on which the crop was seen at ``level``.

    Before that day it was short of the level, whatever had been predicted.

    Parameters
    ----------
    progress, rate : array_like, shape (..., day)
        Progress as predicted, and its daily rate.
    level : array_like, shape (...)
        Progress at the stage seen.
    seen : array_like, shape (...)
        Day position on which it was seen; NaN where it was not.
    """
    short = np.minimum(progress, per_day(np.nextafter(level, 0.0)))
    restarted = per_day(level) + sum_since(rate, seen)
    day, seen = np.arange(np.shape(rate)[-1]), per_day(seen)
    corrected = np.where(day >= seen, restarted, short)
    return np.where(np.isnan(seen), progress, corrected)
