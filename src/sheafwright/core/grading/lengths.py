"""How long straw may be said to be, of stems that are not alike."""

import numpy as np


def reached_by(length, share):
    """Length that a share of the stems reach.

    Parameters
    ----------
    length : array_like, shape (stem,)
        Of each. [mm]
    share : float
        [0–1]

    Returns
    -------
    float
        [mm]
    """
    return float(np.quantile(np.asarray(length, dtype=float), 1.0 - share))
