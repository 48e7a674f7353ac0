"""What the book knows of a harvest's money, and what the budget said of it."""

import dataclasses
from decimal import Decimal

from django.db.models import Max, Sum
from django.utils.translation import gettext as _

from sheafwright.answers.budget import BudgetQuestion, budget
from sheafwright.feeds.budget import changed, terms_of
from sheafwright.records.models import Line, Lot, Place, Sowing
from sheafwright.records.selectors.labour import next_harvest, own_hours, wheat_for
from sheafwright.records.selectors.posted import (
    IN_POUNDS,
    MoneyBook,
    money_book,
    sales_of,
)

REED, GRAIN = (Lot.Kind.REED,), (Lot.Kind.GRAIN,)
YEARS_BACK = 3
"""Harvests whose sales tell a price."""
MADE_UP = 1.0
"""Area that is asked about where no wheat is sown or planned. [ha]"""


@dataclasses.dataclass(frozen=True)
class SoldAt:
    """Prices that the book knows, of the last harvests. [£/t]"""

    reed: float | None
    grain: float | None

    @property
    def knobs(self):
        """As the budget is told them."""
        told = {"reed_price": self.reed, "grain_price": self.grain}
        return {name: price for name, price in told.items() if price}


@dataclasses.dataclass(frozen=True)
class Against:
    """A line beside the book; None is what the budget has not, or nobody wrote. [p]"""

    line: str
    planned: int | None
    actual: int | None

    @property
    def difference(self):
        """What the book has more; None where one of both is missing."""
        if self.planned is None or self.actual is None:
            return None
        return self.actual - self.planned


@dataclasses.dataclass(frozen=True)
class AgainstField:
    """What a field should leave, and what is written of it; None if nothing is. [p]"""

    name: str
    planned: int | None
    got: int | None
    spent: int | None

    @property
    def left(self):
        """So far, of what is written."""
        return _left(self.got, self.spent)


@dataclasses.dataclass(frozen=True)
class AgainstBudget:
    """A harvest's budget beside the book."""

    book: MoneyBook
    lines: tuple[Against, ...]
    fields: tuple[AgainstField, ...]

    @property
    def got(self):
        """None if nothing is written. [p]"""
        return _sum(self.book.got)

    @property
    def spent(self):
        """None if nothing is written. [p]"""
        return _sum(self.book.spent)

    @property
    def left(self):
        """So far, of what is written. [p]"""
        return _left(self.got, self.spent)

    @property
    def unwritten(self):
        """Lines of the budget of which the book has nothing."""
        return tuple(x.line for x in self.lines if x.actual is None)


@dataclasses.dataclass(frozen=True)
class HarvestMoney:
    """One harvest's."""

    harvest_year: int
    fields: dict[str, float]
    """That bear its wheat, sown or planned. [ha]"""
    prices: SoldAt
    own_hours: dict[str, tuple[float, ...]]

    def terms(self, **knobs):
        """`Terms` by the book's fields and prices, and what else is tried."""
        fields = self.fields or {_("made up"): MADE_UP}
        return changed(terms_of(fields), self.prices.knobs | knobs)

    def budget(self, **knobs):
        """The `Budget`."""
        return self.budget_of(self.terms(**knobs))

    def budget_of(self, terms):
        """The `Budget` of other terms."""
        return budget(BudgetQuestion(terms, self.harvest_year, self.own_hours))


def harvests_with_money(*, holding):
    """Harvests that were sown for, and the next, the last first."""
    sown = Sowing.objects.filter(holding=holding).values_list("harvest_year", flat=True)
    return sorted({*sown, next_harvest(holding)}, reverse=True)


def last_sown_for(holding):
    """The newest harvest that something was sown for, else the next."""
    last = Sowing.objects.filter(holding=holding).aggregate(last=Max("harvest_year"))
    return last["last"] or next_harvest(holding)


def harvest_money(*, holding, harvest_year):
    """`HarvestMoney` of a harvest."""
    years = range(harvest_year - YEARS_BACK, harvest_year)
    return HarvestMoney(
        harvest_year=harvest_year,
        fields=wheat_for(holding=holding, harvest_year=harvest_year),
        prices=SoldAt(
            reed=_price(holding, REED, years), grain=_price(holding, GRAIN, years)
        ),
        own_hours=own_hours(holding=holding, before=harvest_year),
    )


def against_budget(*, holding, answer):
    """`AgainstBudget`: sales, purchases and hours with a rate beside each line.

    Parameters
    ----------
    holding : Holding
    answer : sheafwright.answers.budget.Budget
    """
    year = answer.question.harvest_year
    book = money_book(holding=holding, harvest_year=year)
    written = book.by_line()
    planned = {name: sum(parts) for name, parts in answer.pence.items()}
    # What machines lose of their value is on nobody's bill.
    names = [name for name in planned if name != "machines"]
    names += sorted(written.keys() - planned.keys())
    lines = (Against(x, planned.get(x), written.get(x)) for x in names)
    leaves = {x["field"]: x["margin_pence"] for x in answer.to_fields()}
    fields = (
        AgainstField(name, leaves.get(name), *both)
        for name, both in sorted(book.by_field().items())
    )
    return AgainstBudget(book, tuple(lines), tuple(fields))


def _sum(entries):
    return sum(each.pence for each in entries) if entries else None


def _left(got, spent):
    if got is None and spent is None:
        return None
    return (got or 0) - (spent or 0)


def _price(holding, kinds, years):
    """By the tonne, of all that was sold with a price; None if nothing was. [£/t]"""
    sales = sales_of(holding, years).filter(lot__kind__in=kinds, price__gt=0)
    prices = dict(sales.filter(IN_POUNDS).values_list("pk", "price"))
    # What went by the sales themselves: what came back, and was undone, is no sale.
    lines = Line.objects.filter(
        place__kind=Place.Kind.SOLD, movement__in=prices, grams__gt=0
    )
    grams = lines.aggregate(sum=Sum("grams", default=0))["sum"]
    if not grams:
        return None
    return float(sum(prices.values(), Decimal(0)) / Decimal(grams) * 1_000_000)
