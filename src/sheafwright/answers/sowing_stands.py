"""What stands on a hectare of each sowing, and what would it bring?

Gusts and rain are those of each season's own days. What the record can't tell, the luck
of straw and grain and how firmly the field stands, is drawn several times a season,
alike for every sowing.
"""

import dataclasses
from typing import NamedTuple

import numpy as np

from sheafwright.answers import perfect_crop
from sheafwright.answers.expected_yield import bound, grown_like, usual_shares
from sheafwright.answers.gales import LEAST_BOTH, gales, possible_mechanics
from sheafwright.answers.sowing_seasons import plain_dates
from sheafwright.core.constants import CM_PER_M, KG_PER_T
from sheafwright.core.crop import yields as crop
from sheafwright.core.crop.yield_level import draw_level, prior_level
from sheafwright.core.inputs.lodging import Husbandry, Mechanics
from sheafwright.core.lodging.season import Days, season_share
from sheafwright.core.season.sowings import left_of
from sheafwright.core.soil.nitrogen import supply_of
from sheafwright.core.stand.seed_rate import rate_of, seeds_for
from sheafwright.core.stand.target import by_date
from sheafwright.feeds import lodging, nitrogen, sowing, sowing_dates, yields

LUCKS = 10
"""Possible stands and lucks in each season."""


class Ground(NamedTuple):
    """Where the sowings are, and of what wheat."""

    nitrogen_index: int
    """Of the soil's supply. [0–6]"""
    soil: str
    """One of ``feeds.lodging.SOILS``."""
    height_class: str
    """One of ``feeds.yields.HEIGHT_CLASSES``."""


@dataclasses.dataclass(frozen=True)
class Hectares:
    """A hectare of each sowing at cutting, each (sowing, density, season, luck)."""

    straw: np.ndarray
    """All that stood. [t]"""
    reed: np.ndarray
    """What could be combed of it, had none lain. [t]"""
    grain: np.ndarray
    """Had none lain. [t]"""
    lodged: np.ndarray | None
    """Share that lies; None where the record has no gusts. [0–1]"""
    seed: np.ndarray
    """Sown, (sowing, density). [kg]"""

    def gbp(self, worth):
        """What it brings over its seed, (sowing, density, season, luck).

        Parameters
        ----------
        worth : array_like, shape (sowing, season)
            Share of a perfect crop that the harvest leaves. [0–1]
        """
        lodged = 0.0 if self.lodged is None else self.lodged
        lost, prices = sowing_dates.lodged_losses(), perfect_crop.yields()
        reed = left_of(self.reed, lodged, lost.reed_lost) * prices.reed_gbp_per_t
        grain = left_of(self.grain, lodged, lost.grain_lost) * prices.grain_gbp_per_t
        seed = self.seed * sowing_dates.seed().gbp_per_t / KG_PER_T
        brought = worth[:, np.newaxis, :, np.newaxis] * (reed + grain)
        return brought - seed[..., np.newaxis, np.newaxis]


class Weights(NamedTuple):
    """Lucks of straw and grain, (draw,): those of a season together."""

    supply: np.ndarray
    """Of nitrogen. [kg ha⁻¹]"""
    luck: crop.Luck
    levels: np.ndarray
    """Of straw and of grain, (2, draw). [1]"""
    recovery: np.ndarray
    """Share of the sheaves' straw that the drum makes reed of. [0–1]"""


class Gusts(NamedTuple):
    """Gusts and what stands in them, (draw,): those of a season together."""

    gust: np.ndarray
    """At the mast, (draw, day). [m s⁻¹]"""
    mechanics: Mechanics
    """(draw, patch)."""
    factor: np.ndarray
    """Multiplies the gusts that a stand bears. [1]"""


def gales_of(crops):
    """The `Gales` that the crops stood in; None where too few gusts are on record.

    Parameters
    ----------
    crops : Crops
    """
    gust = crops.days.known.record.values.get("gust", np.nan)
    if np.count_nonzero(np.isfinite(gust)) < LEAST_BOTH:
        return None
    return gales(crops)


