"""Scores of chances and of whole forecasts; smaller is better, save for skill.

References
----------
.. [1] G. W. Brier, Verification of forecasts expressed in terms of probability,
   Monthly Weather Review 78, 1950, 1–3.
.. [2] A. H. Murphy, A new vector partition of the probability score, Journal of
   Applied Meteorology 12, 1973, 595–600.
.. [3] D. B. Stephenson, C. A. S. Coelho and I. T. Jolliffe, Two extra components in
   the Brier score decomposition, Weather and Forecasting 23, 2008, 752–757.
.. [4] C. A. T. Ferro and T. E. Fricker, A bias-corrected decomposition of the Brier
   score, Quarterly Journal of the Royal Meteorological Society 138, 2012, 1954–1960.
.. [5] T. Gneiting and A. E. Raftery, Strictly proper scoring rules, prediction, and
   estimation, Journal of the American Statistical Association 102, 2007, 359–378.
"""

import dataclasses
import math

import numpy as np

from sheafwright.core.errors import NotEnoughWeather, OutOfRange


@dataclasses.dataclass(frozen=True)
class Decomposition:
    """The parts of a Brier score; each is a float. [1]"""

    reliability: float
    """What is lost by saying chances that don't come true so often [2]_."""
    resolution: float
    """What is gained by telling likely days from unlikely ones [2]_."""
    uncertainty: float
    """The score of always saying how often the event comes [2]_."""
    within_bin_variance: float
    """Spread of the chances said inside the bins [3]_."""
    within_bin_covariance: float
    """What that spread gains inside the bins [3]_."""

    @property
    def brier(self):
        """The parts put together again: the Brier score exactly. [1]"""
        between = self.reliability - self.resolution + self.uncertainty
        return between + self.within_bin_variance - self.within_bin_covariance


def brier(said, came):
    """Brier score: mean squared distance of the chance said from what came [1]_. [1]

    Parameters
    ----------
    said : array_like, shape (..., n)
        Chances. [0–1]
    came : array_like, shape (..., n)
        1 where the event came, 0 where it did not; NaN in, NaN out.

    Returns
    -------
    ndarray, shape (...)
    """
    return np.mean((np.asarray(said) - np.asarray(came)) ** 2, axis=-1)


def brier_skill(said, came, reference):
    """Share of the reference's Brier score that the forecasts save. [1]

    Parameters
    ----------
    said, came : array_like, shape (..., n)
        As for `brier`.
    reference : array_like, shape (), (n,) or (..., n)
        Chances that anyone could have said, such as how often the event comes. [0–1]
    """
    return 1 - brier(said, came) / brier(reference, came)


def known(said, *beside):
    """The forecasts that are known in every array given, each (n,), as floats."""
    columns = np.stack([said, *beside]).astype(float)
    wrong = (columns[0] < 0) | (columns[0] > 1)
    if wrong.any():
        raise OutOfRange(
            "Forecast {number} says a chance of {chance:g}; a chance must lie between "
            "0 and 1.",
            number=wrong.argmax() + 1,
            chance=columns[0, wrong][0],
        )
    pairs = columns[:, np.isfinite(columns).all(axis=0)]
    if not pairs.size:
        raise NotEnoughWeather("No forecast has a known outcome to be judged by.")
    return pairs


def membership(said, edges):
    """Which forecast lies in which bin, as 0 or 1: (n,) to (bin, n).

    A bin holds its lower edge; the last one holds 1 too. Bins without a forecast
    are left out.
    """
    bin_of_each = np.digitize(said, np.asarray(edges)[1:-1])
    occupied = np.unique(bin_of_each)
    return (bin_of_each == occupied[:, None]).astype(float)


def bin_means(values, in_bin):
    """Mean in each bin: (..., n) and membership (bin, n) to (..., bin)."""
    return values @ in_bin.T / in_bin.sum(axis=-1)


