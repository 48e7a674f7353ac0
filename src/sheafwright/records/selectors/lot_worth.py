"""What a lot brought, what it cost from the field to the buyer, and what is left."""

import collections
import dataclasses
import functools
from decimal import Decimal

from sheafwright.core.money.pence import pounds_of
from sheafwright.records.models import Paper, Sale
from sheafwright.records.models.store import STRAW
from sheafwright.records.money import exact
from sheafwright.records.papers.trade_facts import HAULAGE
from sheafwright.records.selectors.orders import invoice_now
from sheafwright.records.selectors.posted import POUNDS, money_book
from sheafwright.records.selectors.undone import not_undone

NOTHING = Decimal(0)
USUAL = (
    "seed",
    "contractor",
    "work_sowing",
    "work_weeding",
    "work_cutting",
    "work_carting",
    "work_threshing",
    "work_straw",
    "work_grain",
    "twine",
    "fuel",
    "repairs",
    "hire",
    "storage",
    "haulage",
    "certification",
    "insurance",
)
"""Lines that a lot costs as a rule; of one that has nothing written it is said so."""
NOT_OF = {True: "work_grain", False: "work_straw"}
"""Whether it is straw to what it can't cost."""


@dataclasses.dataclass(frozen=True)
class WorthLine:
    """What one kind of thing cost."""

    line: str
    """As `Posted.line`."""
    pence: int | None
    """None where nothing is written down. [p]"""
    ways: frozenset[str]
    """How it comes to the lot: ``own`` entries, those of the lot ``before`` it, the
    ``day`` at the drum, by the ``sheaves`` of its fields."""
    unpriced: float
    """Hours of the harvest at this that have no rate. [h]"""


@dataclasses.dataclass(frozen=True)
class LotWorth:
    """One lot, in each currency it was sold in."""

    brought: dict
    """Currency to net invoiced, or sold for without an invoice, less credits."""
    invoiced_kg: Decimal
    papers: tuple[Paper, ...]
    """The invoices and credit notes."""
    sales: int
    """With a price and no invoice."""
    lines: tuple[WorthLine, ...]
    fields: dict[str, float]
    """Name to how much of that field's sheaves is in the lot. [0–1]"""
    went_on: dict[str, float] = dataclasses.field(default_factory=dict)
    """Code of each lot made of it to how much of its costs went there. [0–1]"""
    came_of: tuple[str, ...] = ()
    """Codes of the lots whose costs it bears some of."""

    @property
    def cost(self):
        """Of all that is written down. [£]"""
        return pounds_of(sum(each.pence or 0 for each in self.lines))

    @property
    def missing(self):
        """Lines of which nothing is written down."""
        return tuple(each.line for each in self.lines if each.pence is None)

    @functools.cached_property
    def unpaid(self):
        """Each `InvoiceNow` of which something is owed still, VAT and all."""
        invoices = (x for x in self.papers if x.kind == Paper.Kind.INVOICE)
        return tuple(now for now in map(invoice_now, invoices) if now.owed > 0)

    @property
    def left(self):
        """In pounds; None where it brought other money, or none."""
        if set(self.brought) != {POUNDS}:
            return None
        return self.brought[POUNDS] - self.cost


def lot_worth(lot):
    """`LotWorth`, or None where it brought nothing and nothing was spent on it."""
    brought, kg, papers = _invoiced(lot)
    sales = _sold(lot)
    for sale in sales:
        brought[POUNDS] = brought.get(POUNDS, NOTHING) + sale.price
    book = money_book(holding=lot.holding, harvest_year=lot.harvest_year)
    lines = tuple(_lines(lot, book))
    went_on, came_of = _handed(lot, book)
    nothing = not brought and all(each.pence is None for each in lines)
    if nothing and not (went_on and book.spent):
        return None
    fields = _fields(lot, book)
    return LotWorth(brought, kg, papers, len(sales), lines, fields, went_on, came_of)


def _handed(lot, book):
    """Where its costs went on to, and of which lots it bears some."""
    went_on = {**book.shares.borne_by(lot.code)}
    went_on.pop(lot.code, None)
    came_of = (
        code for code, bear in book.shares.handed.items() if bear.get(lot.code, 0)
    )
    return went_on, tuple(sorted(code for code in came_of if code != lot.code))


def _invoiced(lot):
    """Currency to what was invoiced, its weight, and the papers."""
    orders = lot.sales.filter(delivery__isnull=False).values("delivery__order")
    papers = Paper.objects.filter(
        order__in=orders, kind__in=(Paper.Kind.INVOICE, Paper.Kind.CREDIT)
    )
    brought, kg, found = {}, NOTHING, []
    for paper in papers.select_related("corrects").order_by("date", "made_at"):
        sign = -1 if paper.kind == Paper.Kind.CREDIT else 1
        for line in _of(lot, paper):
            at = paper.currency
            brought[at] = brought.get(at, NOTHING) + sign * exact(line["net"])
            kg += sign * exact(line.get("kg") or 0)
            found += [paper] if paper not in found else []
    return brought, kg, tuple(found)


def _of(lot, paper):
    """Its own lines; of an invoice of this lot alone its parts and haulage, too."""
    lots = {
        line["lot_id"]
        for line in (paper.corrects or paper).said["lines"]
        if "lot_id" in line
    }
    for line in paper.said["lines"]:
        whose = line.get("lot_id")
        alone = line["kind"] in ("part", HAULAGE) and lots == {str(lot.pk)}
        if whose == str(lot.pk) or alone:
            yield line


def _sold(lot):
    """Sales with a price that are no part of an order."""
    sales = Sale.objects.filter(lot=lot, delivery=None, price__isnull=False)
    return list(not_undone(sales))


def _lines(lot, book):
    """Every usual line, and what else was written."""
    pence, ways = collections.Counter(), collections.defaultdict(set)
    for each in book.spent:
        bears = book.by_lot(each).get(lot.code, 0)
        if bears:
            pence[each.line] += bears
            ways[each.line].add(_way(each, lot))
    names = [name for name in USUAL if name != NOT_OF[lot.kind in STRAW]]
    if lot.code not in book.shares.borne_by(lot.code):
        # All of it was dressed or milled: what it cost, that bears.
        names = []
    for name in dict.fromkeys((*names, *pence)):
        # A `Counter` would tell nothing as 0.
        written = dict(pence).get(name)
        hours = book.unpriced.get(name, 0.0)
        yield WorthLine(name, written, frozenset(ways[name]), hours)


def _way(posted, lot):
    if not posted.lots:
        return "sheaves"
    if not posted.of_one_lot:
        return "day"
    return "own" if posted.lots[0][0] == lot.code else "before"


def _fields(lot, book):
    shares = book.shares.in_lot.get(lot.code, {})
    found = collections.defaultdict(list)
    for pk, share in shares.items():
        if pk in book.names:
            found[book.names[pk]].append((share, book.sown[pk]))
    return {
        name: sum(s * a for s, a in parts) / sum(a for _s, a in parts)
        for name, parts in found.items()
    }
