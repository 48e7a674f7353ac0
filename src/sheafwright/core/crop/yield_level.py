"""A holding's own level of straw and grain, learnt from what it weighed.

Levels are logarithms of straw and of grain over what the response to nitrogen leads to
expect. Theirs is a normal prior, each harvest strays from them by a normal too, so what
is learnt is normal and has a closed form.
"""

from typing import NamedTuple

import numpy as np


class Level(NamedTuple):
    """What is known of the levels of straw and grain, as logarithms. [1]"""

    mean: np.ndarray
    """(2,)"""
    covariance: np.ndarray
    """(2, 2)"""


def prior_level(prior):
    """The `Level` before any harvest is weighed.

    Parameters
    ----------
    prior : LevelPrior
    """
    together = [[1, prior.correlation], [prior.correlation, 1]]
    return Level(np.full(2, np.log(prior.times)), prior.sd**2 * np.array(together))


def harvest_covariance(spread, harvest_index):
    """How far one harvest's straw and grain stray from their levels: (2, 2). [1]

    Dry matter moves both alike; grain over straw moves them apart, each by the share
    of the other (to first order).

    Parameters
    ----------
    spread : YearSpread
    harvest_index : float
        [0–1]
    """
    whole = spread.dry_matter_years**2 + spread.dry_matter_plots**2
    ratio = spread.grain_per_straw_years**2 + spread.grain_per_straw_plots**2
    apart = np.array([-harvest_index, 1 - harvest_index])
    return whole + ratio * np.outer(apart, apart)


def learn_level(level, seen, harvest):
    """The `Level` once some harvests are weighed: the conjugate normal.

    Parameters
    ----------
    level : Level
        Before.
    seen : array_like, shape (year, 2)
        Logarithm of straw and of grain over what was expected; NaN where it was not
        weighed. [1]
    harvest : ndarray, shape (2, 2)
        From `harvest_covariance`.
    """
    mean, covariance = level
    for year in np.asarray(seen, dtype=float):
        weighed = np.eye(2)[np.isfinite(year)]
        strays = weighed @ (covariance + harvest) @ weighed.T
        gain = covariance @ weighed.T @ np.linalg.inv(strays)
        mean = mean + gain @ (year[np.isfinite(year)] - weighed @ mean)
        covariance = covariance - gain @ weighed @ covariance
    return Level(mean, covariance)


def years_worth(level, harvest):
    """Harvests of one's own that would tell as much as is known: (2,). [a]

    Parameters
    ----------
    level : Level
    harvest : ndarray, shape (2, 2)
        From `harvest_covariance`.
    """
    return np.diag(harvest) / np.diag(level.covariance)


def draw_level(level, n_draws, rng):
    """What straw and grain may be multiplied by: (2, draw). [1]

    Parameters
    ----------
    level : Level
    n_draws : int
    rng : numpy.random.Generator
    """
    return np.exp(rng.multivariate_normal(*level, n_draws)).T
