"""Which stems keep a rule, each measured by itself."""

import numpy as np


def between(values, least, most):
    """1 where a value lies within its limits, 0 where not; NaN where it is missing.

    Parameters
    ----------
    values : array_like, shape (..., stem)
    least, most : float
        In the unit of `values`.
    """
    values = np.asarray(values, dtype=float)
    within = (values >= least) & (values <= most)
    return np.where(np.isnan(values), np.nan, within)


def keeps(length, butt, bends, damage, rule):
    """1 for a stem that keeps all of a rule, 0 for one that breaks any of it. [1]

    What wasn't measured of a stem is not held against it, but a stem of which nothing
    was measured is NaN.

    Parameters
    ----------
    length, butt : array_like, shape (..., stem)
        [mm]
    bends, damage : array_like, shape (..., stem)
        [1]
    rule : GradeRule
    """
    parts = np.stack(
        [
            between(length, rule.length_least, rule.length_most),
            between(butt, rule.butt_least, rule.butt_most),
            between(bends, 0, rule.bends_most),
            between(damage, 0, rule.damage_most),
        ]
    )
    breaks = (parts == 0).any(axis=0)
    return np.where(np.isnan(parts).all(axis=0), np.nan, ~breaks)


def by_bundle(kept, bundle):
    """Stems that keep the rule, and stems seen, of each bundle; (stem,) to (bundle,).

    Parameters
    ----------
    kept : array_like, shape (stem,)
        1, 0, or NaN for a stem that tells nothing.
    bundle : array_like of int, shape (stem,)

    Returns
    -------
    kept, seen : ndarray of float, shape (bundle,)
        In the order of the bundles' numbers; those that tell nothing are left out.
    """
    kept = np.asarray(kept, dtype=float)
    known = ~np.isnan(kept)
    _, index = np.unique(np.asarray(bundle)[known], return_inverse=True)
    seen = np.bincount(index).astype(float)
    return np.bincount(index, kept[known], minlength=seen.size), seen
