"""The record book of a period, line by line as an inspector reads it."""

import decimal

from django.utils.text import capfirst
from django.utils.translation import gettext as _

from sheafwright.documents import record_book as printed
from sheafwright.feeds.units import parse, show, usual_unit
from sheafwright.records import wording
from sheafwright.records.clock import today
from sheafwright.records.models import Lot, Movement, Place, Sale
from sheafwright.records.money_wording import belongs_to
from sheafwright.records.papers.standing import (
    certificate_on,
    conversion_began,
    organic_from,
)
from sheafwright.records.selectors.corrections import corrections_of
from sheafwright.records.selectors.flows import flows
from sheafwright.records.selectors.ground import status_on
from sheafwright.records.selectors.inspection import book_of_period
from sheafwright.records.selectors.lots import standings_of
from sheafwright.records.selectors.mass_balance import mass_balance
from sheafwright.records.selectors.places import name_of, subjects_of
from sheafwright.records.selectors.purchases import purchases_between

Kind = Place.Kind
TENTH, HUNDREDTH = decimal.Decimal("0.1"), decimal.Decimal("0.01")
CAME_IN = {
    Kind.GROWN: "grown",
    Kind.BOUGHT: "bought",
    "threshed": "made",
    "dressed": "made",
    "milled": "made",
    "adjusted": "put_right",
    "moved": "put_right",
}
"""Why material came in to the column that says so."""
WENT_OUT = {"threshed": "threshed", Kind.SOLD: "sold"}
"""Why it went out to its column; the rest was used."""

NAMED_BY_KIND = (Kind.DRUM, Kind.MILL, Kind.SEED, Kind.FED, Kind.OWED)
"""Places where more than the lot's name is wanted, which has a column of its own."""


def record_book_of(*, holding, begins, ends, units):
    """The `sheafwright.documents.record_book.RecordBook` of a period."""
    book = book_of_period(holding=holding, begins=begins, ends=ends)
    accounts = mass_balance(holding=holding, since=begins, until=ends)
    reader = _Reader(units)
    return printed.RecordBook(
        holding=holding.name,
        begins=begins,
        ends=ends,
        made_on=today(holding),
        certificate=_certificate(holding, begins, ends),
        unexplained=reader.grams(_lost(accounts, {Kind.UNEXPLAINED})),
        fields=tuple(_field(field, ends, reader) for field in book.fields),
        sowings=tuple(_sowing(s, reader) for s in book.sowings.order_by("date")),
        derogations=tuple(_derogation(each) for each in book.derogations),
        inputs=tuple(_input(each, units) for each in book.inputs),
        movements=tuple(_movements(book.lines, reader)),
        balance=tuple(_balance(account, reader) for account in accounts),
        losses=tuple(_losses(accounts, reader)),
        cleaning=tuple(_cleaning(each) for each in book.cleanings),
        complaints=tuple(_complaint(each) for each in book.complaints),
        vermin=tuple(_vermin(each) for each in book.vermin_controls),
        contractors=tuple(
            _contractor(each) for each in book.certificates.filter(is_own=False)
        ),
        purchases=tuple(
            _purchase(each)
            for each in purchases_between(holding=holding, begins=begins, ends=ends)
        ),
        standings=tuple(
            _standing(each)
            for each in standings_of(holding=holding, begins=begins, ends=ends)
        ),
        corrections=tuple(
            _correction(each)
            for each in corrections_of(
                holding=holding, units=units, begins=begins, ends=ends
            )
        ),
        units=printed.Units(area=reader.area_unit, weight=reader.weight_unit),
    )


class _Reader:
    """Numbers in the reader's units."""

    def __init__(self, units):
        self.area_unit = usual_unit("area", units)
        self.weight_unit = usual_unit("mass", units)
        self._area = parse(f"1 {self.area_unit}", "area")
        self._weight = parse(f"1 {self.weight_unit}", "mass")

    def grams(self, grams):
        return self.kg(grams / 1000)

    def kg(self, kg):
        return _rounded(kg / self._weight, TENTH)

    def hectares(self, hectares):
        return _rounded(hectares / self._area, HUNDREDTH)


def _rounded(number, to):
    # A bare 0 is seen at once among the figures, and is never less than nothing.
    return decimal.Decimal(str(number)).quantize(to) or decimal.Decimal(0)


def _certificate(holding, begins, ends):
    own = certificate_on(holding=holding, begins=begins, ends=ends)
    if own is None:
        return None
    return printed.Certificate(
        body=own.body,
        code=own.code,
        number=own.number,
        expires_on=own.expires,
        scope=(own.scope,),
        straw_in_scope=own.covers_straw,
    )


def _field(field, day, reader):
    status = status_on(field, day)
    before = [ley.what for ley in field.leys.all()]
    return printed.FieldLine(
        name=field.name,
        area=reader.hectares(field.area_ha),
        status=status.get_way_display() if status else _("not said"),
        conversion_began=conversion_began(field, day),
        organic_from=organic_from(field, day),
        before=before[-1] if before else "",
    )


