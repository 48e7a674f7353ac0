"""Seed of a scarce variety, grown on year by year until there is enough."""

from typing import NamedTuple

import numpy as np

from sheafwright.core.chance.quantiles import normal_reach


class SeedYears(NamedTuple):
    """Where the seed goes, each (..., draw, year). [kg]

    What is in hand is sown, kept back or used; what is in hand the year after is what
    was kept back and what was harvested.
    """

    in_hand: np.ndarray
    sown: np.ndarray
    kept: np.ndarray
    used: np.ndarray
    harvested: np.ndarray


def draw_yields(crop, n_draws, n_years, rng):
    """Grain of a thin stand: skewed, and sometimes nothing: (draw, year). [kg ha⁻¹]

    Parameters
    ----------
    crop : SeedCrop
    n_draws, n_years : int
    rng : numpy.random.Generator
    """
    log_low, log_high = np.log(crop.yield_low), np.log(crop.yield_high)
    # The low is of 1 year in 10, the high of 9.
    spread = (log_high - log_low) / (2 * normal_reach(0.8))
    shape = n_draws, n_years
    full = rng.lognormal((log_low + log_high) / 2, spread, shape)
    return full * crop.thin_share * (rng.random(shape) >= crop.failure)


def ground_enough(needed, poor_return):
    """Seed to sow that is enough even in a poor year; more is for nothing. [kg]

    Parameters
    ----------
    needed : array_like
        [kg]
    poor_return : array_like
        Clean seed from a kilogram sown, in a poor year. [1]
    """
    return np.asarray(needed, dtype=float) / poor_return


def share_out(in_hand, kept_back, most_sown, most_kept):
    """What is sown, kept back and used of the seed in hand. [kg]

    Parameters
    ----------
    in_hand : array_like
        [kg]
    kept_back : float
        Share never sown in the same year. [0–1]
    most_sown, most_kept : float
        Beyond which there is no ground for it, or no need. [kg]
    """
    sown = np.minimum((1 - kept_back) * np.asarray(in_hand, dtype=float), most_sown)
    kept = np.minimum(in_hand - sown, most_kept)
    return sown, kept, in_hand - sown - kept


def grow_on(seed, returns, kept_back, most_sown, most_kept):
    """`SeedYears` from a first lot of seed.

    Parameters
    ----------
    seed : float
        At the start. [kg]
    returns : array_like, shape (..., draw, year)
        Clean seed from a kilogram sown. [1]
    kept_back : float
        Share never sown in the same year. [0–1]
    most_sown, most_kept : float
        Beyond which there is no ground for it, or no need. [kg]
    """
    in_hand, years = np.full(np.shape(returns)[:-1], float(seed)), []
    for multiplied in np.moveaxis(np.asarray(returns, dtype=float), -1, 0):
        sown, kept, used = share_out(in_hand, kept_back, most_sown, most_kept)
        years.append((in_hand, sown, kept, used, sown * multiplied))
        in_hand = kept + sown * multiplied
    return SeedYears(*(np.stack(each, axis=-1) for each in zip(*years, strict=True)))


def chance_enough(years, needed):
    """That by each harvest there has once been enough: (..., year). [0–1]

    Parameters
    ----------
    years : SeedYears
    needed : float
        [kg]
    """
    after = np.add(years.kept, years.harvested)
    return np.logical_or.accumulate(after >= needed, axis=-1).mean(axis=-2)


def off_types_allowed(plants, purity):
    """Plants of another kind that a stand may hold, per 100 m². [1]

    Parameters
    ----------
    plants : array_like
        [m⁻²]
    purity : array_like
        Share true to the variety. [0–1]
    """
    return 100 * np.asarray(plants, dtype=float) * (1 - np.asarray(purity))
