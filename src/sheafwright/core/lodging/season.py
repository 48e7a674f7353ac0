"""Gusts felt and gusts that fell a crop, day by day: the share of a field that lies.

A patch of a field lies from the day on which a gust passes what it can bear, at the
stem or at the roots. A gust on softened ground counts, for the roots, as the stronger
one that would do as much on ground that is full of water: so wetness moves the gusts
and not the patches, and the strongest gust so far is all that need be kept.
"""

import dataclasses
from typing import NamedTuple

import numpy as np

from sheafwright.core.lodging.anchorage import anchorage_strength, by_density
from sheafwright.core.lodging.stem import (
    base_moment,
    failing_gust,
    overshoot,
    stem_strength,
)
from sheafwright.core.lodging.wind import gust_at_crop
from sheafwright.core.soil.strength import shear_strength


class Both(NamedTuple):
    """One thing of stems and of roots."""

    stem: np.ndarray
    root: np.ndarray


class Days(NamedTuple):
    """The days of whole seasons, wind and rain as they came together."""

    gust: np.ndarray
    """Strongest at the mast, (draw, day). [m s⁻¹]"""
    wetness: np.ndarray
    """Of the topsoil as the gusts come, (draw, day). [0–1]"""
    standing: np.ndarray
    """Whether it is a day from ear emergence to cutting, (..., draw, day)."""


def season_share(husbandry, days, mechanics, effects, factor=1.0):
    """Share of a field that lies by cutting, (..., draw). [0–1]

    Every crop meets the same luck, so crops may be set beside each other.

    Parameters
    ----------
    husbandry : Husbandry, (...)
    days : Days
    mechanics : Mechanics, (draw, patch)
    effects : HusbandryEffects
    factor : array_like, shape (..., draw)
        Multiplies the gusts that a crop can bear. [1]
    """
    felt = felt_gusts(days, husbandry.height, mechanics)
    failing = failing_gusts(husbandry, mechanics, effects)
    return share_lodged(load(felt, failing), factor)


def draw_mechanics(mechanics, doubt, patches, shape, rng):
    """Possible stands, each with its patches: `Mechanics` of arrays (draw, patch).

    Parameters
    ----------
    mechanics : Mechanics
        Of plain values.
    doubt : Doubt
        Alike for the whole of a field.
    patches : Patches
        From patch to patch of it.
    shape : pair of int
        Numbers of draws and of patches.
    rng : numpy.random.Generator
    """
    n_draws, n_patches = shape
    drawn = {n: getattr(mechanics, n) for n in _names(doubt)}
    for spreads, size in ((doubt, (n_draws, 1)), (patches, (n_draws, n_patches))):
        for name in _names(spreads):
            sd = getattr(spreads, name)
            drawn[name] = drawn[name] * np.exp(sd * _normal_scores(size, rng))
    return dataclasses.replace(mechanics, **drawn)


def _normal_scores(size, rng):
    """Normal numbers with one draw from each equal part of the chances.

    So every doubt is met in its right measure however few the draws (McKay, Beckman and
    Conover 1979, Technometrics 21, from memory).
    """
    from scipy.special import ndtri

    parts = np.broadcast_to(np.arange(size[0])[:, np.newaxis], size)
    part = rng.permuted(parts, axis=0)
    return ndtri((part + rng.random(size)) / size[0])


def taken(mechanics, chosen):
    """Some of the draws, as `Mechanics`."""
    values = {n: getattr(mechanics, n) for n in _names(mechanics)}
    some = {n: v[chosen] for n, v in values.items() if np.ndim(v)}
    return dataclasses.replace(mechanics, **some)


def failing_gusts(husbandry, mechanics, effects):
    """Gust at the crop's top that each patch can just not bear, (..., draw, patch).

    For the roots on ground full of water. `Both`. [m s⁻¹]

    Parameters
    ----------
    husbandry : Husbandry, (...)
    mechanics : Mechanics, (draw, patch)
    effects : HusbandryEffects
    """
    husbandry, drawn = _beside_patches(husbandry), mechanics
    moment = unit_moment(husbandry.height, drawn)
    stem = stem_strength(drawn.yield_stress, *_stem(husbandry, drawn, effects))
    spread, shoots = roots(husbandry.plants_per_m2, drawn, effects)
    root = anchorage_strength(drawn.wet_strength, spread, drawn.cone_factor)
    firmer = firmness(husbandry, effects)
    return Both(
        failing_gust(stem, moment) * firmer.stem,
        failing_gust(root, shoots * moment) * firmer.root,
    )


def unit_moment(height, mechanics):
    """Moment on one shoot in a gust of 1 m s⁻¹. [N m]

    Parameters
    ----------
    height : array_like
        Of the crop. [m]
    mechanics : Mechanics
    """
    swing = 1 + mechanics.overshoot_counts * (overshoot(mechanics.damping) - 1)
    return base_moment(
        1.0,
        mechanics.ear_area,
        mechanics.drag,
        mechanics.centre_share * height,
        mechanics.frequency_height / height,
        swing,
    )


def roots(plants, mechanics, effects):
    """Root spread [m] and shoots on a plant [1]: never the one without the other.

    Parameters
    ----------
    plants : array_like
        [m⁻²]
    mechanics : Mechanics
    effects : HusbandryEffects
    """
    usual = effects.usual_plants
    spread = by_density(mechanics.root_spread, plants, usual, effects.spread_exponent)
    shoots = by_density(mechanics.shoots_per_m2, plants, usual, effects.shoots_exponent)
    return spread, shoots / plants