def _sowing(sowing, reader):
    lot, rate = sowing.seed_lot, sowing.rate_kg_per_ha
    return printed.SowingLine(
        sown_on=sowing.date,
        field=sowing.field.name,
        variety=lot.variety,
        area=reader.hectares(sowing.area_ha),
        seed=reader.kg(rate * sowing.area_ha) if rate else None,
        seed_lot=lot.name,
        seed_from=lot.supplier or lot.get_came_display(),
        seed_status=_seed_status(lot),
    )


def _seed_status(lot):
    said = lot.get_standing_display()
    if lot.derogation is None:
        return said
    return _("%(standing)s, by %(reference)s") % {
        "standing": said,
        "reference": lot.derogation.reference,
    }


def _derogation(each):
    return printed.DerogationLine(each.date, each.variety, each.reference, each.reason)


def _input(each, units):
    return printed.InputLine(
        applied_on=each.date,
        field=each.field.name,
        product=each.product,
        amount=show(each.quantity_kg, "mass", units),
        supplier=each.supplier,
        evidence=each.evidence,
    )


def _movements(lines, reader):
    """A line a flow, undone and undoing ones too, in the order of their days."""
    moisture = {(x.movement_id, x.place_id): x.moisture_pct for x in lines}
    movements = Movement.objects.filter(pk__in={x.movement_id for x in lines})
    undone_by = dict(movements.values_list("pk", "reversed_by__seq"))
    found = sorted(flows(movements), key=lambda x: (x.movement.date, x.movement.seq))
    ends = {x.pk: x for flow in found for x in (flow.taken_from, flow.given_to)}
    subjects = subjects_of(ends.values())
    for flow in found:
        giver, taker = flow.taken_from, flow.given_to
        lot = _lot(subjects[taker.pk]) or _lot(subjects[giver.pk])
        damp = (moisture[flow.movement.pk, place.pk] for place in (taker, giver))
        yield printed.MovementLine(
            moved_on=flow.movement.date,
            entry=_entry(flow.movement, undone_by[flow.movement.pk]),
            material=str(lot.Kind(lot.kind).label) if lot else _("crop and sheaves"),
            lot=lot.code if lot else "",
            taken_from=_name(giver, subjects[giver.pk]),
            given_to=_name(taker, subjects[taker.pk]),
            weight=reader.grams(flow.grams),
            moisture=next((pct for pct in damp if pct is not None), None),
        )


def _name(place, subject):
    return str(place) if place.kind in NAMED_BY_KIND else name_of(place, subject)


def _lot(subject):
    if isinstance(subject, Sale):
        return subject.lot
    return subject if isinstance(subject, Lot) else None


def _entry(movement, undone_by):
    said = str(movement)
    if undone_by:
        return _("%(entry)s, undone by %(number)d") % {
            "entry": said,
            "number": undone_by,
        }
    return said


def _balance(account, reader):
    sums = dict.fromkeys((*CAME_IN.values(), *WENT_OUT.values(), "used"), 0)
    for item in account.came_in:
        sums[CAME_IN[item.what]] += item.grams
    for item in account.went_out:
        sums[WENT_OUT.get(item.what, "used")] += item.grams
    unexplained = _lost([account], {Kind.UNEXPLAINED})
    return printed.BalanceLine(
        material=f"{account.name}, {account.harvest_year}",
        at_start=reader.grams(account.opening_grams),
        **{column: reader.grams(grams) for column, grams in sums.items()},
        lost=reader.grams(_lost([account]) - unexplained),
        unexplained=reader.grams(unexplained),
        at_end=reader.grams(account.closing_grams),
    )


def _lost(accounts, kinds=None):
    return sum(
        item.grams
        for account in accounts
        for item in account.lost
        if kinds is None or item.what in kinds
    )


def _losses(accounts, reader):
    """Every loss by its name; the sheet itself adds what is unexplained."""
    names = {item.what: item.bare for account in accounts for item in account.lost}
    for what, name in names.items():
        if what != Kind.UNEXPLAINED:
            yield printed.LossLine(
                capfirst(name), reader.grams(_lost(accounts, {what}))
            )


def _cleaning(each):
    return printed.CleaningLine(
        each.date, each.what, each.how, each.by or each.made_by.name
    )


def _complaint(each):
    about = f"{each.lot}: {each.what}" if each.lot else each.what
    return printed.ComplaintLine(each.date, each.who, about, each.done)


def _vermin(each):
    return printed.VerminLine(each.date, each.where, each.note, each.what)


def _contractor(each):
    return printed.ContractorLine(
        name=each.holder,
        work=each.scope,
        certificate=wording.certificate(each),
        expires_on=each.expires,
    )


def _purchase(each):
    struck = getattr(each, "struck", None)
    return printed.PurchaseLine(
        bought_on=each.date,
        what=each.what,
        purpose=str(each.get_line_display()),
        supplier=each.supplier,
        belongs_to=belongs_to(each),
        struck=struck.why if struck else "",
    )


def _standing(each):
    return printed.StandingLine(
        each.date, each.lot, wording.stands(each), each.why, each.by
    )


def _correction(each):
    return printed.CorrectionLine(
        each.date, each.thing, each.fact, each.was, each.now, each.why, each.by
    )
