"""Days like this one: the record's nearest days in state and time of year."""

import numpy as np

from sheafwright.core.chance.time_of_year import days_around


def nearest_days(state, day_of_year, wanted, half_window, size):
    """The nearest days of each wanted day, nearest first: (day, size) of int32.

    Every day's nearest is itself. Days whose state is not known are nobody's
    neighbours; -1 fills what is short, and days not wanted.

    Parameters
    ----------
    state : array_like, shape (day, variable)
        The day's weather, scaled so that distances mean likeness. [1]
    day_of_year : array_like, shape (day,)
        1 to 366.
    wanted : array_like of bool, shape (day,)
        Days whose neighbours are asked for.
    half_window : int
        Neighbours lie within so many days of the time of year. [d]
    size : int
        Neighbours to each day.
    """
    state, day_of_year = np.asarray(state, dtype=float), np.asarray(day_of_year)
    known = ~np.isnan(state).any(axis=-1)
    around = days_around(day_of_year, known, half_window)
    nearest = np.full((len(state), size), -1, dtype=np.int32)
    for day in np.unique(day_of_year[wanted & known]):
        asking = np.flatnonzero(wanted & known & (day_of_year == day))
        asked = around[day - 1]
        few = min(size, asked.size)
        order = _nearest(state[asking], state[asked], few)
        nearest[asking, :few] = asked[order]
    return nearest


def _nearest(here, there, few):
    """Positions in ``there`` of the nearest few to each of ``here``, in order."""
    # Not by a product of matrices: its threads cost more than so small a sum, and many
    # times more where other work keeps the cores busy.
    alike = np.einsum("va,vb->ab", here.T.copy(), there.T.copy())
    # Half the squared distance, less what is the same for all of ``there``.
    distance = 0.5 * np.sum(there**2, axis=-1) - alike
    some = np.argpartition(distance, few - 1, axis=-1)[:, :few]
    order = np.argsort(np.take_along_axis(distance, some, axis=-1), axis=-1)
    return np.take_along_axis(some, order, axis=-1)