def draw_weights(n_seasons, ground, rng):
    """`Weights` of so many seasons.

    Parameters
    ----------
    n_seasons : int
    ground : Ground
    rng : numpy.random.Generator
    """
    n_draws = n_seasons * LUCKS
    supply = supply_of(ground.nitrogen_index, nitrogen.index_bands())
    return Weights(
        rng.uniform(*supply, n_draws),
        crop.draw_luck(yields.part("years"), yields.part("stand"), n_draws, rng),
        draw_level(prior_level(yields.part("level")), n_draws, rng),
        crop.draw_recovery(*usual_shares(combed=True), n_draws, rng),
    )


def draw_gusts(gale, ground, rng):
    """`Gusts` of a gale's seasons.

    Parameters
    ----------
    gale : Gales
    ground : Ground
    rng : numpy.random.Generator
    """
    season, prior = _seasons(gale), lodging.standing_prior()
    return Gusts(
        gale.gusts(season, rng),
        possible_mechanics(ground.soil, len(season), rng),
        prior.usual_factor * rng.lognormal(0.0, prior.factor_sd, len(season)),
    )


def hectares(crops, plants, ground, gale, rng, firmer=1.0):
    """`Hectares` of some crops.

    Parameters
    ----------
    crops : Crops
    plants : sequence of float
        Each density. [m⁻²]
    ground : Ground
    gale : Gales or None
        Of the same crops.
    rng : numpy.random.Generator
    firmer : float
        Multiplies the gusts that the field can bear. [1]
    """
    for_weights, for_gusts = rng.spawn(2)
    days, plants = crops.days, np.array(plants, dtype=float)
    n_seasons = len(days.years)
    after_september = days_after(sowing.SEPTEMBER_ENDS, days.sowings)
    weights = draw_weights(n_seasons, ground, for_weights)
    each = list(_weighed(plants, ground, after_september, weights))
    if gale is not None:
        gusts = draw_gusts(gale, ground, for_gusts)
        weeks_later = days_after(lodging.usual_sowing(), days.sowings) / 7
        each.append(_lodged(plants, ground, weeks_later, gale, gusts, firmer))
    # The lucks of a season lie together.
    each = [every.reshape(*every.shape[:2], n_seasons, LUCKS) for every in each]
    straw, reed, grain, lodged = (*each, None)[:4]
    return Hectares(straw, reed, grain, lodged, _seed(plants, after_september))


def days_after(day, sowings):
    """Days from one day of the season to each sowing, (sowing,). [d]

    Parameters
    ----------
    day : pair of int
        Month and day.
    sowings : sequence of pair of int
    """
    return np.array([sowing.days_after(day, sown) for sown in plain_dates(sowings)])


def _seed(plants, days):
    """Seed for each stand by the days after September, (sowing, density). [kg ha⁻¹]"""
    comes_up = by_date(days, sowing.established_by_date())[:, np.newaxis]
    seeds = seeds_for(plants, 1.0, comes_up)
    return rate_of(seeds, sowing_dates.seed().thousand_grain_weight)


def _weighed(plants, ground, days, drawn):
    """Straw, reed and grain, (sowing, density, draw). [t ha⁻¹]"""
    wheat = yields.height_class(ground.height_class)
    plants, days = plants[:, np.newaxis], days[:, np.newaxis, np.newaxis]
    grown = grown_like(wheat, drawn.supply, plants, days, drawn.luck)
    straw, grain = (each * by for each, by in zip(grown, drawn.levels, strict=True))
    return straw, bound(straw, wheat.height) * drawn.recovery, grain


def _lodged(plants, ground, weeks_later, gale, drawn, firmer):
    """Share that lies, (sowing, density, draw). [0–1]"""
    season, mechanics = _seasons(gale), drawn.mechanics
    wetness = gale.wetness(season, mechanics)
    husbandry = Husbandry(
        plants_per_m2=plants,
        height=yields.height_class(ground.height_class).height / CM_PER_M,
        nitrogen_index=ground.nitrogen_index,
        weeks_later=weeks_later[:, np.newaxis],
    )
    return season_share(
        husbandry,
        Days(drawn.gust, wetness, gale.standing[:, np.newaxis, season]),
        mechanics,
        lodging.effects(),
        firmer * drawn.factor,
    )


def _seasons(gale):
    """Season of each draw, (draw,)."""
    return np.repeat(np.arange(len(gale.years)), LUCKS)
