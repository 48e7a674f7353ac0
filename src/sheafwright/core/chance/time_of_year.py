"""Which days of a record share a time of year."""

import numpy as np

DAYS = 366
"""Days of the year there are. [d]"""


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
    ends = np.cumsum(np.bincount(place, minlength=DAYS))
    on_day = np.split(counted[np.argsort(place, kind="stable")], ends[:-1])
    # The year is a circle: 366 and 1 are neighbours.
    apart = np.arange(-half_window, half_window + 1)
    around = (np.unique((day + apart) % DAYS) for day in range(DAYS))
    return [np.sort(np.concatenate([on_day[n] for n in near])) for near in around]
