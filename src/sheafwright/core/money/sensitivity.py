"""Which of the things that are not known make the outcome uncertain."""

from typing import NamedTuple

import numpy as np


class Even:
    """All chances from 0 to 1 alike: what SciPy wants of an input."""

    def ppf(self, chance):
        """The chance itself. [0–1]"""
        return chance


class Shares(NamedTuple):
    """Of the outcome's variance, each (input,). [0–1]"""

    alone: np.ndarray
    """By each input by itself: Sobol's first order."""
    in_all: np.ndarray
    """With all that it does together with others: Sobol's total."""


def variance_shares(outcome, n_inputs, n_points, rng):
    """`Shares` of independent inputs, by Saltelli's estimators.

    Parameters
    ----------
    outcome : callable
        From chances of the inputs, (input, point), to outcomes, (1, point).
    n_inputs : int
    n_points : int
        A power of 2.
    rng : numpy.random.Generator

    References
    ----------
    .. [1] I. M. Sobol, Global sensitivity indices for nonlinear mathematical models
       and their Monte Carlo estimates, Mathematics and Computers in Simulation 55,
       2001.
    .. [2] A. Saltelli and others, Variance based sensitivity analysis of model output,
       Computer Physics Communications 181, 2010.
    """
    from scipy.stats import sobol_indices

    found = sobol_indices(func=outcome, n=n_points, dists=[Even()] * n_inputs, rng=rng)
    return Shares(np.ravel(found.first_order), np.ravel(found.total_order))
