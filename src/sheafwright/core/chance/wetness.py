"""Rain as a normal score: how wet a day is for its place and time of year.

A wetness of 0 is the middle day of that fortnight's climate, 1 a day wetter than 84 in
100. Forecasts of differing skill, and rain of differing places, then speak one
language.
"""

from statistics import NormalDist

import numpy as np

from sheafwright.core.chance.time_of_year import DAYS, days_after, days_around

HALF_WINDOW = 10
"""Days on each side that share a time of year. [d]"""


def wetness(rain, evapotranspiration, day_of_year, climate):
    """Normal score of each day in its own time of year, (day,). [1]

    The more rain the wetter; of days with equal rain, nearly all of them dry, the one
    that dries less.

    Parameters
    ----------
    rain, evapotranspiration : array_like, shape (day,)
        Rain, and evaporative demand. [mm d⁻¹]
    day_of_year : array_like, shape (day,)
        1 to 366.
    climate : array_like of bool, shape (day,)
        The days that make the climate against which a day is scored.
    """
    wet, day_of_year = _order(rain, evapotranspiration), np.asarray(day_of_year)
    scores = np.full(wet.shape, np.nan)
    around = days_around(day_of_year, climate & ~np.isnan(wet), HALF_WINDOW)
    for day in np.unique(day_of_year):
        here = day_of_year == day
        scores[here] = _score_against(np.sort(wet[around[day - 1]]), wet[here])
    return scores


def wetness_foretold(rain, evapotranspiration, day_of_year, foretold, at_day):
    """Normal score of rain foretold for a day of the year, same shape. [1]

    Parameters
    ----------
    rain, evapotranspiration, day_of_year : array_like, shape (day,)
        The climate. [mm d⁻¹, mm d⁻¹, 1–366]
    foretold : array_like
        Rain foretold. [mm d⁻¹]
    at_day : int
        Day of the year that it is foretold for.
    """
    near = np.abs(days_after(day_of_year, at_day)) <= HALF_WINDOW
    demand = np.asarray(evapotranspiration)[near]
    wet = _order(np.asarray(rain)[near], demand)
    # A dry day foretold is taken to dry as such days usually do.
    usual = np.nanmedian(demand)
    return _score_against(np.sort(wet[~np.isnan(wet)]), _order(foretold, usual))


def _order(rain, evapotranspiration):
    """A number by which days go from the driest to the wettest."""
    # Rain is read to 0.1 mm, and no day evaporates 100 mm: demand only parts equals.
    return np.asarray(rain, dtype=float) - 0.001 * np.asarray(evapotranspiration)


def _score_against(known, wet):
    below = np.searchsorted(known, wet, "left") + np.searchsorted(known, wet, "right")
    score = _normal_score((0.5 * below + 0.5) / (known.size + 1))
    return np.where(np.isnan(wet), np.nan, score)


def _normal_score(share):
    """Standard normal quantiles of shares between 0 and 1, same shape. [1]"""
    # SciPy has them too, but its import takes longer than all of these.
    quantile = NormalDist().inv_cdf
    scores = [quantile(each) for each in np.ravel(share).tolist()]
    return np.reshape(scores, np.shape(share))


def wetness_of(amount, rain, day_of_year, climate):
    """Wetness below which a day has less rain than an amount, (day,). [1]

    Parameters
    ----------
    amount : float
        [mm d⁻¹]
    rain, day_of_year, climate : as in `wetness`
    """
    day = np.asarray(day_of_year)[climate]
    less = np.asarray(rain)[climate] < amount
    near = np.arange(-HALF_WINDOW, HALF_WINDOW + 1)
    # The year is a circle: 366 and 1 are neighbours.
    around = (np.arange(DAYS)[:, np.newaxis] + near) % DAYS
    days = np.bincount(day - 1, minlength=DAYS)[around].sum(axis=-1)
    drier = np.bincount(day - 1, weights=less, minlength=DAYS)[around].sum(axis=-1)
    return _normal_score((drier + 0.5) / (days + 1))[np.asarray(day_of_year) - 1]