def murphy_terms(said, events, n):
    """Reliability, resolution and uncertainty of binned forecasts [2]_. [1]

    Parameters
    ----------
    said : array_like, shape (bin,)
        Mean chance said in each bin. [0–1]
    events, n : array_like, shape (bin,)
        Events and forecasts in each bin; no bin may be empty.

    Returns
    -------
    tuple of three floats
    """
    said, events, n = np.asarray(said), np.asarray(events), np.asarray(n)
    came, overall, weight = events / n, events.sum() / n.sum(), n / n.sum()
    reliability = weight @ (said - came) ** 2
    resolution = weight @ (came - overall) ** 2
    return reliability, resolution, overall * (1 - overall)


def ferro_fricker_terms(said, events, n):
    """The same three terms without the bias that few forecasts give them [4]_. [1]

    How often the event came in a bin is itself uncertain, which makes forecasts look
    both less reliable and more resolving than they are. A bin of one forecast can't
    tell that uncertainty and is left as it is.
    """
    reliability, resolution, uncertainty = murphy_terms(said, events, n)
    events, n = np.asarray(events), np.asarray(n)
    spread = events * (n - events) / n / np.maximum(n - 1, 1)
    in_bins = spread.sum() / n.sum()
    overall = uncertainty / (n.sum() - 1)
    return reliability - in_bins, resolution - in_bins + overall, uncertainty + overall


def decompose(said, came, edges, terms=murphy_terms):
    """Brier score by parts, exactly, whatever is said inside the bins.

    Parameters
    ----------
    said, came : array_like, shape (n,)
        As for `brier`; pairs with NaN are left out.
    edges : array_like, shape (bin + 1,)
        From 0 to 1. [0–1]
    terms : callable
        `murphy_terms` or `ferro_fricker_terms`.

    Returns
    -------
    Decomposition
    """
    said, came = known(said, came)
    in_bin = membership(said, edges)
    off_said = said - bin_means(said, in_bin) @ in_bin
    off_came = came - bin_means(came, in_bin) @ in_bin
    return Decomposition(
        *terms(bin_means(said, in_bin), in_bin @ came, in_bin.sum(axis=-1)),
        within_bin_variance=np.mean(off_said**2),
        within_bin_covariance=2 * np.mean(off_said * off_came),
    )


def crps_gaussian(mean, spread, came):
    """Continuous ranked probability score of a normal forecast [5]_, in its own unit.

    Parameters
    ----------
    mean, spread, came : array_like
        Mean and standard deviation said, and the value that came.
    """
    from scipy.special import ndtr

    z = (np.asarray(came) - mean) / spread
    density = np.exp(-(z**2) / 2) / math.sqrt(2 * math.pi)
    return spread * (z * (2 * ndtr(z) - 1) + 2 * density - 1 / math.sqrt(math.pi))


def crps_ensemble(members, came):
    """The same score of an ensemble taken as the whole distribution [5]_.

    Parameters
    ----------
    members : array_like, shape (..., draw, day)
    came : array_like, shape (..., day)
        In the unit of the members; NaN in, NaN out.

    Returns
    -------
    ndarray, shape (..., day)
    """
    members = np.asarray(members, dtype=float)
    n = members.shape[-2]
    return _mean_distance(members, came) - _pair_distances(members) / n**2


def crps_fair(members, came):
    """The same score of the distribution that the members are a sample of.

    It does not punish an ensemble for having few members. Shapes are those of
    `crps_ensemble`, with at least two members.
    """
    members = np.asarray(members, dtype=float)
    n = members.shape[-2]
    return _mean_distance(members, came) - _pair_distances(members) / (n * (n - 1))


def _mean_distance(members, came):
    """Mean distance of the members from what came: (..., draw, day) to (..., day)."""
    return np.abs(members - np.asarray(came)[..., None, :]).mean(axis=-2)


def _pair_distances(members):
    """Sum of the distances of all pairs of members: (..., draw, day) to (..., day)."""
    n = members.shape[-2]
    # In order, member i is the upper one of i pairs and the lower one of n - 1 - i.
    times_counted = 2 * np.arange(n) - (n - 1)
    return (np.sort(members, axis=-2) * times_counted[:, None]).sum(axis=-2)
