"""Grain, flour and bran in store: how good each is, and what wants doing next."""

import dataclasses
import datetime
from collections import defaultdict
from decimal import Decimal

from django.db.models import Q, Sum

from sheafwright.answers.grain import GrainQuestion, grain_choice
from sheafwright.answers.grain_keeping import grain_keeping
from sheafwright.answers.grain_wording import CHECKS
from sheafwright.feeds.grain import buyers_terms, store
from sheafwright.records.clock import today
from sheafwright.records.models import (
    Balance,
    Dressing,
    Drying,
    FlourBags,
    FlourCheck,
    Line,
    Lot,
    LotTest,
    Milling,
    Movement,
    Place,
    Sale,
    SeedLoan,
    StoreCheck,
)
from sheafwright.records.selectors.grain_terms import terms_now, terms_of
from sheafwright.records.selectors.milled import millings_of
from sheafwright.records.selectors.undone import not_undone

YEARS_BACK = 3
"""Years whose sales tell a price."""
TESTS = ("protein_pct", "hagberg_s", "specific_weight_kg_per_hl", "admixture_pct")


@dataclasses.dataclass(frozen=True)
class GrainNow:
    """One lot in store, and all that was said of it."""

    lot: Lot
    grams: int
    tests: tuple[LotTest, ...]
    """Its own after those of the grain that it was dressed from, by day."""
    damp: tuple[tuple, ...]
    """Day, moment and moisture of what the drum gave or was dried, of both. [%]"""
    dryings: tuple[Drying, ...]
    checks: tuple[StoreCheck, ...]
    dressed: Dressing | None
    milled: Milling | None
    bags: tuple[FlourBags, ...]

    @property
    def moisture(self):
        """As last measured; None if nobody did. [%]"""
        looked = (*self.tests, *self.checks)
        said = [(each.date, each.made_at, each.moisture_pct) for each in looked]
        known = [each for each in (*said, *self.damp) if each[2] is not None]
        return max(known)[2] if known else None

    def quality(self, name):
        """As last tested; None if nobody did."""
        known = [getattr(test, name) for test in self.tests]
        return next((x for x in reversed(known) if x is not None), None)

    @property
    def checked(self):
        """The last look at it in its store."""
        return self.checks[-1] if self.checks else None

    @property
    def keeping(self):
        """`GrainKeeping`, where moisture and temperature are known; else None."""
        warm = [c.temperature_c for c in self.checks if c.temperature_c is not None]
        if not warm or self.moisture is None or not self.is_grain:
            return None
        return grain_keeping(self.moisture / 100, warm[-1])

    @property
    def is_grain(self):
        return self.lot.kind in (Lot.Kind.GRAIN, Lot.Kind.TAIL)

    @property
    def untested(self):
        """Names of tests that a mill wants, and nobody made."""
        return [name for name in TESTS if self.quality(name) is None]

    @property
    def is_damp(self):
        """Whether it is damper than has the full price."""
        most = 100 * buyers_terms().moisture_most
        return self.moisture is not None and self.moisture > most

    def looked_at_by(self, day):
        """Whether somebody looked at it of late."""
        last = self.checked and self.checked.date
        late = datetime.timedelta(store().look_every_d)
        return last is not None and day - last <= late

    @property
    def asked(self):
        """What the choice about it is asked with, as a form has it."""
        known = {
            "mass": f"{self.grams / 1000:g} kg",
            "moisture": self.moisture,
            "protein": self.quality("protein_pct"),
            "hagberg": self.quality("hagberg_s"),
            "admixture": self.quality("admixture_pct"),
        }
        weight = self.quality("specific_weight_kg_per_hl")
        if self.dressed:
            known["dressed"] = "on"
        if weight is not None:
            known["specific_weight"] = f"{weight:g} kg/hl"
        return {name: each for name, each in known.items() if each is not None}


def grain_now(lots):
    """`GrainNow` of each of these lots, in their order.

    Parameters
    ----------
    lots : iterable of sheafwright.records.selectors.lots.LotNow
    """
    lots = list(lots)
    ids = [each.lot.pk for each in lots]
    dressed, milled = _dressed(lots), millings_of([each.lot for each in lots])
    of = {pk: run.lot_id for pk, run in dressed.items()}
    both = {*ids, *of.values()}
    tests, damp = _by_lot(LotTest.objects, both), _damp(both)
    dryings = _by_lot(not_undone(Drying.objects.all()), both)
    for pk in both:
        damp[pk] += tuple(
            (d.date, d.made_at, d.moisture_after_pct) for d in dryings[pk]
        )
    checks, bags = _by_lot(StoreCheck.objects, ids), _by_lot(FlourBags.objects, ids)
    return [
        GrainNow(
            lot=each.lot,
            grams=each.grams,
            tests=_of_both(tests, of.get(each.lot.pk), each.lot.pk),
            damp=_of_both(damp, of.get(each.lot.pk), each.lot.pk),
            dryings=dryings[each.lot.pk],
            checks=checks[each.lot.pk],
            dressed=dressed.get(each.lot.pk),
            milled=milled.get(each.lot.pk),
            bags=bags[each.lot.pk],
        )
        for each in lots
    ]


