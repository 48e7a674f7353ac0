"""Residuals of temperature and radiation that follow each other from day to day.

x_t = A x_{t-1} + B e_t, with e_t independent standard normal. The three residuals, in
this order, are those of maximum temperature, minimum temperature and solar radiation,
each standardised by the mean and spread of its calendar day [1]_.

References
----------
.. [1] C. W. Richardson and D. A. Wright, WGEN: a model for generating daily weather
   variables, USDA Agricultural Research Service ARS-8, 1984.
"""

import numpy as np

# Copies of these two tables are about with B11 as 0.718, B32 as -0.314 or A32 as
# +0.039. Only the values here give residuals of variance 1, which a test holds.
CARRIED_OVER = ((0.567, 0.086, -0.002), (0.253, 0.504, -0.050), (-0.006, -0.039, 0.244))
"""A: what today's residuals keep of yesterday's. [1]"""

FRESH = ((0.781, 0.0, 0.0), (0.328, 0.637, 0.0), (0.238, -0.341, 0.873))
"""B: what today adds. [1]"""


def stationary_covariance(carried_over=CARRIED_OVER, fresh=FRESH):
    """Covariance M of the residuals on one day: M = A M Aᵀ + B Bᵀ. [1]

    Parameters
    ----------
    carried_over, fresh : array_like, shape (variable, variable)

    Returns
    -------
    ndarray, shape (variable, variable)
    """
    a, b = np.asarray(carried_over), np.asarray(fresh)
    unrolled = np.eye(a.size) - np.kron(a, a)
    return np.linalg.solve(unrolled, (b @ b.T).ravel()).reshape(a.shape)


def lag_one_covariance(carried_over=CARRIED_OVER, fresh=FRESH):
    """Covariance of today's residuals (rows) with yesterday's (columns): A M. [1]"""
    return np.asarray(carried_over) @ stationary_covariance(carried_over, fresh)


def simulate(n_draws, n_days, rng, carried_over=CARRIED_OVER, fresh=FRESH):
    """Draw residuals, opening from their stationary distribution. [1]

    Parameters
    ----------
    n_draws, n_days : int
    rng : numpy.random.Generator
    carried_over, fresh : array_like, shape (variable, variable)

    Returns
    -------
    ndarray, shape (variable, draw, day)
    """
    luck = rng.standard_normal((len(fresh), n_draws, n_days))
    opening = np.linalg.cholesky(stationary_covariance(carried_over, fresh))
    a, b = np.asarray(carried_over), np.asarray(fresh)
    residual = np.empty_like(luck)
    residual[..., 0] = opening @ luck[..., 0]
    for day in range(1, n_days):
        residual[..., day] = a @ residual[..., day - 1] + b @ luck[..., day]
    return residual
