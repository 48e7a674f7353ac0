"""How fast harvest work goes, from the tables."""

import dataclasses

from sheafwright.core.inputs.work import (
    Binder,
    Cart,
    Carting,
    Day,
    HalfDay,
    Stooking,
    Twine,
)
from sheafwright.feeds.tables import build_shipped


@dataclasses.dataclass(frozen=True)
class Known:
    """What others have counted, to hold ours against."""

    hand_hours_per_ha: float
    """Of the whole harvest. [h/ha]"""
    bad_mis_ties: tuple[float, float]
    """With bad twine. [in 100]"""


@dataclasses.dataclass(frozen=True)
class WorkRates:
    """All of them."""

    binder: Binder
    day: Day
    half_day: HalfDay
    stooking: Stooking
    carting: Carting
    cart: Cart
    twine: Twine
    known: Known


def work_rates():
    """`WorkRates` of the package."""
    return WorkRates(
        **{
            field.name: build_shipped(field.type, "work_rates", field.name)
            for field in dataclasses.fields(WorkRates)
        }
    )
