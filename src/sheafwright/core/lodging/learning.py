"""What a holding's own lodging teaches: how much firmer its crops stand than the book.

One factor multiplies every gust that a crop can bear. It is weighed on a grid, together
with the draws of all else that is doubted, against the shares that lay in past years.
"""

import numpy as np

from sheafwright.core.chance.weights import from_logs
from sheafwright.core.lodging.season import share_lodged

GRID = 61
REACH = 3.0
"""Prior standard deviations that the grid reaches to either side. [1]"""


def factor_grid(prior):
    """Factors that may be, evenly spaced in their logarithm, (factor,). [1]

    Parameters
    ----------
    prior : StandingPrior
    """
    reach = np.linspace(-REACH, REACH, GRID) * prior.factor_sd
    return prior.usual_factor * np.exp(reach)


def prior_weights(prior):
    """Weights of `factor_grid` before anything was written down; they sum to 1. [1]

    Parameters
    ----------
    prior : StandingPrior
    """
    away = np.log(factor_grid(prior) / prior.usual_factor) / prior.factor_sd
    return from_logs(-0.5 * away**2)


def angular(share):
    """A share on the scale on which judging it errs alike everywhere. [rad]

    Parameters
    ----------
    share : array_like
        [0–1]
    """
    return np.arcsin(np.sqrt(share))


def weigh(loads, seen, prior):
    """Weight of every factor with every draw, given what lay, (factor, draw). [1]

    They sum to 1. A draw is one possible stand, and it is the same in all the years.

    Parameters
    ----------
    loads : array_like, shape (year, draw, patch)
        Of each year written down, from `sheafwright.core.lodging.season.load`. [1]
    seen : array_like, shape (year,)
        Shares that lay. [0–1]
    prior : StandingPrior
    """
    shares = np.array([share_lodged(loads, factor) for factor in factor_grid(prior)])
    missed = angular(shares) - angular(seen)[..., np.newaxis]
    log_weight = -0.5 * np.square(missed / prior.share_error).sum(axis=-2)
    log_weight += np.log(prior_weights(prior))[:, np.newaxis]
    return from_logs(log_weight)


def chosen(weights, n_draws, rng):
    """Positions of factor and of draw, (n_draws,) each, in proportion to their weights.

    Taken at even steps through all the weights, and then shuffled, so that no stand
    comes up much more often than it should.

    Parameters
    ----------
    weights : array_like, shape (factor, draw)
        From `weigh`. [1]
    n_draws : int
    rng : numpy.random.Generator
    """
    so_far = np.cumsum(np.transpose(weights))
    steps = (np.arange(n_draws) + rng.random()) / n_draws
    at = rng.permutation(np.searchsorted(so_far / so_far[-1], steps))
    draw, factor = np.unravel_index(at, np.shape(weights)[::-1])
    return factor, draw
