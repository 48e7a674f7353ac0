"""A harvest's money as it was written down, an entry at a time, and what it is for.

An entry is for a sowing, for lots, or for all that was sown; its money is shared out
accordingly, in whole pence that add up.
"""

import collections
import dataclasses
import functools
import uuid
from decimal import Decimal

from django.db.models import Q

from sheafwright.core.money.pence import allocate, pence_of
from sheafwright.records.models import (
    Delivery,
    Labour,
    Line,
    Lot,
    Place,
    Purchase,
    Sale,
    Sowing,
)
from sheafwright.records.models.store import STRAW
from sheafwright.records.models.work import Task
from sheafwright.records.money import exact
from sheafwright.records.remembered import remembered, written
from sheafwright.records.selectors.invoiced import invoiced_for
from sheafwright.records.selectors.labour import worked_for
from sheafwright.records.selectors.purchases import purchases_for
from sheafwright.records.selectors.sheaf_shares import sheaf_shares
from sheafwright.records.selectors.undone import not_undone

SOLD_AS = {
    Lot.Kind.REED: "reed",
    Lot.Kind.LONG_STRAW: "spoilt",
    Lot.Kind.GRAIN: "grain",
    Lot.Kind.TAIL: "grain",
    Lot.Kind.FLOUR: "grain",
    Lot.Kind.BRAN: "grain",
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
WORK_ELSE = "work_else"
"""Hours at machines, buildings and what else no crop's budget has."""
POUNDS = "GBP"
IN_POUNDS = Q(delivery=None) | Q(delivery__order__currency=POUNDS)
"""Of sales, those whose price is in the money of the budget."""
GRAIN = (Lot.Kind.GRAIN, Lot.Kind.TAIL, Lot.Kind.FLOUR, Lot.Kind.BRAN)
LOTS_OF = {"work_straw": STRAW, "work_grain": GRAIN}
"""Line to the kinds of lot that alone it can be for."""


@dataclasses.dataclass(frozen=True)
class Posted:
    """One entry's money."""

    line: str
    """Of the budget; or of `Purchase.Line`, or ``WORK_ELSE``."""
    pence: int
    """Got, or spent. [p]"""
    sowing: uuid.UUID | None = None
    lots: tuple[tuple[str, float], ...] = ()
    """Code to its share. [0–1]"""
    of_one_lot: bool = False
    """Whether the entry itself names its lot."""


@dataclasses.dataclass(frozen=True)
class MoneyBook:
    """All of one harvest."""

    holding: object
    harvest_year: int
    got: tuple[Posted, ...]
    spent: tuple[Posted, ...]
    unpriced: dict[str, float]
    """Line to its hours that have no rate, and so no money. [h]"""
    elsewhere: int
    """Sales in other money, which no line here counts."""

    def by_line(self):
        """Line to what was written of it, of those that something was. [p]"""
        found = collections.Counter()
        for each in (*self.got, *self.spent):
            found[each.line] += each.pence
        return dict(found)

    @functools.cached_property
    def shares(self):
        """`SheafShares` of the harvest."""
        return sheaf_shares(holding=self.holding, harvest_year=self.harvest_year)

    @functools.cached_property
    def sown(self):
        """Ids of its sowings to their areas. [ha]"""
        found = Sowing.objects.filter(
            holding=self.holding, harvest_year=self.harvest_year
        )
        return dict(found.values_list("pk", "area_ha"))

    @functools.cached_property
    def names(self):
        """Ids of its sowings to the names of their fields."""
        found = Sowing.objects.filter(pk__in=self.sown)
        return dict(found.values_list("pk", "field__name"))

    def by_sowing(self, posted):
        """What each sowing bears of an entry. [p]"""
        return _allocated(posted.pence, self._weights(posted))

    def _weights(self, posted):
        """Its own sowing; of lots, by the sheaves in them; else by the area."""
        if posted.sowing in self.sown:
            return {posted.sowing: 1}
        found = collections.Counter()
        for code, share in posted.lots:
            for sowing, part in self.shares.of_lot.get(code, {}).items():
                found[sowing] += share * part
        return {pk: found[pk] for pk in self.sown if found[pk]} or self.sown

    @functools.cached_property
    def kinds(self):
        """Code of each lot of the harvest to its kind."""
        lots = Lot.objects.filter(holding=self.holding, harvest_year=self.harvest_year)
        return dict(lots.values_list("code", "kind"))

    def by_lot(self, posted):
        """What each lot bears of an entry; under "", what none does as yet. [p]"""
        if posted.lots:
            return _allocated(posted.pence, self._bearers(posted.lots))
        found = collections.Counter()
        of_these = LOTS_OF.get(posted.line)
        if not self.sown:
            return {"": posted.pence}
        for sowing, pence in self.by_sowing(posted).items():
            found.update(_allocated(pence, self._lots_of(sowing, of_these)))
        return dict(found)

    def _bearers(self, lots):
        """Code to share: what a lot cost goes on with what was made of it."""
        found = collections.Counter()
        for code, share in lots:
            for bearer, part in self.shares.borne_by(code).items():
                found[bearer] += share * part
        return found

    def _lots_of(self, sowing, kinds):
        """Code to how much of a sowing's sheaves is in it; "", what stands yet."""
        parts = {
            code: shares[sowing]
            for code, shares in sorted(self.shares.in_lot.items())
            if shares.get(sowing) and (kinds is None or self.kinds[code] in kinds)
        }
        if kinds and parts:
            return parts
        left = 1 - sum(parts.values())
        # Below this it is only how floats add up.
        return parts | ({"": left} if left > 1e-9 else {})

    def by_field(self):
        """Name of a field to what it got and what was spent on it. [p]

        None where nothing is written.
        """
        found = {name: [None, None] for name in self.names.values()}
        for at, entries in enumerate((self.got, self.spent)):
            for each in entries if self.sown else ():
                for pk, pence in self.by_sowing(each).items():
                    both = found[self.names[pk]]
                    both[at] = (both[at] or 0) + pence
        return {name: tuple(both) for name, both in found.items()}


def _allocated(pence, weights):
    parts = allocate(pence, list(weights.values()))
    return dict(zip(weights, parts, strict=True))


@remembered(until=written)
def money_book(*, holding, harvest_year):
    """`MoneyBook` of a harvest."""
    worked = worked_for(holding=holding, harvest_year=harvest_year)
    bought = purchases_for(holding=holding, harvest_year=harvest_year)
    sales = sales_of(holding, (harvest_year,))
    others = Sale.objects.filter(holding=holding, lot__harvest_year=harvest_year)
    return MoneyBook(
        holding=holding,
        harvest_year=harvest_year,
        got=tuple(_got(sales.filter(IN_POUNDS))),
        spent=(
            *map(_of_purchase, bought),
            *(_of_hours(each) for each in worked if each.rate is not None),
        ),
        unpriced=dict(_unpriced(worked)),
        elsewhere=not_undone(others.exclude(IN_POUNDS)).count(),
    )


def sales_of(holding, years):
    """Sales with a price of lots of some harvests."""
    sales = Sale.objects.filter(
        holding=holding, lot__harvest_year__in=years, price__isnull=False
    )
    return not_undone(sales).select_related("lot")


def _got(sales):
    """`Posted` of each sale: as invoiced, else as sold without what came back."""
    sent = Line.objects.filter(
        movement__in=sales.values("pk"), place__kind=Place.Kind.SOLD, grams__gt=0
    )
    # A sale's place holds what its buyer kept of it.
    grams = sent.values_list("movement", "place__balance__grams", "grams")
    kept = {sale: (held, went) for sale, held, went in grams}
    delivered = dict(Delivery.objects.filter(sale__in=sales).values_list("sale", "pk"))
    invoiced = invoiced_for(sales.exclude(delivery=None).values("delivery__order"))
    for sale in sales:
        held, went = kept.get(sale.pk, (1, 1))
        price = sale.price if held == went else sale.price * held / went
        yield Posted(
            SOLD_AS[sale.lot.kind],
            pence_of(invoiced.get(str(delivered.get(sale.pk)), price)),
            lots=((sale.lot.code, 1.0),),
            of_one_lot=True,
        )


def _of_purchase(purchase: Purchase):
    lots = ((purchase.lot.code, 1.0),) if purchase.lot else ()
    return Posted(
        purchase.line,
        pence_of(purchase.cost),
        purchase.sowing_id,
        lots=lots,
        of_one_lot=bool(lots),
    )


def _unpriced(worked):
    found = collections.Counter()
    for each in worked:
        if each.rate is None:
            found[_line_of(each.entry)] += each.hours
    return found


def _line_of(entry: Labour):
    return LINE_OF_TASK.get(entry.task, WORK_ELSE)


def _of_hours(worked):
    entry = worked.entry
    return Posted(
        _line_of(entry),
        pence_of(cost_of(worked)),
        entry.sowing_id,
        tuple(worked.lots.items()),
        of_one_lot=entry.lot_id is not None,
    )


def cost_of(worked) -> Decimal:
    """Of hours that have a rate, to the penny before it is rounded. [£]"""
    return worked.rate * exact(worked.hours)
