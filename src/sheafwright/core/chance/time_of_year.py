"""Which days of a record share a time of year."""

import numpy as np

DAYS = 366
"""Days of the year there are. [d]"""


def days_after(day_of_year, other):
    """Days from another day of the year, the shorter way round; below 0 before it. [d]

    Parameters
    ----------
    day_of_year, other : array_like
        1 to 366; one past either end is the next year's, or the last one's.
    """
    # The year is a circle: 366 and 1 are neighbours.
    half = DAYS // 2
    return (np.subtract(day_of_year, other) + half) % DAYS - half


def days_around(day_of_year, counted, half_window):
    """Positions of the days counted near each day of the year: a list of 366.

    Parameters
    ----------
    day_of_year : array_like of int, shape (day,)
        1 to 366.
    counted : array_like of bool, shape (day,)
        Days that count.
    half_window : int
        Days on each side that share a time of year. [d]
    """
    counted = np.flatnonzero(counted)
    place = np.asarray(day_of_year)[counted] - 1
    # The year is a circle, 366 and 1 are neighbours: three years in a line hold every
    # day with all that lies around it.
    line = np.tile(counted[np.argsort(place, kind="stable")], 3)
    ends = np.cumsum(np.tile(np.bincount(place, minlength=DAYS), 3))
    reach = min(half_window, DAYS // 2)
    first = ends[DAYS - reach - 1 : 2 * DAYS - reach - 1]
    last = np.minimum(ends[DAYS + reach : 2 * DAYS + reach], first + len(counted))
    return [line[slice(*each)] for each in zip(first, last, strict=True)]
