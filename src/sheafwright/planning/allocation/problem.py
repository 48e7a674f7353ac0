"""What buyers want, and what there is to give them."""

import dataclasses
from collections.abc import Hashable, Mapping
from typing import NamedTuple

ANY = frozenset()
"""Of grades and varieties: whichever there is."""
LIKELY = 0.5
"""A lot counts as of a grade that it is likelier to have than not. [1]"""


class Against(NamedTuple):
    """One thing for which a lot doesn't suit an order."""

    rule: str
    """One of ``RULES``."""
    wanted: object
    there: object


RULES = (
    "kind",
    "apart",
    "length",
    "grade",
    "variety",
    "organic",
    "late",
    "small",
)


@dataclasses.dataclass(frozen=True)
class Want:
    """An order, or what a buyer asks about."""

    name: str
    kind: str
    kg: float
    """[kg]"""
    gbp_per_kg: float
    """[GBP kg⁻¹]"""
    by: int | None = None
    """Last day on which it is of use, counted from any day; None for any."""
    least_length: float | None = None
    """[m]"""
    grades: frozenset[Hashable] = ANY
    varieties: frozenset[str] = ANY
    organic: bool = False
    most_lots: int | None = None
    """That it may be made up of; 1 for a single lot."""
    whole: bool = False
    """All of it or none: half a roof is no use."""
    first_refusal: bool = False
    promised: bool = True
    distance: float = 0.0
    """By road, one way. [km]"""
    weight: float = 1.0
    """By which keeping this promise counts."""
    customer: str = ""
    """Whose own rule grades lots for it, if there is one."""


@dataclasses.dataclass(frozen=True)
class Stock:
    """A lot in store, or one that the standing crop should give."""

    name: str
    kind: str
    kg: float
    """That may be counted on. [kg]"""
    length: float | None = None
    """None where nobody measured. [m]"""
    grades: Mapping[Hashable, float] = dataclasses.field(default_factory=dict)
    """Each grade to the chance that it is as good as that. [0–1]"""
    grades_for: Mapping[str, Mapping[Hashable, float]] = dataclasses.field(
        default_factory=dict
    )
    """The same by the own rules of some customers."""
    variety: str = ""
    organic: bool = False
    ready: int = 0
    """Day from which it can leave."""
    apart: bool = False
    """Kept from sale."""
    chance: float = 1.0
    """That it comes at all as counted on. [0–1]"""
    ageing_gbp_per_kg: float = 0.0
    """What a kilogram loses by being left. [GBP kg⁻¹]"""

    def graded(self, want):
        """Its grades as they are for an order."""
        return self.grades_for.get(want.customer, self.grades)

    def sure(self, want):
        """Chance that its grade is one of those that an order asks for. [0–1]"""
        if not want.grades:
            return 1.0
        graded = self.graded(want)
        return max(graded.get(grade, 0.0) for grade in want.grades)


class Pin(NamedTuple):
    """So much of a lot is kept for an order already."""

    want: str
    stock: str
    kg: float
    """[kg]"""


@dataclasses.dataclass(frozen=True)
class Rates:
    """What counts besides the price."""

    promise_gbp: float
    """Of a promise kept in full. [GBP]"""
    load_kg: float
    """That one load carries. [kg]"""
    haulage_gbp_per_km: float
    """Of a load, there and back counted as twice the way. [GBP km⁻¹]"""
    lot_gbp: float
    """For each further lot that an order is made up of: handling. [GBP]"""


@dataclasses.dataclass(frozen=True)
class Problem:
    """The whole question."""

    wants: tuple[Want, ...]
    stocks: tuple[Stock, ...]
    rates: Rates
    pins: tuple[Pin, ...] = ()


@dataclasses.dataclass(frozen=True)
class Plan:
    """Who gets how much of which lot."""

    given: dict[tuple[str, str], float]
    """By order and lot; nothing where none. [kg]"""
    worth: float
    """[GBP]"""
    bound: float
    """No plan is worth more. [GBP]"""

    def to(self, want):
        """{lot: kg} of an order."""
        return {s: kg for (w, s), kg in self.given.items() if w == want}
