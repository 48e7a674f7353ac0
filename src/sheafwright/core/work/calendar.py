"""Work laid out over the weeks of a year."""

import numpy as np


def by_week(hours, begins, ends, n_weeks):
    """Hours of each task in each week, evenly over its own days, (task, week). [h]

    Parameters
    ----------
    hours : array_like, shape (task,)
        [h]
    begins, ends : array_like, shape (task,)
        First day and the day after the last, counted from the first week's first. [d]
    n_weeks : int
        What falls outside of these weeks is left out.
    """
    hours, begins, ends = (np.asarray(x, dtype=float) for x in (hours, begins, ends))
    edges = 7.0 * np.arange(n_weeks + 1)
    # How much of each task is done by each edge; a week's is what comes between two.
    days = (ends - begins)[:, np.newaxis]
    done = np.clip((edges - begins[:, np.newaxis]) / days, 0, 1)
    return hours[:, np.newaxis] * np.diff(done, axis=-1)
