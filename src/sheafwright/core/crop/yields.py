"""What a crop will weigh: straw and grain from nitrogen, plants, height and luck.

Wheats of every height make about the same dry matter; the tall put more of it into
straw, and nitrogen does so in all of them. So the whole is worked out first, then
parted. Parameters broadcast: alternatives come first, draws last, and all alternatives
meet the same luck.
"""

from typing import NamedTuple

import numpy as np


class Crop(NamedTuple):
    """What stands on a hectare, field-dry. [t ha⁻¹]"""

    straw: np.ndarray
    """All of it, with chaff and stubble."""
    grain: np.ndarray


class Luck(NamedTuple):
    """What nobody can know of a season when the seed goes in: (draw,)."""

    dry_matter: np.ndarray
    """Added to the logarithm of straw and grain together. [1]"""
    grain_per_straw: np.ndarray
    """Added to the logarithm of grain over straw. [1]"""
    half_full: np.ndarray
    """Multiplies the plants of half a crop. [1]"""


def dry_matter(nitrogen, response):
    """Straw and grain together in a median year; logistic in nitrogen. [t ha⁻¹]

    Parameters
    ----------
    nitrogen : array_like
        Supplied by ground and manure. [kg ha⁻¹]
    response : NitrogenResponse
    """
    given = np.asarray(nitrogen) - response.ground_supply
    return response.most / (1 + np.exp((response.half_at - given) / response.width))


def grain_per_straw(nitrogen, response):
    """Grain over straw of an old tall wheat in a median year. [1]

    Parameters
    ----------
    nitrogen : array_like
        Supplied by ground and manure. [kg ha⁻¹]
    response : NitrogenResponse
    """
    given = np.asarray(nitrogen) - response.ground_supply
    change = response.grain_per_straw_change * given
    return response.grain_per_straw * np.exp(change)


def odds(harvest_index):
    """Grain over straw, of a harvest index. [1]

    Parameters
    ----------
    harvest_index : array_like
        Grain over grain and straw. [0–1]
    """
    harvest_index = np.asarray(harvest_index)
    return harvest_index / (1 - harvest_index)


def harvest_index(grain_over_straw):
    """Grain over grain and straw, of grain over straw. [0–1]

    Parameters
    ----------
    grain_over_straw : array_like
        [1]
    """
    grain_over_straw = np.asarray(grain_over_straw)
    return grain_over_straw / (1 + grain_over_straw)


def half_full_plants(days_after_september, stand):
    """Plants with which a crop gives half of a full one; late, it tillers less. [m⁻²]

    Parameters
    ----------
    days_after_september : array_like
        Sown so many days after 30 September; negative before. [d]
    stand : StandResponse
    """
    held = stand.days_after_september, stand.half_full
    return np.interp(days_after_september, *held)


def share_of_full(plants, half_full):
    """Share of a full crop that so many plants give. [0–1]

    The doubt of `half_full` spreads a thin stand far and a thick one hardly.

    Parameters
    ----------
    plants : array_like
        In spring. [m⁻²]
    half_full : array_like
        Plants that give half. [m⁻²]
    """
    plants = np.asarray(plants)
    return plants / (plants + half_full)


def draw_luck(spread, stand, n_draws, rng):
    """Possible seasons of one field, as `Luck`.

    Parameters
    ----------
    spread : YearSpread
    stand : StandResponse
    n_draws : int
    rng : numpy.random.Generator
    """
    whole = np.hypot(spread.dry_matter_years, spread.dry_matter_plots)
    ratio = np.hypot(spread.grain_per_straw_years, spread.grain_per_straw_plots)
    return Luck(
        rng.normal(0.0, whole, n_draws),
        rng.normal(0.0, ratio, n_draws),
        rng.lognormal(0.0, stand.half_full_sd, n_draws),
    )


NO_LUCK = Luck(0.0, 0.0, 1.0)
"""A median season."""


def grown(nitrogen, plants, half_full, odds_ratio, response, luck=NO_LUCK):
    """The `Crop` of a holding that is like the ground of the response.

    Parameters
    ----------
    nitrogen : array_like, shape (..., draw or 1)
        Supplied by ground and manure. [kg ha⁻¹]
    plants : array_like, shape (..., draw or 1)
        In spring. [m⁻²]
    half_full : array_like, shape (..., draw or 1)
        From `half_full_plants`. [m⁻²]
    odds_ratio : array_like, shape (..., draw or 1)
        Grain over straw of this wheat, over that of an old tall one. [1]
    response : NitrogenResponse
    luck : Luck, (draw,)
    """
    share = share_of_full(plants, half_full * luck.half_full)
    whole = dry_matter(nitrogen, response) * share * np.exp(luck.dry_matter)
    ratio = grain_per_straw(nitrogen, response) * odds_ratio
    grain = whole * harvest_index(ratio * np.exp(luck.grain_per_straw))
    return Crop(whole - grain, grain)


def bound_straw(straw, height, stubble, butt_weight):
    """Straw that goes into the sheaves. [t ha⁻¹]

    Parameters
    ----------
    straw : array_like
        All that stands. [t ha⁻¹]
    height : array_like
        Of the crop. [cm]
    stubble : array_like
        Left standing. [cm]
    butt_weight : float
        Weight of a length of stubble beside the same of the whole straw. [1]
    """
    return straw * (1 - butt_weight * np.asarray(stubble) / height)


def draw_recovery(made, rest, n_draws, rng):
    """Share of the sheaves' straw that the drum makes reed or long straw of. [0–1]

    Parameters
    ----------
    made, rest : tuple of float
        Lowest and highest usual share of the sheaves' mass: of what is made of the
        straw, and of what is left over. [0–1]
    n_draws : int
    rng : numpy.random.Generator
    """
    made, rest = rng.uniform(*made, n_draws), rng.uniform(*rest, n_draws)
    return made / (made + rest)