def _by_lot(entries, ids):
    found = defaultdict(tuple)
    for each in entries.filter(lot__in=ids).order_by("date", "made_at"):
        found[each.lot_id] += (each,)
    return found


def _damp(ids):
    """Id of a lot to how damp the drum gave it."""
    lines = Line.objects.filter(
        place__kind=Place.Kind.LOT,
        place__subject__in=ids,
        grams__gt=0,
        moisture_pct__isnull=False,
        movement__reversed_by=None,
    ).exclude(movement__kind=Movement.Kind.REVERSE)
    found = defaultdict(tuple)
    for pk, *said, pct in lines.values_list(
        "place__subject", "movement__date", "movement__made_at", "moisture_pct"
    ):
        found[pk] += ((*said, float(pct)),)
    return found


def _of_both(tests, before, own):
    return tests[own] if before in (None, own) else tests[before] + tests[own]


def _dressed(lots):
    """Id of each lot to its last dressing: it was dressed itself, or came of one."""
    by_code = {each.lot.code: each.lot for each in lots}
    ids = {each.lot.pk for each in lots}
    holdings = {each.lot.holding_id for each in lots}
    runs = not_undone(Dressing.objects.filter(holding__in=holdings))
    runs = runs.filter(Q(lot__in=ids, clean_code="") | Q(clean_code__in=by_code))
    found = {}
    for run in runs.order_by("date", "made_at"):
        pk = by_code[run.clean_code].pk if run.clean_code else run.lot_id
        found[pk] = run
    return found


@dataclasses.dataclass(frozen=True)
class Owed:
    """What goes back to those who lent seed."""

    loans: tuple[SeedLoan, ...]
    grams: int
    """Still owed, to all of them."""


def owed_now(*, holding):
    """`Owed`; what went back settles any of it."""
    loans = tuple(SeedLoan.objects.filter(holding=holding).select_related("seed_lot"))
    gone = Balance.objects.filter(
        place__holding=holding, place__kind=Place.Kind.OWED
    ).aggregate(sum=Sum("grams", default=0))["sum"]
    owed = sum(round(1000 * loan.owed_kg) for loan in loans)
    return Owed(loans, max(owed - gone, 0))


@dataclasses.dataclass(frozen=True)
class Checked:
    """One thing that comes before flour is sold."""

    what: str
    """One of ``answers.grain_wording.CHECKS``."""
    last: FlourCheck | None
    is_done: bool
    """And holds today."""


def flour_checks(*, holding):
    """`Checked` of each thing that comes before flour is sold."""
    day, last = today(holding), {}
    for each in FlourCheck.objects.filter(holding=holding):
        last[each.what] = each
    return tuple(
        Checked(what, said, bool(said and said.done and _holds(said, day)))
        for what in CHECKS
        for said in [last.get(what)]
    )


def _holds(said, day):
    return said.until is None or said.until >= day


def at_prices_told(*, holding):
    """The `GrainChoice` of a clean, dry tonne by the prices and the terms of the book.

    Nobody is asked how good it is: it is of full quality, and a tonne.
    """
    usual = next(
        (terms for terms in terms_now(holding=holding) if terms.customer is None), None
    )
    terms = terms_of(usual) if usual else buyers_terms()
    told = _prices(holding)
    grain = told.get(Lot.Kind.GRAIN) or (usual and usual.price and float(usual.price))
    flour = told.get(Lot.Kind.FLOUR)
    return grain_choice(
        GrainQuestion(
            mass=1000,
            dressed=True,
            moisture=terms.moisture_most,
            protein=terms.protein_full,
            hagberg=terms.hagberg_full,
            specific_weight=terms.weight_full,
            admixture=0,
            milling_price=grain or None,
            flour_price=flour / 1000 if flour else None,
            terms=terms if usual else None,
        )
    )


def _prices(holding):
    """Kind of lot to what it was sold at in the last years. [£/t]"""
    since = today(holding).replace(day=1)
    since = since.replace(year=since.year - YEARS_BACK)
    sales = not_undone(
        Sale.objects.filter(
            holding=holding,
            date__gte=since,
            price__gt=0,
            lot__kind__in=(Lot.Kind.GRAIN, Lot.Kind.FLOUR),
        )
    )
    said = {pk: (kind, gbp) for pk, kind, gbp in _said(sales)}
    gbp, grams = defaultdict(Decimal), defaultdict(int)
    lines = Line.objects.filter(
        place__kind=Place.Kind.SOLD,
        place__subject__in=sales.values("pk"),
        movement__kind=Movement.Kind.SELL,
    )
    for pk, sold in lines.values_list("place__subject", "grams"):
        kind, price = said[pk]
        gbp[kind] += price
        grams[kind] += sold
    return {kind: float(gbp[kind] / grams[kind] * 1_000_000) for kind in gbp}


def _said(sales):
    return sales.values_list("pk", "lot__kind", "price")
