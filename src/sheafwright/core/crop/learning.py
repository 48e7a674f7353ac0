"""Learning from the grower's own dates: which of many possible crops grew here?

Each draw is a crop that may be: early or late to flower, quick or slow to ripen, cut
greener or yellower. What it would have done in the past seasons is set beside what
was seen, and the draws that come near are kept (Bayes with weighted particles).
"""

import dataclasses
from typing import NamedTuple

import numpy as np

from sheafwright.core.chance.weights import from_logs
from sheafwright.core.crop.development import develop, ripeness
from sheafwright.core.crop.progress import first_day, per_day
from sheafwright.core.errors import OutOfRange
from sheafwright.core.inputs.crop import GrainFilling

DATE_KINDS = ("flowering", "cutting")


class Doubt(NamedTuple):
    """How far each possible crop is from the book, (draw,)."""

    to_flowering: np.ndarray
    """Multiplies the sums from emergence to flowering. [1]"""
    grain_filling: np.ndarray
    """Multiplies the sum from flowering to hard dough. [1]"""
    form: np.ndarray
    """Position of its form of grain filling."""
    cutting_ripeness: np.ndarray
    """Ripeness at which the grower cuts. [1]"""

    def taken(self, chosen):
        """The draws at some positions, as a `Doubt`."""
        return Doubt(*(each[chosen] for each in self))


def draw_doubt(prior, n_draws, rng):
    """Possible crops before any date is known, as `Doubt`.

    Parameters
    ----------
    prior : DoubtPrior
    n_draws : int
    rng : numpy.random.Generator
    """
    return Doubt(
        rng.lognormal(0.0, prior.flowering_sd, n_draws),
        rng.lognormal(0.0, prior.grain_filling_sd, n_draws),
        rng.choice(len(prior.form_weights), n_draws, p=prior.form_weights),
        rng.normal(prior.cutting_ripeness, prior.cutting_ripeness_sd, n_draws),
    )


def crops(phases, forms, doubt):
    """The crops that may be, (draw,): a `Phases` and a `GrainFilling` of arrays.

    Parameters
    ----------
    phases : Phases
        By the book.
    forms : sequence of GrainFilling
        By the book, each a candidate.
    doubt : Doubt
    """
    drawn = dataclasses.replace(
        phases,
        to_double_ridge=phases.to_double_ridge * doubt.to_flowering,
        to_flowering=phases.to_flowering * doubt.to_flowering,
    )
    rows = np.array([dataclasses.astuple(form) for form in forms])
    filling = GrainFilling(*rows[doubt.form].T)
    longer = filling.thermal_sum * doubt.grain_filling
    return drawn, dataclasses.replace(filling, thermal_sum=longer)


def past_dates(tmin, tmax, day_length, sown, crops, cutting_ripeness):
    """What each crop would have done in past seasons, (draw, season, kind).

    The kinds are those of ``DATE_KINDS``. A cutting date says how ripe the crop was
    when it was cut, not that it had come to hard dough. [day position]

    Parameters
    ----------
    tmin, tmax, day_length : array_like, shape (season, day)
        Lowest and highest air temperature [°C]; day length [h].
    sown : array_like, shape (season,)
        Day position of sowing.
    crops : tuple of Phases and GrainFilling
        From `crops`, over (draw,).
    cutting_ripeness : array_like, shape (draw,)
        Ripeness at cutting. [1]
    """
    tmin, tmax = np.expand_dims(tmin, -2), np.expand_dims(tmax, -2)
    phases, filling = crops
    light, sown = np.expand_dims(day_length, -2), per_day(sown)
    flowering = develop(tmin, tmax, light, sown, phases, filling).gs61
    ripe = ripeness(tmin, tmax, flowering, filling)
    cutting = first_day(ripe >= per_day(cutting_ripeness))
    return np.stack([flowering.T, cutting.T], axis=-1)


def weigh(predicted, seen, sd):
    """Weight of each draw, given the dates seen, (draw,); they sum to 1. [1]

    Parameters
    ----------
    predicted : array_like, shape (draw, season, kind)
        Dates predicted; NaN where the crop never gets so far. [day position]
    seen : array_like, shape (season, kind)
        Dates seen; NaN where none was written down. [day position]
    sd : array_like, shape (kind,)
        How far a date seen may lie from the date predicted. [d]
    """
    missed = (predicted - np.asarray(seen)) / sd
    # A crop that never got so far can't be the one that was seen to.
    missed = np.where(np.isnan(missed), np.inf, missed)
    missed = np.where(np.isnan(seen), 0.0, missed)
    log_weight = -0.5 * np.sum(missed**2, axis=(-2, -1))
    if not np.isfinite(log_weight).any():
        raise OutOfRange(
            "No crop within the doubt allowed reaches the stages dated: check the "
            "dates, the variety class and the weather of those seasons."
        )
    return from_logs(log_weight)


def effective_draws(weights):
    """How many equal draws the weights are worth; few means a surprise. [1]

    Parameters
    ----------
    weights : array_like, shape (draw,)
        From `weigh`. [1]
    """
    return 1 / np.sum(np.square(weights))


def resample(weights, n_draws, rng):
    """Positions of draws taken in proportion to their weights, (n_draws,).

    Parameters
    ----------
    weights : array_like, shape (draw,)
        They sum to 1. [1]
    n_draws : int
    rng : numpy.random.Generator
    """
    return rng.choice(len(weights), n_draws, p=weights)