def firmness(husbandry, effects):
    """What nitrogen and sowing date make of failing gusts, as `Both`. [1]

    Points of a score of standing, each worth a gust, over the gust in which such crops
    go down; as a power, so that no gust comes to nothing.

    Parameters
    ----------
    husbandry : Husbandry
    effects : HusbandryEffects
    """
    most = effects.most_weeks
    later = np.clip(husbandry.weeks_later, -most, most) * effects.score_per_week_later
    richer = np.subtract(husbandry.nitrogen_index, effects.usual_index)
    point = effects.gust_per_score / effects.usual_failing_gust
    return Both(
        np.exp(point * (later - effects.stem_score_per_index * richer)),
        np.exp(point * (later - effects.root_score_per_index * richer)),
    )


def felt_gusts(days, height, mechanics):
    """What stems and roots feel each day, `Both` (..., draw, day). [m s⁻¹]

    Nothing is felt on a day on which no crop stands in ear.

    Parameters
    ----------
    days : Days
    height : array_like, shape (...)
        Of the crop. [m]
    mechanics : Mechanics, (draw, patch)
        What it has of wind and of soil's loss of strength is alike in all patches.
    """
    stem = gust_at_crop(
        days.gust,
        np.asarray(height)[..., np.newaxis, np.newaxis],
        mechanics.mast_gust_factor,
        mechanics.turbulence,
        mechanics.peak_factor,
        mechanics.blending_height,
    )
    over_wet = shear_strength(days.wetness, mechanics.dry_over_wet, 1.0)
    root = stem / np.sqrt(over_wet)
    return Both(*(np.where(days.standing, each, 0.0) for each in (stem, root)))


def load(felt, failing):
    """Worst of a season on each patch, over what it can bear, (..., draw, patch). [1]

    Parameters
    ----------
    felt : Both, (..., draw, day)
        [m s⁻¹]
    failing : Both, (..., draw, patch)
        [m s⁻¹]
    """
    stem, root = (
        days.max(axis=-1)[..., np.newaxis] / patches
        for days, patches in zip(felt, failing, strict=True)
    )
    return np.maximum(stem, root)


def share_lodged(load, factor=1.0):
    """Share of a field that lies at the end of a season, (..., draw). [0–1]

    Parameters
    ----------
    load : array_like, shape (..., draw, patch)
        From `load`; NaN where a day is missing. [1]
    factor : array_like, shape (..., draw)
        Multiplies what every patch can bear. [1]
    """
    lies = load >= np.asarray(factor)[..., np.newaxis]
    return np.where(np.isnan(load), np.nan, lies).mean(axis=-1)


def shares_by_day(felt, failing):
    """Share that lies at each day's end, by what gave way first, `Both`. [0–1]

    Parameters
    ----------
    felt : Both, (..., draw, day)
        NaN from a missing day on gives NaN for the whole season. [m s⁻¹]
    failing : Both, (..., draw, patch)
        [m s⁻¹]
    """
    strongest = Both(*(np.maximum.accumulate(each, axis=-1) for each in felt))
    day = Both(*map(_first_day, strongest, failing))
    by_stem = _stem_first(strongest, failing, day)
    n_days = felt.stem.shape[-1]
    missing = np.isnan(strongest.root[..., -1:])
    shares = (
        _share_by(np.where(mine, each, n_days), n_days)
        for each, mine in zip(day, (by_stem, ~by_stem), strict=True)
    )
    return Both(*(np.where(missing, np.nan, share) for share in shares))


def _names(values):
    return [field.name for field in dataclasses.fields(values)]


def _beside_patches(husbandry):
    """The husbandry with axes for draws and patches."""
    added = {
        name: np.asarray(getattr(husbandry, name), dtype=float)[..., None, None]
        for name in _names(husbandry)
    }
    return dataclasses.replace(husbandry, **added)


def _stem(husbandry, mechanics, effects):
    """Diameter and wall of the stem at some density. [m]"""
    return tuple(
        by_density(
            usual, husbandry.plants_per_m2, effects.usual_plants, effects.stem_exponent
        )
        for usual in (mechanics.stem_diameter, mechanics.stem_wall)
    )


def _first_day(strongest, failing):
    """Day on which each patch goes down, (..., draw, patch); n_days for never."""
    borne = strongest[..., :, np.newaxis] < failing[..., np.newaxis, :]
    return np.count_nonzero(borne, axis=-2)


def _stem_first(strongest, failing, day):
    """Whether the stem gave way before the roots did.

    On one day it is the one that needed the weaker gust: that was passed by more.
    """
    last = np.minimum(np.minimum(*day), strongest.stem.shape[-1] - 1)
    stem, root = (
        np.take_along_axis(each, last, axis=-1) / bears
        for each, bears in zip(strongest, failing, strict=True)
    )
    return (day.stem < day.root) | ((day.stem == day.root) & (stem > root))


def _share_by(day, n_days):
    """Share of patches that went down on each day or before, (..., draw, day)."""
    down = day[..., np.newaxis, :] <= np.arange(n_days)[:, np.newaxis]
    return np.count_nonzero(down, axis=-1) / day.shape[-1]
