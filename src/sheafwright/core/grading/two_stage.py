"""How many bundles to open, and how many stems to draw from each.

References
----------
.. [1] W. G. Cochran, Sampling Techniques, 3rd ed., 1977, chapter 10.
.. [2] G. W. Snedecor and W. G. Cochran, Statistical Methods, 7th ed., 1980,
   chapter 13: variance between and within groups.
"""

from typing import NamedTuple

import numpy as np

from sheafwright.core.chance.quantiles import normal_reach


class Spread(NamedTuple):
    """Variance by where it comes from; each shape (...)."""

    between: np.ndarray
    """Of the bundles' true means."""
    within: np.ndarray
    """Of stems of one bundle."""


def spread_of(values, bundle):
    """`Spread` of what was measured of stems, from an analysis of variance [2]_.

    Parameters
    ----------
    values : array_like, shape (stem,)
        None missing.
    bundle : array_like of int, shape (stem,)
        Two bundles or more, one of them with two stems or more.
    """
    values = np.asarray(values, dtype=float)
    _, index, seen = np.unique(bundle, return_inverse=True, return_counts=True)
    means = np.bincount(index, values) / seen
    n, groups = values.size, seen.size
    within = ((values - means[index]) ** 2).sum() / (n - groups)
    among = (seen * (means - values.mean()) ** 2).sum() / (groups - 1)
    # Stems of a bundle, where bundles gave unequally many.
    each = (n - (seen**2).sum() / n) / (groups - 1)
    return Spread(np.maximum((among - within) / each, 0.0), within)


def spread_of_share(share, alike):
    """`Spread` of stems that keep a rule or not. [1]

    Parameters
    ----------
    share : array_like
        That keep it. [0–1]
    alike : array_like
        Correlation of two stems of a bundle. [0–1]
    """
    whole = np.asarray(share) * (1 - np.asarray(share))
    return Spread(alike * whole, (1 - np.asarray(alike)) * whole)


def stems_each(spread, bundle_cost, stem_cost):
    """Stems from each bundle that tell the most for the cost [1]_. [1]

    Parameters
    ----------
    spread : Spread
        Between bundles more than 0.
    bundle_cost, stem_cost : array_like
        Of opening a bundle, and of looking at one stem; in one unit.
    """
    ratio = np.asarray(bundle_cost, dtype=float) / stem_cost
    return np.sqrt(ratio * spread.within / spread.between)


def variance_of_mean(spread, bundles, each, of_bundles=np.inf):
    """Variance of the mean of all stems looked at [1]_. [of the values, squared]

    Parameters
    ----------
    spread : Spread
    bundles, each : array_like
        Opened, and stems from each. [1]
    of_bundles : array_like
        In the lot. [1]
    """
    bundles = np.asarray(bundles, dtype=float)
    between = spread.between * (1 / bundles - 1 / np.asarray(of_bundles))
    return between + spread.within / (bundles * each)


def half_width(variance, confidence):
    """Half the interval that a mean of this variance leaves. [of the values]

    Parameters
    ----------
    variance : array_like
        [of the values, squared]
    confidence : float
        [0–1]
    """
    return normal_reach(confidence) * np.sqrt(variance)


def bundles_wanted(spread, each, half_width, confidence, of_bundles=np.inf):
    """Bundles to open so that the mean is known so nearly [1]_; not rounded. [1]

    Parameters
    ----------
    spread : Spread
    each : array_like
        Stems from each. [1]
    half_width : float
        Of the interval wanted. [of the values]
    confidence : float
        [0–1]
    of_bundles : array_like
        In the lot. [1]
    """
    z = normal_reach(confidence)
    wanted = (half_width / z) ** 2 + spread.between / np.asarray(of_bundles)
    return (spread.between + spread.within / each) / wanted


def numbers_to_pull(of_bundles, bundles, rng, opened=()):
    """Numbers of the bundles to open, in order, each as likely as the next. [1]

    Parameters
    ----------
    of_bundles, bundles : int
        In the lot, and to open.
    rng : numpy.random.Generator
    opened : array_like of int, optional
        Numbers of those that were opened already, which are left out.
    """
    left = np.setdiff1d(np.arange(1, of_bundles + 1), np.asarray(opened, dtype=int))
    return np.sort(rng.choice(left, size=min(bundles, left.size), replace=False))
