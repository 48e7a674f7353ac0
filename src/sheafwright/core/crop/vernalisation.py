"""Vernalisation: the cold a winter wheat must have had before it will come to ear.

References
----------
.. [1] A. H. Weir, P. L. Bragg, J. R. Porter and J. H. Rayner, A winter wheat
   crop simulation model without water or nutrient limitations, Journal of
   Agricultural Science 102, 1984, 371-382.
.. [2] N. A. Streck, A. Weiss and P. S. Baenziger, A generalized vernalization
   response function for winter wheat, Agronomy Journal 95, 2003, 155-159.
"""

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

from sheafwright.core.crop.progress import per_day, sum_since
from sheafwright.core.weather.thermal_time import mean_over_parts

STATUSES = ("at_risk", "marginal", "safe")


def effectiveness(temperature, cardinals):
    """Share of a vernal day that a day at this temperature gives [1]_. [0–1]

    Parameters
    ----------
    temperature : array_like
        Air temperature. [°C]
    cardinals : sequence of four floats
        Nothing at or below the first, all from the second to the third, nothing
        from the fourth. [°C]
    """
    return np.interp(temperature, cardinals, (0.0, 1.0, 1.0, 0.0))


def daily_effectiveness(tmin, tmax, cardinals):
    """Vernal days that each day gives, its eight parts averaged, (..., day). [0–1]

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        Lowest and highest air temperature. [°C]
    cardinals : sequence of four floats
        As in `effectiveness`. [°C]
    """
    return mean_over_parts(lambda t: effectiveness(t, cardinals), tmin, tmax)


def vernal_days(tmin, tmax, since, cardinals):
    """Vernal days gathered after the day ``since``, (..., day); NaN before it. [d]

    Parameters
    ----------
    tmin, tmax : array_like, shape (..., day)
        Lowest and highest air temperature. [°C]
    since : array_like, shape (...)
        Day position of emergence, or of germination for seed that feels the cold.
    cardinals : sequence of four floats
        As in `effectiveness`. [°C]
    """
    return sum_since(daily_effectiveness(tmin, tmax, cardinals), since)


def vernal_factor(vernal_days, base, full):
    """Share of full speed at which the crop moves towards double ridge [1]_. [0–1]

    Parameters
    ----------
    vernal_days : array_like
        Vernal days so far. [d]
    base, full : array_like
        Vernal days up to which it doesn't move, and from which cold no longer
        slows it. [d]
    """
    vernal_days = np.asarray(vernal_days, dtype=float)
    return np.clip((vernal_days - base) / np.subtract(full, base), 0.0, 1.0)


def streck_factor(vernal_days, half, power):
    """The same share as a smooth curve, fitted to twelve winter wheats [2]_. [0–1]

    Parameters
    ----------
    vernal_days : array_like
        Vernal days so far. [d]
    half, power : float
        Vernal days at one half [d], and steepness [1].
    """
    gathered = np.asarray(vernal_days, dtype=float) ** power
    return gathered / (half**power + gathered)


def status(vernal_days, full, safe_margin):
    """Standing of a crop's cold: a position in ``STATUSES``; NaN if not known.

    Parameters
    ----------
    vernal_days : array_like
        Vernal days by the day of judging. [d]
    full : array_like
        Vernal days needed. [d]
    safe_margin : float
        Safe from this many times the need. [1]
    """
    vernal_days, full = np.asarray(vernal_days, dtype=float), np.asarray(full)
    met = (vernal_days >= full) + 1.0 * (vernal_days >= safe_margin * full)
    return np.where(np.isnan(vernal_days), np.nan, met)


def status_chances(vernal_days, full, safe_margin):
    """Chance of each of ``STATUSES``: (..., draw) to (..., status). [0–1]

    Parameters
    ----------
    vernal_days, full, safe_margin
        As in `status`, the draws on the last axis.
    """
    found = per_day(status(vernal_days, full, safe_margin))
    each = np.where(np.isnan(found), np.nan, found == np.arange(len(STATUSES)))
    return each.mean(axis=-2)


def uneven_heading(vernal_factor, tmean, spring, warm_days, warm_mean):
    """Whether warmth overtakes a crop short of cold, (...): 1, 0, or NaN if not known.

    Such a crop comes to ear a few stems at a time, so it has no one heading date.

    Parameters
    ----------
    vernal_factor : array_like, shape (..., day)
        From `vernal_factor`. [0–1]
    tmean : array_like, shape (..., day)
        Mean air temperature. [°C]
    spring : array_like, shape (...)
        Day position from which to look; a warm autumn does no harm.
    warm_days : int
        Days in the running mean. [d]
    warm_mean : float
        A running mean above this is warm. [°C]
    """
    warm = sliding_window_view(tmean, warm_days, axis=-1).mean(axis=-1) > warm_mean
    short = np.asarray(vernal_factor)[..., warm_days - 1 :] < 1
    day = np.arange(warm_days - 1, np.shape(tmean)[-1])
    overtaken = (warm & short & (day >= per_day(spring))).any(axis=-1)
    unknown = np.isnan(vernal_factor)[..., -1]
    return np.where(overtaken, 1.0, np.where(unknown, np.nan, 0.0))
