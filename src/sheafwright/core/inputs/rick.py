"""How the heat, the room and the keeping of a rick are judged."""

import dataclasses
import math


@dataclasses.dataclass(frozen=True)
class HeatStep:
    """One step of danger."""

    from_temperature: float = -math.inf
    """It begins here. [°C]"""
    check_hours: float = math.nan
    """Probed again within; NaN where nobody should be near. [h]"""


@dataclasses.dataclass(frozen=True)
class Probing:
    """How long a rick is watched, and which readings count."""

    settling_days: int
    """From building; the danger is greatest then. [d]"""
    settled_check_hours: float
    """A cool rick that has settled is probed again within. [h]"""
    counts_hours: float
    """Readings so long before the last one count, for the hottest and the rise. [h]"""
    rise_least_hours: float
    """Readings closer together than this tell no rise. [h]"""


@dataclasses.dataclass(frozen=True)
class Apart:
    """How far a rick is usually kept from other things, at the least."""

    buildings: float
    """[m]"""
    road: float
    """From roads and paths. [m]"""
    rick: float
    """From the next. [m]"""


@dataclasses.dataclass(frozen=True)
class Density:
    """What a cubic metre of sheaves weighs once settled: as little, as much."""

    lightest: float
    """[kg m⁻³]"""
    heaviest: float
    """[kg m⁻³]"""


@dataclasses.dataclass(frozen=True)
class Settling:
    """How a rick sinks after it is built."""

    share: float
    """Of its height as built, that it loses in the end. [0–1]"""
    time_constant: float
    """Days in which 63 % of that is lost. [d]"""


@dataclasses.dataclass(frozen=True)
class Building:
    """What is allowed for when a rick is laid out."""

    overhang: float
    """That thatch or sheet runs out beyond the eaves, level. [m]"""
    steepest: float
    """Height of the eaves over width of the base, above which it may slump. [1]"""


@dataclasses.dataclass(frozen=True)
class GrainLife:
    """Days until one seed in twenty has died: log₁₀ t = a − b M − c T.

    M in per cent, wet basis, T in °C; one set of a, b, c below the bend in moisture
    and one above.
    """

    driest: float
    """The equations hold from here, wet basis ... [0–1]"""
    bend: float
    """... change over here ... [0–1]"""
    dampest: float
    """... and hold to here. [0–1]"""
    dry: tuple[float, float, float]
    """a, b, c up to the bend."""
    damp: tuple[float, float, float]
    """a, b, c above it."""


@dataclasses.dataclass(frozen=True)
class Keeping:
    """How long grain in the ear and straw may lie in a rick."""

    coolest: float
    """Cooler grain is taken to be as warm as this. [°C]"""
    warmest: float
    """Above it no equation of keeping holds. [°C]"""
    half_spent: float
    """Share of the grain's life at which it should be threshed. [0–1]"""
    straw_long: float
    """Straw keeps up to this moisture, wet basis. [0–1]"""
    straw_short: float
    """It keeps for weeks up to this one; damper it is not ricked. [0–1]"""
    damage: float
    """Broken grain. [0–1]"""
    weight_loss: float
    """Of grain in store, water and vermin in it. [month⁻¹]"""
