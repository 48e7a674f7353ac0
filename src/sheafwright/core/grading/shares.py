"""How large a share of a lot's stems keeps the rule, when a few bundles were looked at.

Stems of one bundle grew side by side and share their luck. So each bundle has a share
of its own, and those shares scatter about the lot's as a beta distribution [1]_ does:
its mean is the lot's share, and its width is said by the correlation of two stems of
one bundle. Both are worked out together on a grid, so that no draw is needed.

References
----------
.. [1] J. G. Skellam, A probability distribution derived from the binomial distribution
   by regarding the probability of success as variable between the sets of trials,
   Journal of the Royal Statistical Society B 10:257-261, 1948.
.. [2] H. Jeffreys, Theory of Probability, 3rd ed., 1961, section 3.10.
"""

from typing import NamedTuple

import numpy as np

from sheafwright.core.chance.weights import from_logs

SHARES, CORRELATIONS = 400, 24
"""Points of the grid."""


class Belief(NamedTuple):
    """What is known of a lot's share."""

    share: np.ndarray
    """Middles of the grid's cells, shape (share, 1). [0–1]"""
    alike: np.ndarray
    """Correlation of two stems of a bundle, shape (1, alike). [0–1]"""
    weight: np.ndarray
    """Of each pair, in all 1; shape (share, alike)."""


def jeffreys_interval(kept, seen, confidence):
    """Low and high of a share, stems being alike but for chance [2]_. [0–1]

    Parameters
    ----------
    kept, seen : array_like
        Stems. [1]
    confidence : float
        That the interval holds the true share. [0–1]
    """
    from scipy.special import betaincinv

    kept, tail = np.asarray(kept, dtype=float), (1 - confidence) / 2
    broke = np.asarray(seen) - kept
    low = betaincinv(kept + 0.5, broke + 0.5, tail)
    high = betaincinv(kept + 0.5, broke + 0.5, 1 - tail)
    # Where all or none keep the rule, the share may be just that.
    return np.where(kept > 0, low, 0.0), np.where(broke > 0, high, 1.0)


def grid(alike):
    """Shares and correlations that weigh the same before a stem is seen.

    Parameters
    ----------
    alike : float
        The correlation's mean then. [0–1]
    """
    # Jeffreys' prior of a share is even in this angle.
    angles = (np.arange(SHARES) + 0.5) / SHARES * np.pi / 2
    ranks = (np.arange(CORRELATIONS) + 0.5) / CORRELATIONS
    # Beta(1, b) has this mean, and this inverse.
    b = 1 / alike - 1
    return np.sin(angles)[:, None] ** 2, 1 - (1 - ranks[None, :]) ** (1 / b)


def log_chance(kept, seen, share, alike):
    """Log chance that a bundle gives so many of those seen, less a constant. [1]

    Parameters
    ----------
    kept, seen : array_like
        Stems; a part of one is taken, too. [1]
    share, alike : array_like
        The lot's share, and the correlation of two stems of a bundle. [0–1]
    """
    from scipy.special import betaln

    kept, seen = np.asarray(kept, dtype=float), np.asarray(seen, dtype=float)
    spread, share = 1 / np.asarray(alike, dtype=float) - 1, np.asarray(share)
    a, b = share * spread, (1 - share) * spread
    return betaln(kept + a, seen - kept + b) - betaln(a, b)


def belief(kept, seen, alike):
    """`Belief` about the lot, from its bundles.

    Parameters
    ----------
    kept, seen : array_like, shape (bundle,)
        Stems of each bundle. [1]
    alike : float
        Mean correlation of two stems of a bundle, before any is seen. [0–1]
    """
    shares, correlations = grid(alike)
    kept, seen = (np.asarray(each)[:, None, None] for each in (kept, seen))
    each = log_chance(kept, seen, shares, correlations)
    return Belief(shares, correlations, from_logs(each.sum(axis=0)))


def chance_at_least(weight, share):
    """Chance that the lot's share is so large, or larger. [0–1]

    Parameters
    ----------
    weight : array_like, shape (..., share, alike)
        Of a `Belief`.
    share : float
        [0–1]
    """
    by_share = np.asarray(weight).sum(axis=-1)
    # A cell that the share lies in counts by the part above it.
    edge = np.arcsin(np.sqrt(share)) / (np.pi / 2) * SHARES
    above = np.clip(np.arange(1, SHARES + 1) - edge, 0, 1)
    return np.minimum((by_share * above).sum(axis=-1), 1.0)


def share_interval(weight, confidence):
    """Low and high of the lot's share, as the belief has it. [0–1]

    Parameters
    ----------
    weight : array_like, shape (share, alike)
        Of a `Belief`.
    confidence : float
        [0–1]
    """
    risen = np.concatenate([[0.0], np.cumsum(np.sum(weight, axis=-1))])
    angles = np.linspace(0, np.pi / 2, SHARES + 1)
    tail = (1 - confidence) / 2
    return np.sin(np.interp([tail, 1 - tail], risen, angles)) ** 2


def after_more(held, kept, seen, most):
    """Weights of a `Belief` after 0 to ``most`` further bundles that turn out alike.

    Parameters
    ----------
    held : Belief
    kept, seen : float
        Stems of each further bundle. [1]
    most : int

    Returns
    -------
    ndarray, shape (most + 1, share, alike)
    """
    each = log_chance(kept, seen, held.share, held.alike)
    # A pair that is already out of the question stays so.
    so_far = np.log(np.maximum(held.weight, 1e-300))
    with_more = so_far + np.arange(most + 1)[:, None, None] * each
    return from_logs(with_more, axis=(-2, -1))
