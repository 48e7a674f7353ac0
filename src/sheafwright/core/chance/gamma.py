"""Rain on wet days as a gamma variable, and the Markov–gamma twin of a record.

The twin is there to be checked: its totals and runs have closed forms. It holds no
link from one wet day's amount to the next, nor from rain to wind or humidity, and
its long dry runs are too few; decisions are made on resampled days instead.

References
----------
.. [1] H. C. S. Thom, A note on the gamma distribution, Monthly Weather Review 86,
   1958, 117–122.
.. [2] C. W. Richardson, Stochastic simulation of daily precipitation, temperature
   and solar radiation, Water Resources Research 17, 1981, 182–190.
.. [3] S. Geng, F. W. T. Penning de Vries and I. Supit, A simple method for generating
   daily rainfall data, Agricultural and Forest Meteorology 36, 1986, 363–376.
"""

import dataclasses

import numpy as np

from sheafwright.core.chance import markov

GAUGE_STEP = 0.1
"""Daily rain is recorded to this step. [mm]"""


@dataclasses.dataclass(frozen=True)
class RainTwin:
    """What the Markov–gamma twin knows of a place; each shape () or (..., day)."""

    p01: np.ndarray
    """Chance of a wet day after a dry one. [0–1]"""
    p11: np.ndarray
    """Chance of a wet day after a wet one. [0–1]"""
    shape: np.ndarray
    """Gamma shape of the rain above `least` on a wet day. [1]"""
    scale: np.ndarray
    """Its scale. [mm]"""
    wet_from: float
    """A day with at least this rain is wet. [mm]"""

    @property
    def least(self):
        """Least rain that is recorded as ``wet_from``. [mm]"""
        return self.wet_from - GAUGE_STEP / 2


def thom(amounts):
    """Gamma shape [1] and scale by Thom's approximation to maximum likelihood [1]_.

    Parameters
    ----------
    amounts : array_like, shape (..., day)
        Amounts above 0; NaN where there is none to count. [mm]

    Returns
    -------
    shape, scale : ndarray, shape (...)
        NaN where no amount, or one amount only, was counted. [1], [mm]
    """
    amounts = np.asarray(amounts, dtype=float)
    n = np.isfinite(amounts).sum(axis=-1)
    n = np.where(n > 1, n, np.nan)
    mean = np.nansum(amounts, axis=-1) / n
    gap = np.log(mean) - np.nansum(np.log(amounts), axis=-1) / n
    shape = (1 + np.sqrt(1 + 4 * gap / 3)) / (4 * gap)
    return shape, mean / shape


def exceedance(amount, shape, scale):
    """Chance that a gamma amount [mm] is above this one. [0–1]"""
    from scipy.special import gammaincc

    return gammaincc(shape, np.asarray(amount) / scale)


def total_mean(n_days, p01, p11, shape, scale, least=0.0):
    """Mean total rain of a stretch of days. [mm]"""
    return markov.wet_days_mean(n_days, p01, p11) * (least + shape * scale)


def total_variance(n_days, p01, p11, shape, scale, least=0.0):
    """Variance of the total rain of a stretch of days, exactly. [mm²]"""
    of_amounts = markov.wet_days_mean(n_days, p01, p11) * shape * scale**2
    of_wet_days = markov.wet_days_variance(n_days, p01, p11)
    return of_amounts + (least + shape * scale) ** 2 * of_wet_days


def total_variance_long(n_days, p01, p11, shape, scale, least=0.0):
    """The same variance in the limit of many days. [mm²]"""
    of_amounts = markov.wet_days_mean(n_days, p01, p11) * shape * scale**2
    of_wet_days = markov.wet_days_variance_long(n_days, p01, p11)
    return of_amounts + (least + shape * scale) ** 2 * of_wet_days


def geng_chances(wet_share):
    """Chances p01 and p11 from the share of wet days alone [3]_. [0–1]"""
    p01 = 0.75 * np.asarray(wet_share)
    return p01, 0.25 + p01


def geng_gamma(wet_day_mean):
    """Gamma shape [1] and scale [mm] from the mean rain of a wet day alone [3]_.

    Parameters
    ----------
    wet_day_mean : array_like
        Mean rain of a wet day. Below 2.16/0.83 mm, where the line would give
        a shape above 1, the amounts are exponential. [mm]
    """
    mean = np.asarray(wet_day_mean, dtype=float)
    scale = np.maximum(-2.16 + 1.83 * mean, mean)
    return mean / scale, scale


def fit_twin(rain, window=True, wet_from=1.0):
    """Markov–gamma twin of a rain record.

    Parameters
    ----------
    rain : array_like, shape (..., day)
        Days in their order; missing days are left out. [mm d⁻¹]
    window : array_like of bool, shape (..., day)
        Days to learn from, as `markov.calendar_window` gives them.
    wet_from : float
        A day with at least this rain is wet; the rain of drier days is dropped.
        [mm d⁻¹]

    Returns
    -------
    RainTwin
        Its parameters have the leading axes of `rain` and `window`.
    """
    p01, p11 = markov.transition_chances(rain, window, wet_from)
    # Above the least reading, not above wet_from: a day recorded at exactly wet_from
    # must keep a logarithm.
    above = np.asarray(rain, dtype=float) - (wet_from - GAUGE_STEP / 2)
    amounts = np.where(window & (above > 0), above, np.nan)
    return RainTwin(p01, p11, *thom(amounts), wet_from)


def simulate_rain(twin, n_draws, n_days, rng):
    """Draw rain from the twin, read to the gauge's step.

    Parameters
    ----------
    twin : RainTwin
        Parameters of shape (), (day,) or (..., day).
    n_draws, n_days : int
    rng : numpy.random.Generator

    Returns
    -------
    ndarray, shape (..., draw, day)
        0 on dry days. [mm d⁻¹]
    """
    wet = markov.simulate(twin.p01, twin.p11, n_draws, n_days, rng)
    shape, scale = (np.atleast_1d(p)[..., None, :] for p in (twin.shape, twin.scale))
    amount = twin.least + rng.gamma(shape, scale, size=wet.shape)
    return np.where(wet, np.round(amount / GAUGE_STEP) * GAUGE_STEP, 0.0)
