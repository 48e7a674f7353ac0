"""What is asked of orders and lots, and as what the model has it."""

import dataclasses
import datetime
import math
from collections.abc import Hashable, Mapping

from sheafwright.answers import wording
from sheafwright.answers.asked_grades import as_written
from sheafwright.core.constants import KG_PER_T
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.orders import VEHICLES, allotting, loading, vehicle
from sheafwright.feeds.telling import mark, measured, say
from sheafwright.planning.allocation.problem import Pin, Problem, Rates, Stock, Want

KINDS = {
    "reed": mark("combed reed"),
    "long_straw": mark("long straw"),
    "grain": mark("grain"),
    "tail": mark("tail corn"),
    "flour": mark("flour"),
    "bran": mark("bran"),
}
MOST_ORDERS, MOST_LOTS = 40, 60
FRESH_YEARS = 1
"""Straw so old still counts as new."""


@dataclasses.dataclass(frozen=True)
class OrderAsked:
    """One order, or what a buyer asks about."""

    name: str
    customer: str
    kind: str
    kg: float
    """Not yet delivered. [kg]"""
    gbp_per_t: float
    by: datetime.date | None = None
    """Last day on which it is of use."""
    least_length: float | None = None
    """[m]"""
    grades: frozenset[Hashable] = frozenset()
    """Any of these, as `asked_grades` has them; any at all if there are none."""
    varieties: frozenset[str] = frozenset()
    organic: bool = False
    most_lots: int | None = None
    whole: bool = False
    """All of it or none."""
    first_refusal: bool = False
    promised: bool = True
    """An order that was taken; not what is asked about or quoted."""
    distance: float = 0.0
    """By road, one way. [km]"""
    reserved: Mapping[str, float] = dataclasses.field(default_factory=dict)
    """Lot to what is kept of it for this order. [kg]"""
    since: datetime.date | None = None
    """First day on which it is taken."""

    def __post_init__(self):
        _check_kind(self.kind)
        _check_mass(say("{name} asks for", name=self.name), self.kg)
        # Written so that NaN is refused too.
        if not 0 <= self.gbp_per_t <= 1e5:
            raise OutOfRange(
                "{name} pays £{price:g} a tonne; it should be £0 to £100,000.",
                name=self.name,
                price=self.gbp_per_t,
            )
        if None not in (self.since, self.by) and self.since > self.by:
            raise OutOfRange(
                "{name} is taken from {since} on and wanted by {by}; it should be "
                "wanted by a later day.",
                name=self.name,
                since=wording.date(self.since),
                by=wording.date(self.by),
            )


@dataclasses.dataclass(frozen=True)
class Known:
    """How good a lot is by one rule, and how that is known."""

    grades: Mapping[Hashable, float] = dataclasses.field(default_factory=dict)
    """Each to the chance that it is as good. [0–1]"""
    by: str = ""
    """One of `asked_grades.BY`; none where nobody said."""
    count: int = 0
    """Stems that were measured, or lots before it that were. [1]"""


@dataclasses.dataclass(frozen=True)
class LotAsked:
    """A lot in store."""

    name: str
    kind: str
    kg: float
    """[kg]"""
    harvest_year: int
    length: float | None = None
    """[m]"""
    grade: str = ""
    """As it was written down."""
    variety: str = ""
    organic: bool = False
    apart: bool = False
    known: Known | None = None
    """As it was graded; as it was written down, if not given."""
    known_for: Mapping[str, Known] = dataclasses.field(default_factory=dict)
    """The same by the own rules of some buyers."""
    length_by: str = ""
    """One of `asked_grades.BY`, or none."""
    length_stems: int = 0
    """That its length was measured of. [1]"""

    def __post_init__(self):
        _check_kind(self.kind)
        _check_mass(say("Lot {name} holds", name=self.name), self.kg)

    def for_buyer(self, customer):
        """How good it is for somebody: `Known`."""
        return _known(self, customer)


@dataclasses.dataclass(frozen=True)
class ToCome:
    """What a standing crop, or sheaves in a rick, should give."""

    name: str
    kind: str
    kg: tuple[float, float, float]
    """Of which it comes to no more in 1, 5 and 9 seasons of 10. [kg]"""
    ready: tuple[datetime.date, datetime.date, datetime.date]
    """By which it is ready in 1, 5 and 9 of 10."""
    length: float | None = None
    """[m]"""
    grade: str = ""
    variety: str = ""
    organic: bool = False
    known: Known | None = None
    """Of what grade it should be, by lots before it."""
    known_for: Mapping[str, Known] = dataclasses.field(default_factory=dict)
    length_by: str = ""

    def __post_init__(self):
        _check_kind(self.kind)
        if not all(0 <= kg < math.inf for kg in self.kg) or list(self.kg) != sorted(
            self.kg
        ):
            raise OutOfRange(
                "{name} should give a low, a middling and a high weight, each no less "
                "than the one before.",
                name=self.name,
            )
        if list(self.ready) != sorted(self.ready):
            raise OutOfRange(
                "{name} should be ready on an early, a middling and a late day, each "
                "no sooner than the one before.",
                name=self.name,
            )

    def for_buyer(self, customer):
        """How good it should be for somebody: `Known`."""
        return _known(self, customer)

    @property
    def surely(self):
        """What may be counted on, by the chance of the tables. [kg]"""
        low, middle, _high = self.kg
        share = (1 - allotting().counted_on - 0.1) / 0.4
        return low + share * (middle - low)

    @property
    def surely_by(self):
        """The day that may be counted on."""
        _early, middle, late = (day.toordinal() for day in self.ready)
        share = (allotting().counted_on - 0.5) / 0.4
        return math.ceil(middle + share * (late - middle))


