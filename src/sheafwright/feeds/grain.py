"""Terms, prices and milling of grain, from the tables."""

import dataclasses

from sheafwright.feeds.tables import build_shipped

FLOURS = ("wholemeal", "brown", "stone_white", "white")


@dataclasses.dataclass(frozen=True)
class Terms:
    """Of a buyer of milling wheat: what is full quality, and what is refused."""

    protein_full: float
    """Of dry matter. [%]"""
    protein_least: float
    protein_gbp_per_point: float
    hagberg_full: float
    """[s]"""
    hagberg_least: float
    hagberg_gbp_per_s: float
    weight_full: float
    """[kg/hl]"""
    weight_least: float
    weight_gbp_per_kg: float
    moisture_most: float
    """Wet basis. [1]"""
    moisture_refused: float
    """Sold damp. [1]"""
    moisture_gbp_per_point: float
    """Sold damp; a point is 1%."""
    admixture_most: float
    """[%]"""


@dataclasses.dataclass(frozen=True)
class Prices:
    """Each field's name bears its unit."""

    milling_gbp_per_t: float
    feed_gbp_per_t: float
    flour_gbp_per_kg: float
    offal_gbp_per_t: float
    screenings_gbp_per_t: float
    seed_gbp_per_t: float


@dataclasses.dataclass(frozen=True)
class Handling:
    """Drying and dressing."""

    screenings: float
    """[1]"""
    drying_gbp_per_point: float
    dressing_gbp_per_t: float
    wheat_haulage_gbp_per_t: float


@dataclasses.dataclass(frozen=True)
class Milling:
    """Flour of what leaves the stones, and what it costs."""

    white: tuple[float, float]
    stone_white: tuple[float, float]
    brown: tuple[float, float]
    wholemeal: tuple[float, float]
    lost: float
    """[1]"""
    milling_gbp_per_t: float
    packing_gbp_per_t: float
    selling_share: float
    """Of the price. [1]"""


@dataclasses.dataclass(frozen=True)
class Store:
    """How grain in store is watched."""

    insects_breed: float
    """Above this. [°C]"""
    look_every_d: float


def store():
    """`Store` of the package."""
    return build_shipped(Store, "storage", "store")


def buyers_terms():
    """`Terms` of the package."""
    return build_shipped(Terms, "grain", "terms")


def usual_prices():
    """`Prices` of the package."""
    return build_shipped(Prices, "grain", "prices")


def handling():
    """`Handling` of the package."""
    return build_shipped(Handling, "grain", "handling")


def milling():
    """`Milling` of the package."""
    return build_shipped(Milling, "grain", "milling")
