"""Runs of dry days: how long, how likely, how soon.

Chances have closed forms when the days are independent [1]_ or a Markov chain;
in a record or in drawn futures the runs are counted.

References
----------
.. [1] W. Feller, An Introduction to Probability Theory and Its Applications, vol. 1,
   3rd ed., Wiley, 1968, ch. XIII.
"""

import numpy as np

from sheafwright.core.chance.markov import stationary_share


def run_chance_independent(n_days, run_length, dry_share):
    """Chance of a dry run of at least this length, each day apart from the last [1]_.

    Parameters
    ----------
    n_days, run_length : int
        Days looked at, and days in the run. [d]
    dry_share : float
        Chance that a day is dry. [0–1]

    Returns
    -------
    float
        [0–1]
    """
    whole_run = dry_share**run_length
    chance = [0.0] * run_length + [whole_run]
    for day in range(run_length + 1, n_days + 1):
        # The first run ends today: a wet day, then the run, and none before it.
        first_today = (1 - chance[day - run_length - 1]) * (1 - dry_share) * whole_run
        chance.append(chance[day - 1] + first_today)
    return chance[n_days]


def run_chance_markov(n_days, run_length, dry_after_dry, dry_after_wet):
    """Chance of a dry run of at least this length, in a stationary Markov chain.

    The state is the length of the run that is under way; the whole run absorbs.

    Parameters
    ----------
    n_days, run_length : int
        Days looked at, and days in the run. [d]
    dry_after_dry, dry_after_wet : float
        Chance of a dry day by the day before. [0–1]

    Returns
    -------
    float
        [0–1]
    """
    goes_on = np.array([dry_after_wet] + [dry_after_dry] * (run_length - 1))
    step = np.diag(goes_on, k=1)
    step[:-1, 0] += 1 - goes_on
    step[-1, -1] = 1.0
    first_day = np.zeros(run_length + 1)
    first_day[1] = stationary_share(dry_after_wet, dry_after_dry)
    first_day[0] = 1 - first_day[1]
    return (first_day @ np.linalg.matrix_power(step, n_days - 1))[-1]


def days_to_run_end(run_length, dry_after_dry, dry_after_wet):
    """Mean days from a wet day to the last day of the first dry run. [d]"""
    to_hold = dry_after_dry ** (run_length - 1)
    tries = 1 / dry_after_wet + (1 - to_hold) / (1 - dry_after_dry)
    return tries / to_hold


def next_days_dry(run_length, first_dry, dry_after_dry):
    """Chance that the very next days are all dry, given that of the first. [0–1]"""
    return first_dry * dry_after_dry ** (np.asarray(run_length) - 1.0)


def longest_run(dry):
    """Longest run of dry days. [d]

    Parameters
    ----------
    dry : array_like, shape (..., day)
        1 dry, 0 not, NaN missing. A missing day makes the answer unknown, even
        beside a run long enough without it: if such seasons were kept and the others
        dropped, runs would seem commoner than they are.

    Returns
    -------
    ndarray, shape (...)
    """
    dry = np.asarray(dry, dtype=float)
    day = np.arange(1, dry.shape[-1] + 1)
    last_wet = np.maximum.accumulate(np.where(dry > 0, 0, day), axis=-1)
    longest = (day - last_wet).max(axis=-1)
    return np.where(np.isnan(dry).any(axis=-1), np.nan, longest)


def has_run(rain, run_length, dry_below=1.0):
    """Whether a stretch of days holds a dry run: 1 yes, 0 no, NaN unknown.

    Parameters
    ----------
    rain : array_like, shape (..., day)
        [mm d⁻¹]
    run_length : int
        Days in the run. [d]
    dry_below : float
        A day with less rain than this is dry. [mm d⁻¹]

    Returns
    -------
    ndarray, shape (...)
    """
    rain = np.asarray(rain, dtype=float)
    longest = longest_run(np.where(np.isnan(rain), np.nan, rain < dry_below))
    return np.where(np.isnan(longest), np.nan, longest >= run_length)
