"""Marks for values that no weather could have, and short gaps bridged.

Every mark is False where a value is missing: what isn't there can't be wrong.
"""

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

SCALE_TO_DEVIATION = 1.4826
"""Standard deviation of a normal spread over its median absolute deviation. [1]"""


def runs(mask):
    """First position and length of each run of marked days: two of shape (run,).

    Parameters
    ----------
    mask : ndarray of bool, shape (day,)
    """
    edges = np.flatnonzero(np.diff(mask.astype(np.int8), prepend=0, append=0))
    return edges[::2], edges[1::2] - edges[::2]


def within_runs(mask, length):
    """Marked days that belong to a run of at least ``length``: (..., day) of bool.

    Parameters
    ----------
    mask : ndarray of bool, shape (..., day)
    length : int
        Fewest days of a run. [d]
    """
    if mask.shape[-1] < length:
        return np.zeros_like(mask)
    whole = sliding_window_view(mask, length, axis=-1).all(axis=-1)
    ends = [(0, 0)] * (mask.ndim - 1) + [(length - 1, length - 1)]
    return sliding_window_view(np.pad(whole, ends), length, axis=-1).any(axis=-1)


def outside_range(values, lowest, highest):
    """Values below the lowest or above the highest possible: (..., day) of bool."""
    return (values < lowest) | (values > highest)


def out_of_order(lower, upper):
    """Days on which what should be lower is higher: (..., day) of bool."""
    return np.greater(lower, upper)


def stuck(values, length):
    """Days of a run of one and the same value: (..., day) of bool.

    Parameters
    ----------
    values : ndarray, shape (..., day)
    length : int
        Days alike, at least two, from which an instrument is taken as stuck. [d]
    """
    unchanged = within_runs(np.diff(values, axis=-1) == 0, length - 1)
    nothing = np.zeros((*unchanged.shape[:-1], 1), dtype=bool)
    ends = np.concatenate([nothing, unchanged], axis=-1)
    starts = np.concatenate([unchanged, nothing], axis=-1)
    return ends | starts


def spikes(values, largest):
    """Days above both neighbours, or below both, by more than ``largest``."""
    step = np.diff(values, axis=-1)
    up, down = step > largest, step < -largest
    marked = np.zeros(values.shape, dtype=bool)
    there, back = (..., slice(None, -1)), (..., slice(1, None))
    marked[..., 1:-1] = (up[there] & down[back]) | (down[there] & up[back])
    return marked


def jumps(values, largest):
    """Days further from the day before than ``largest``: (..., day) of bool."""
    return np.abs(np.diff(values, axis=-1, prepend=np.nan)) > largest


def far_from_usual(values, month, limit, fewest_days):
    """Days far from what is usual in their own month: (day,) of bool.

    The median and its absolute deviation keep a stretch in another unit from hiding
    itself.

    Parameters
    ----------
    values : ndarray, shape (day,)
    month : ndarray of int, shape (day,)
        Month of the year of each day.
    limit : float
        Robust standard deviations from the median that are still believed. [1]
    fewest_days : int
        A month with fewer known days is not judged. [d]
    """
    marked = np.zeros(len(values), dtype=bool)
    for each in np.unique(month):
        days = values[month == each]
        if np.count_nonzero(~np.isnan(days)) >= fewest_days:
            distance = np.abs(days - np.nanmedian(days))
            spread = SCALE_TO_DEVIATION * np.nanmedian(distance)
            marked[month == each] = distance > limit * spread
    return marked


def unlike_own_month(totals, limit, fewest_years):
    """Monthly totals far from those of the same month in other years.

    Square roots make the spread of monthly rain about the same in every month and on
    either side, and the median and its absolute deviation keep the odd month from
    hiding itself.

    Parameters
    ----------
    totals : ndarray, shape (year, month)
        Rain. [mm month⁻¹]
    limit : float
        Robust standard deviations from the median that are still believed. [1]
    fewest_years : int
        A month on record in fewer years is not marked.

    Returns
    -------
    ndarray of bool, shape (year, month)
    """
    enough = (~np.isnan(totals)).sum(axis=0) >= fewest_years
    root = np.sqrt(totals[:, enough])
    if not root.size:
        return np.zeros(totals.shape, dtype=bool)
    distance = np.abs(root - np.nanmedian(root, axis=0))
    spread = SCALE_TO_DEVIATION * np.nanmedian(distance)
    marked = np.zeros(totals.shape, dtype=bool)
    marked[:, enough] = distance > limit * spread
    return marked


def seldom_rainless(totals, share):
    """Months without rain, where fewer than ``share`` of the years have none.

    Parameters
    ----------
    totals : ndarray, shape (year, month)
        Rain. [mm month⁻¹]
    share : float
        [0–1]

    Returns
    -------
    ndarray of bool, shape (year, month)
    """
    rainless = totals == 0
    years = np.maximum((~np.isnan(totals)).sum(axis=0), 1)
    return rainless & (rainless.sum(axis=0) < share * years)


def repeats_earlier(years):
    """Years that are the same as an earlier one, day for day: (year,) of bool.

    Parameters
    ----------
    years : ndarray, shape (year, day)
    """
    # np.unique takes two missing values in a row of a table as different.
    comparable = np.where(np.isnan(years), np.inf, years)
    _, earliest, which = np.unique(
        comparable, axis=0, return_index=True, return_inverse=True
    )
    return earliest[which] < np.arange(len(years))


def share_of_known(mask, values):
    """Marked values as a share of all that are known. [0–1]"""
    return mask.sum(axis=-1) / np.maximum((~np.isnan(values)).sum(axis=-1), 1)


def bridge_short_gaps(values, longest):
    """Values with each gap of up to ``longest`` days bridged by a straight line.

    Parameters
    ----------
    values : ndarray, shape (..., day)
    longest : int
        Longest gap that is bridged. [d]

    Returns
    -------
    ndarray, shape (..., day)
        Longer gaps, and those open at an end, stay missing.
    """
    missing = np.isnan(values)
    short = missing & ~within_runs(missing, longest + 1)
    return np.where(short, np.apply_along_axis(_straight_line, -1, values), values)


def _straight_line(values):
    day, known = np.arange(len(values)), ~np.isnan(values)
    if not known.any():
        return values
    return np.interp(day, day[known], values[known], left=np.nan, right=np.nan)
