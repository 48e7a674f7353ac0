"""What stands on a hectare of each sowing, and what would it bring?

Gusts and rain are those of each season's own days. What the record can't tell, the luck
of straw and grain and how firmly the field stands, is drawn several times a season,
alike for every sowing.
"""

import dataclasses
from typing import NamedTuple

import numpy as np

from sheafwright.answers import perfect_crop
from sheafwright.answers.gales import gales
from sheafwright.answers.sowing_seasons import dates_in
from sheafwright.core.crop import yields as crop
from sheafwright.core.crop.yield_level import draw_level, prior_level
from sheafwright.core.inputs.lodging import Husbandry
from sheafwright.core.lodging.season import Days, draw_mechanics, season_share
from sheafwright.core.season.sowings import left_of
from sheafwright.core.soil.nitrogen import supply_of
from sheafwright.core.soil.strength import topsoil_capacity, topsoil_wetness
from sheafwright.core.stand.seed_rate import rate_of, seeds_for
from sheafwright.core.stand.target import by_date
from sheafwright.feeds import (
    lodging,
    nitrogen,
    outturns,
    sowing,
    sowing_dates,
    yields,
)

LUCKS, PATCHES = 10, 40
"""Possible stands and lucks in each season, and patches of each stand."""
SEPTEMBER = (9, 30)
"""Stands are told apart by days after this."""
PLAIN_YEAR = np.array([2001])
"""Of a harvest without a leap day."""
CM_PER_M, KG_PER_T = 100, 1000


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


def gales_of(crops):
    """The `Gales` that the crops stood in; None where the record has no gusts.

    Parameters
    ----------
    crops : Crops
    """
    return gales(crops) if "gust" in crops.days.known.record.values else None


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
    for_weights, for_stands = rng.spawn(2)
    days, plants = crops.days, np.array(plants, dtype=float)
    shape = len(days.sowings), len(plants), len(days.years), LUCKS
    after_september = days_after(SEPTEMBER, days.sowings)
    weights = _weights(shape, plants, ground, after_september, for_weights)
    seed = _seed(plants, after_september)
    if gale is None:
        return Hectares(*weights, None, seed)
    weeks_later = days_after(lodging.usual_sowing(), days.sowings) / 7
    lodged = _lodged(plants, ground, weeks_later, gale, for_stands, firmer)
    return Hectares(*weights, lodged.reshape(shape), seed)


def days_after(day, sowings):
    """Days from one day of the season to each sowing, (sowing,). [d]

    Parameters
    ----------
    day : pair of int
        Month and day.
    sowings : sequence of pair of int
    """
    first, *others = (dates_in(PLAIN_YEAR, *each)[0] for each in (day, *sowings))
    return np.array([(each - first).astype(int) for each in others])


def _seed(plants, days):
    """Seed for each stand by the days after September, (sowing, density). [kg ha⁻¹]"""
    comes_up = by_date(days, sowing.established_by_date())[:, np.newaxis]
    seeds = seeds_for(plants, 1.0, comes_up)
    return rate_of(seeds, sowing_dates.seed().thousand_grain_weight)


def _weights(shape, plants, ground, days, rng):
    """Straw, reed and grain, each (sowing, density, season, luck). [t ha⁻¹]"""
    n_draws = shape[-2] * shape[-1]
    wheat = yields.height_class(ground.height_class)
    seen = yields.height_class(yields.RESPONSE_WHEAT)
    stand, cutting = yields.part("stand"), yields.part("cutting")
    supply = supply_of(ground.nitrogen_index, nitrogen.index_bands())
    grown = crop.grown(
        rng.uniform(*supply, n_draws),
        plants[:, np.newaxis],
        crop.half_full_plants(days, stand)[:, np.newaxis, np.newaxis],
        crop.odds(wheat.harvest_index) / crop.odds(seen.harvest_index),
        yields.part("nitrogen"),
        crop.draw_luck(yields.part("years"), stand, n_draws, rng),
    )
    levels = draw_level(prior_level(yields.part("level")), n_draws, rng)
    straw, grain = (each * level for each, level in zip(grown, levels, strict=True))
    usual = outturns.usual_shares(combed=True)
    reed = crop.bound_straw(
        straw, wheat.height, cutting.stubble, cutting.butt_weight
    ) * crop.draw_recovery(usual["reed"], usual["rest"], n_draws, rng)
    return tuple(each.reshape(shape) for each in (straw, reed, grain))


def _lodged(plants, ground, weeks_later, gale, rng, firmer):
    """Share that lies, (sowing, density, draw), each season's lucks together. [0–1]"""
    season = np.repeat(np.arange(len(gale.years)), LUCKS)
    prior = lodging.standing_prior()
    mechanics = draw_mechanics(
        lodging.mechanics(ground.soil),
        lodging.doubt(),
        lodging.patches(),
        (len(season), PATCHES),
        rng,
    )
    bears = prior.usual_factor * rng.lognormal(0.0, prior.factor_sd, len(season))
    capacity = topsoil_capacity(mechanics.rooting_depth, mechanics.available_water)
    wetness = topsoil_wetness(
        gale.rain[season], gale.evapotranspiration[season], capacity[:, 0]
    )
    standing = gale.standing[:, np.newaxis, season]
    husbandry = Husbandry(
        plants_per_m2=plants,
        height=yields.height_class(ground.height_class).height / CM_PER_M,
        nitrogen_index=ground.nitrogen_index,
        weeks_later=weeks_later[:, np.newaxis],
    )
    return season_share(
        husbandry,
        Days(gale.gusts(season, rng), wetness, standing),
        mechanics,
        lodging.effects(),
        firmer * bears,
    )
