"""Taking or refusing a lot by its stems: how often good and bad lots pass.

By attributes a lot passes if no more than so many stems of a sample break the rule; by
variables, if their mean lies so many standard deviations within a limit.

References
----------
.. [1] MIL-STD-105E, Sampling Procedures and Tables for Inspection by Attributes, 1989.
.. [2] G. J. Lieberman and G. J. Resnikoff, Sampling plans for inspection by variables,
   Journal of the American Statistical Association 50:457-516, 1955: the ground of
   MIL-STD-414.
"""

from typing import NamedTuple

import numpy as np

from sheafwright.core.grading.shares import log_chance

MOST = 2000
"""Stems of the largest plan that is looked for."""
TINY = 1e-12
"""Share of broken stems, below which all are taken as whole."""


class Plan(NamedTuple):
    """A plan of one sample."""

    stems: int
    """To look at."""
    limit: float
    """Stems that may break the rule; or standard deviations to the limit."""


def passes_by_count(broken, stems, allowed):
    """Chance that a large lot passes by attributes. [0–1]

    Parameters
    ----------
    broken : array_like
        Share of the lot's stems that break the rule. [0–1]
    stems, allowed : array_like of int
        Looked at, and of these the most that may break it. [1]
    """
    from scipy.special import bdtr

    return bdtr(np.asarray(allowed, dtype=float), stems, broken)


def passes_from_lot(broken, lot, stems, allowed):
    """Chance that a small lot passes by attributes, none being drawn twice. [0–1]

    Parameters
    ----------
    broken, lot : int
        Of the lot: those that break the rule, and all. [1]
    stems, allowed : int
        Looked at, and of these the most that may break it. [1]
    """
    least = max(0, stems - (lot - broken))
    found = np.arange(least, min(allowed, broken, stems) + 1)
    ways = _log_ways(broken, found) + _log_ways(lot - broken, stems - found)
    return np.exp(ways - _log_ways(lot, stems)).sum()


def _log_ways(of, choose):
    """Log of in how many ways so many can be chosen."""
    from scipy.special import gammaln

    of, choose = np.asarray(of, dtype=float), np.asarray(choose, dtype=float)
    return gammaln(of + 1) - gammaln(choose + 1) - gammaln(of - choose + 1)


def passes_in_bundles(broken, bundles, each, alike):
    """Chance that no more than 0, 1, ... stems break the rule, drawn by bundles. [0–1]

    Parameters
    ----------
    broken : float
        Share of the lot's stems that break the rule, more than none of them. [0–1]
    bundles, each : int
        Opened, and stems from each. [1]
    alike : float
        Correlation of two stems of a bundle. [0–1]

    Returns
    -------
    ndarray, shape (bundles · each + 1,)
    """
    found = np.arange(each + 1.0)
    log = log_chance(found, each, broken, alike) + _log_ways(each, found)
    # Of several bundles together: a product, once turned to waves.
    size = bundles * each + 1
    together = np.fft.irfft(np.fft.rfft(np.exp(log), size) ** bundles, size)
    return np.cumsum(np.maximum(together, 0.0))


def broken_at(chance, stems, allowed):
    """Share of broken stems at which a lot passes so often, by attributes. [0–1]

    Parameters
    ----------
    chance : array_like
        Of passing. [0–1]
    stems, allowed : array_like of int
        [1]
    """
    from scipy.special import bdtri

    return bdtri(np.asarray(allowed, dtype=float), stems, chance)


def passes_by_measure(broken, stems, k):
    """Chance that a lot passes by variables, its spread being unknown [2]_. [0–1]

    Parameters
    ----------
    broken : array_like
        Share of the lot's stems beyond the one limit. [0–1]
    stems : array_like of int
        Measured, two or more. [1]
    k : array_like
        Standard deviations of the sample that its mean must lie within the limit. [1]
    """
    from scipy.special import nctdtr, ndtri

    root = np.sqrt(np.asarray(stems, dtype=float))
    broken = np.asarray(broken, dtype=float)
    # A lot without fault is infinitely far from the limit.
    centre = -root * ndtri(np.maximum(broken, TINY))
    return np.where(broken > 0, 1 - nctdtr(root**2 - 1, centre, root * k), 1.0)


def plan_by_count(good, bad, producers, buyers):
    """The smallest `Plan` by attributes; None where there is none so small.

    Parameters
    ----------
    good, bad : float
        Shares of broken stems that should pass, and should not. [0–1]
    producers, buyers : float
        Chance that the good is refused, and that the bad is taken, at most. [0–1]
    """
    stems = np.arange(1, MOST + 1)[:, None]
    allowed = np.arange(0, MOST // 10)[None, :]
    inside = allowed < stems
    refuses = inside & (passes_by_count(bad, stems, allowed) <= buyers)
    # The most that still refuses the bad takes the good most often.
    most = np.where(refuses, allowed, -1).max(axis=-1)
    takes = passes_by_count(good, stems[:, 0], np.maximum(most, 0)) >= 1 - producers
    fits = np.flatnonzero(takes & (most >= 0))
    return Plan(int(stems[fits[0], 0]), int(most[fits[0]])) if fits.size else None


def plan_by_measure(good, bad, producers, buyers):
    """The smallest `Plan` by variables, spread unknown; None where there is none.

    Parameters
    ----------
    As of `plan_by_count`.
    """
    from scipy.special import nctdtrit, ndtri

    stems = np.arange(3, MOST // 4)
    root = np.sqrt(stems)
    k = nctdtrit(stems - 1.0, -root * ndtri(good), producers) / root
    fits = np.flatnonzero(passes_by_measure(bad, stems, k) <= buyers)
    return Plan(int(stems[fits[0]]), float(k[fits[0]])) if fits.size else None


def plan_by_bundles(good, bad, producers, buyers, each, alike, most):
    """Fewest bundles, and stems that may break the rule; None where there are none.

    Parameters
    ----------
    good, bad, producers, buyers : float
        As of `plan_by_count`.
    each : int
        Stems from each bundle. [1]
    alike : float
        Correlation of two stems of a bundle. [0–1]
    most : int
        Bundles. [1]

    Returns
    -------
    (int, int) or None
    """
    for bundles in range(1, most + 1):
        allowed = allowed_in_bundles(bad, buyers, bundles, each, alike)
        takes = passes_in_bundles(good, bundles, each, alike)
        if allowed >= 0 and takes[allowed] >= 1 - producers:
            return bundles, allowed
    return None


def allowed_in_bundles(bad, buyers, bundles, each, alike):
    """Most stems that may break the rule and a bad lot still not pass; -1 for none. [1]

    Parameters
    ----------
    As of `plan_by_bundles`.
    """
    passes = passes_in_bundles(bad, bundles, each, alike)
    return int(np.searchsorted(passes, buyers, side="right")) - 1
