"""Whether the chances said come true as often as said, where days share their luck.

Days of one season are not so many separate trials: one wet August spoils them all.
Bars that take each day for its own trial [1]_ are then far too narrow, and bands from
resampled residuals are too narrow wherever an event is rare. So each season is drawn
anew under the hypothesis that the forecasts are reliable, with days that share their
season's luck as much as the record's days did.

References
----------
.. [1] J. Bröcker and L. A. Smith, Increasing the reliability of reliability diagrams,
   Weather and Forecasting 22, 2007, 651–661.
"""

import dataclasses

import numpy as np

from sheafwright.core.chance.scores import bin_means, known, membership

BAND = (0.05, 0.95)
"""Quantiles that bound a 90 % band. [0–1]"""


@dataclasses.dataclass(frozen=True)
class Reliability:
    """What was said and what came, by occupied bin; each shape (bin,)."""

    said: np.ndarray
    """Mean chance said. [0–1]"""
    came: np.ndarray
    """How often the event came. [0–1]"""
    n: np.ndarray
    """Forecasts."""
    low: np.ndarray
    """A reliable forecast's `came` is below this in 1 record of 20. [0–1]"""
    high: np.ndarray
    """And above this in 1 record of 20. [0–1]"""

    @property
    def inside(self):
        """Whether `came` lies in the 90 % band."""
        return (self.low <= self.came) & (self.came <= self.high)


@dataclasses.dataclass(frozen=True)
class Share:
    """Share of foresight and its 90 % interval; 1 is perfect foresight, 0 the rule."""

    share: float
    low: float
    high: float


def reliability(said, came, season, edges, rng, n_resamples=1000):
    """Chances said against how often the event came, with bands by whole seasons.

    Parameters
    ----------
    said : array_like, shape (n,)
        Chances. [0–1]
    came : array_like, shape (n,)
        1 where the event came, 0 where not. Pairs with NaN are left out.
    season : array_like of int, shape (n,)
        Forecasts of one season share its luck.
    edges : array_like, shape (bin + 1,)
        From 0 to 1. [0–1]
    rng : numpy.random.Generator
    n_resamples : int

    Returns
    -------
    Reliability
        Bins without a forecast are left out.
    """
    said, came, season = known(said, came, season)
    in_bin = membership(said, edges)
    shared = shared_luck(said, came, season, in_bin)
    outcomes = reliable_outcomes(said, season, shared, rng, n_resamples)
    low, high = np.quantile(bin_means(outcomes, in_bin), BAND, axis=0)
    return Reliability(
        bin_means(said, in_bin),
        bin_means(came, in_bin),
        in_bin.sum(axis=-1).astype(int),
        low,
        high,
    )


def consistency_bars(said, edges, rng, n_resamples=1000):
    """Band for each occupied bin if every forecast were its own trial [1]_.

    Parameters
    ----------
    said : array_like, shape (n,)
        Chances. [0–1]
    edges : array_like, shape (bin + 1,)
        From 0 to 1. [0–1]
    rng : numpy.random.Generator
    n_resamples : int

    Returns
    -------
    low, high : ndarray, shape (bin,)
        [0–1]
    """
    (said,) = known(said)
    each_its_own = np.arange(said.size)
    outcomes = reliable_outcomes(said, each_its_own, 0.0, rng, n_resamples)
    return np.quantile(bin_means(outcomes, membership(said, edges)), BAND, axis=0)


def shared_luck(said, came, season, in_bin):
    """Correlation of two outcomes in one bin and season, if reliable. [0–1]

    Over all such pairs of forecasts: the mean product of ``came - said``, over the
    mean product of the standard deviations that chances so said would have.

    Parameters
    ----------
    said, came, season : ndarray, shape (n,)
    in_bin : ndarray, shape (bin, n)
        1 where the forecast lies in the bin.
    """
    _, season = np.unique(season, return_inverse=True)
    cell = season * len(in_bin) + in_bin.argmax(axis=0)
    together = _pair_products(came - said, cell)
    at_most = _pair_products(np.sqrt(said * (1 - said)), cell)
    # With no pair at all rounding may decide this, but then no band depends on it.
    return np.clip(together / at_most, 0.0, 1.0) if at_most > 0 else 0.0


def _pair_products(values, cell):
    """Sum of the products of all pairs of different values in the same cell."""
    return (np.bincount(cell, values) ** 2).sum() - (values**2).sum()


def reliable_outcomes(said, season, shared, rng, n_resamples):
    """Outcomes drawn as if the forecasts were reliable: (n,) to (resample, n).

    Each forecast goes by its season's luck with chance √shared and by its own
    otherwise, so two of the same season have the correlation ``shared``.
    """
    seasons, season = np.unique(season, return_inverse=True)
    of_season = rng.random((n_resamples, seasons.size))[:, season]
    of_its_own = rng.random((n_resamples, said.size))
    follows = rng.random(of_its_own.shape) < np.sqrt(shared)
    return (np.where(follows, of_season, of_its_own) < said).astype(float)


def bootstrap_share(advice, rule, foresight, rng, n_resamples=1000):
    """How much of the way from a rule to perfect foresight the advice goes.

    Seasons are resampled whole, with what each policy made of them.

    Parameters
    ----------
    advice, rule, foresight : array_like, shape (season,)
        Worth of each season by each policy, in one unit.
    rng : numpy.random.Generator
    n_resamples : int

    Returns
    -------
    Share
    """
    worths = np.stack([advice, rule, foresight]).astype(float)
    n = worths.shape[-1]
    resampled = worths[:, rng.integers(n, size=(n_resamples, n))]
    low, high = np.quantile(_share_of_foresight(resampled), BAND)
    return Share(float(_share_of_foresight(worths)), float(low), float(high))


def _share_of_foresight(worths):
    """The share, by mean worth: (policy, ..., season) to (...)."""
    advice, rule, foresight = worths.mean(axis=-1)
    # Where foresight gains nothing over the rule there is no way to share.
    with np.errstate(invalid="ignore", divide="ignore"):
        return (advice - rule) / (foresight - rule)
