"""What may be said of straw by stems that are not alike: a length, a mean."""

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


def bundle_means(values, bundle):
    """Mean of each bundle's stems, those that were measured.

    Stems of a bundle are alike, so that bundles, and not stems, tell how sure a mean
    is.

    Parameters
    ----------
    values : array_like, shape (stem,)
        NaN where a stem wasn't measured so.
    bundle : array_like of int, shape (stem,)
        Which one each is from.

    Returns
    -------
    ndarray, shape (bundle,)
        As the values; none of bundles of which none was.
    """
    values, bundle = np.asarray(values, dtype=float), np.asarray(bundle)
    known = np.isfinite(values)
    _, row = np.unique(bundle[known], return_inverse=True)
    return np.bincount(row, values[known]) / np.bincount(row)
