"""What the book knows of a harvest's money, and what the budget said of it."""

import collections
import dataclasses
from decimal import Decimal

from django.db.models import Sum
from django.utils.translation import gettext as _

from sheafwright.answers.budget import BudgetQuestion, budget
from sheafwright.core.money.pence import pence_of
from sheafwright.feeds.budget import changed, terms_of
from sheafwright.records.models import Line, Lot, Place, Sale, Sowing
from sheafwright.records.models.work import Task
from sheafwright.records.selectors.labour import (
    labour_book,
    next_harvest,
    own_hours,
    wheat_for,
)
from sheafwright.records.selectors.undone import not_undone

REED, GRAIN = (Lot.Kind.REED,), (Lot.Kind.GRAIN,)
SOLD_AS = {
    Lot.Kind.REED: "reed",
    Lot.Kind.LONG_STRAW: "spoilt",
    Lot.Kind.GRAIN: "grain",
    Lot.Kind.TAIL: "grain",
    Lot.Kind.FLOUR: "grain",
}
"""Kind of lot to the line of the budget that its money is held against."""
LINE_OF_TASK = {
    Task.SOWING: "work_sowing",
    Task.WEEDING: "work_weeding",
    Task.CUTTING: "work_cutting",
    Task.CARTING: "work_carting",
    Task.THRESHING: "work_threshing",
    Task.STRAW: "work_straw",
    Task.GRAIN: "work_grain",
}
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
    """A line of the budget beside the book. [p]"""

    line: str
    planned: int
    actual: int

    @property
    def difference(self):
        """What the book has more."""
        return self.actual - self.planned


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
    """Each `Against` of what the book has of the harvest: sales, and hours with a rate.

    Parameters
    ----------
    holding : Holding
    answer : sheafwright.answers.budget.Budget
    """
    year = answer.question.harvest_year
    actual = collections.Counter()
    for sale in _sales(holding, (year,)):
        actual[SOLD_AS[sale.lot.kind]] += pence_of(sale.price)
    for spent in labour_book(holding=holding, harvest_year=year).by_task:
        if spent.name in LINE_OF_TASK and spent.cost is not None:
            actual[LINE_OF_TASK[spent.name]] += pence_of(spent.cost)
    return [
        Against(line, sum(parts), actual[line])
        for line, parts in answer.pence.items()
        if line in actual
    ]


def _sales(holding, years):
    """Sales with a price of lots of some harvests."""
    sales = Sale.objects.filter(
        holding=holding, lot__harvest_year__in=years, price__isnull=False
    )
    return not_undone(sales).select_related("lot")


def _price(holding, kinds, years):
    """By the tonne, of all that was sold with a price; None if nothing was. [£/t]"""
    sales = _sales(holding, years).filter(lot__kind__in=kinds, price__gt=0)
    prices = dict(sales.values_list("pk", "price"))
    lines = Line.objects.filter(
        place__kind=Place.Kind.SOLD, place__subject__in=prices, grams__gt=0
    )
    grams = lines.aggregate(sum=Sum("grams", default=0))["sum"]
    if not grams:
        return None
    return float(sum(prices.values(), Decimal(0)) / Decimal(grams) * 1_000_000)
