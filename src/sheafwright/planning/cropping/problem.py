"""What a plan is asked for, as plain values."""

import dataclasses
from collections.abc import Mapping
from typing import NamedTuple

from sheafwright.core.inputs.cropping import (
    Buyer,
    Crop,
    Ground,
    Hands,
    Increase,
    Rotation,
    Seasons,
    SeedPlot,
    Straw,
    Wanted,
)
from sheafwright.planning.cropping.rotation import State

ORGANIC, IN_CONVERSION, NOT_ORGANIC = range(3)
"""How a crop may be sold; places in a crop's prices."""


class Choice(NamedTuple):
    """A crop that a field may grow in a year, were it not for the rotation."""

    crop: str
    status: int
    """``ORGANIC`` and so on."""


@dataclasses.dataclass(frozen=True)
class Field:
    """A field that takes part in the rotation."""

    name: str
    area: float
    """[ha]"""
    state: State
    """After the last harvest before the plan."""
    choices: tuple[tuple[Choice, ...], ...]
    """By year."""


@dataclasses.dataclass(frozen=True)
class Problem:
    """The whole question, without the pins."""

    years: tuple[int, ...]
    """Harvests."""
    fields: tuple[Field, ...]
    crops: Mapping[str, Crop]
    rotation: Rotation
    ground: Ground
    seasons: Seasons
    hands: Hands
    straw: Straw
    seed_plot: SeedPlot
    hours: tuple[float, ...]
    """By week of the year, the first to the 52nd. [h]"""
    binder_ha_per_week: float
    buyers: tuple[Buyer, ...]
    """The best payer first; surplus goes at the surplus price."""
    wanted: tuple[Wanted, ...] = ()
    varieties: Mapping[str, str] = dataclasses.field(default_factory=dict)
    """Crop to the variety sown of it."""
    increase: Increase | None = None
