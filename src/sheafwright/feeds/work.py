"""How fast harvest work goes, from the tables."""

import dataclasses

from sheafwright.core.inputs.work import Binder, Cart, Carting, Day, Stooking, Twine
from sheafwright.feeds.tables import build, shipped


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
    stooking: Stooking
    carting: Carting
    cart: Cart
    twine: Twine
    known: Known


def work_rates():
    """`WorkRates` of the package."""
    table = shipped("work_rates")
    return WorkRates(
        **{
            field.name: build(
                field.type, table[field.name], f"work_rates.toml [{field.name}]"
            )
            for field in dataclasses.fields(WorkRates)
        }
    )