@dataclasses.dataclass(frozen=True)
class OrdersQuestion:
    """Who gets which lot?"""

    as_of: datetime.date
    orders: tuple[OrderAsked, ...] = ()
    lots: tuple[LotAsked, ...] = ()
    to_come: tuple[ToCome, ...] = ()

    def __post_init__(self):
        for things, most, what in (
            (self.orders, MOST_ORDERS, mark("orders")),
            ((*self.lots, *self.to_come), MOST_LOTS, mark("lots")),
        ):
            if len(things) > most:
                raise OutOfRange(
                    "{n} {what} are too many to weigh against each other; it should "
                    "be no more than {most}.",
                    n=len(things),
                    what=say(what),
                    most=most,
                )
            names = [each.name for each in things]
            twice = next((name for name in names if names.count(name) > 1), None)
            if twice is not None:
                raise OutOfRange(
                    "{name} is there twice; each should have a name of its own.",
                    name=twice,
                )


def problem_of(question):
    """The `Problem` of a question."""
    rates, deck = allotting(), vehicle(VEHICLES[0])
    stocks = [_in_store(lot, question.as_of) for lot in question.lots]
    stocks += [_to_come(lot, question.as_of) for lot in question.to_come]
    known = {stock.name for stock in stocks}
    return Problem(
        wants=tuple(_want(order) for order in question.orders),
        stocks=tuple(stocks),
        rates=Rates(rates.promise, _load_kg(deck), rates.haulage, rates.lot),
        pins=tuple(
            Pin(order.name, lot, kg)
            for order in question.orders
            for lot, kg in order.reserved.items()
            if lot in known and kg > 0
        ),
    )


def _load_kg(deck):
    straw = loading()
    by_room = deck.length * deck.width * straw.most_high * straw.filled * straw.density
    return min(deck.payload, by_room)


def _want(order):
    return Want(
        name=order.name,
        kind=order.kind,
        kg=order.kg,
        gbp_per_kg=order.gbp_per_t / KG_PER_T,
        by=order.by and order.by.toordinal(),
        least_length=order.least_length,
        grades=order.grades,
        varieties=order.varieties,
        organic=order.organic,
        most_lots=order.most_lots,
        customer=order.customer,
        whole=order.whole,
        first_refusal=order.first_refusal,
        promised=order.promised,
        distance=order.distance,
    )


def _in_store(lot, as_of):
    age = max(0, as_of.year - lot.harvest_year - FRESH_YEARS)
    return Stock(
        name=lot.name,
        kind=lot.kind,
        kg=lot.kg,
        length=lot.length,
        grades=lot.for_buyer("").grades,
        grades_for={who: known.grades for who, known in lot.known_for.items()},
        variety=lot.variety,
        organic=lot.organic,
        ready=as_of.toordinal(),
        apart=lot.apart,
        ageing_gbp_per_kg=allotting().ageing * age,
    )


def _to_come(lot, as_of):
    return Stock(
        name=lot.name,
        kind=lot.kind,
        kg=lot.surely,
        length=lot.length,
        grades=lot.for_buyer("").grades,
        grades_for={who: known.grades for who, known in lot.known_for.items()},
        variety=lot.variety,
        organic=lot.organic,
        ready=max(as_of.toordinal(), lot.surely_by),
        chance=allotting().counted_on,
    )


def _known(lot, customer):
    written = Known(as_written(lot.grade), "written" if lot.grade else "")
    return lot.known_for.get(customer) or lot.known or written


def _check_kind(kind):
    if kind not in KINDS:
        raise OutOfRange(
            "{kind} is nothing that is sold here; it should be one of {kinds}.",
            kind=repr(kind),
            kinds=", ".join(KINDS),
        )


def _check_mass(who, kg):
    if not 0 <= kg <= 1e7:
        raise OutOfRange(
            "{who} {mass}; it should be {least} to {most}.",
            who=who,
            mass=measured(kg, "kg"),
            least=measured(0, "kg"),
            most=measured(1e7, "kg"),
        )
