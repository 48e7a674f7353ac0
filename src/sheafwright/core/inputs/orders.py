"""What lots are allotted and loaded by."""

import dataclasses


@dataclasses.dataclass(frozen=True)
class Allotting:
    """What counts besides the price."""

    promise: float
    """Of a promise kept in full. [GBP]"""
    haulage: float
    """Of a load. [GBP km⁻¹]"""
    lot: float
    """Of each lot that an order is made up of. [GBP]"""
    ageing: float
    """Of a kilogram left for a year. [GBP kg⁻¹ a⁻¹]"""
    counted_on: float
    """Chance to which what is to come is counted on. [0–1]"""
    shown_sure: float
    """Chance by which a day is named. [0–1]"""
    long_enough: float
    """Share of a lot's stems that reach the length that it is said to have. [0–1]"""


@dataclasses.dataclass(frozen=True)
class ToCome:
    """When straw that isn't combed yet is ready: early, middling, late."""

    rick_days: tuple[float, float, float]
    """From now, of sheaves in a rick. [d]"""
    crop_days: tuple[float, float, float]
    """From 1 August of its harvest, of a standing crop. [d]"""


@dataclasses.dataclass(frozen=True)
class Loading:
    """Bundles on a deck."""

    bundle: float
    """[kg]"""
    density: float
    """Of a bundle. [kg m⁻³]"""
    filled: float
    """Of the room on the deck. [0–1]"""
    most_high: float
    """Above the deck. [m]"""
    worth_going: float
    """Share of what a vehicle carries, below which a last load is pointed out. [0–1]"""


@dataclasses.dataclass(frozen=True)
class Vehicle:
    """A lorry or a trailer."""

    length: float
    """Of its deck. [m]"""
    width: float
    """[m]"""
    payload: float
    """[kg]"""
