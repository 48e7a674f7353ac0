"""Grain dried, dressed, looked at, milled and bagged: no kilogram is left unnamed."""

import uuid

from django.utils.translation import gettext as _

from sheafwright.core.moisture.weight import weight_at
from sheafwright.records.errors import TooLittleThere
from sheafwright.records.models import (
    Dressing,
    Drying,
    FlourBags,
    FlourCheck,
    GrainTerms,
    Lot,
    Milling,
    Movement,
    Place,
    SeedLoan,
    StoreCheck,
)
from sheafwright.records.selectors.grain_terms import terms_of
from sheafwright.records.services.book import Step, movement_write, place_of
from sheafwright.records.services.checks import in_order, not_ahead, refuse
from sheafwright.records.services.entry import entry_add, entry_write, writing
from sheafwright.records.services.made import lot_made, lot_place
from sheafwright.records.services.stock import may_leave
from sheafwright.records.services.weights import (
    all_of,
    moisture,
    ours,
    there,
    weighed,
)

GRAIN = (Lot.Kind.GRAIN, Lot.Kind.TAIL)
MILLED = (Lot.Kind.FLOUR, Lot.Kind.BRAN)


def drying_record(*, holding, lot, date, **said):
    """Dry grain: what it loses, as its moistures say, is water."""
    ours(holding, lot)
    not_ahead(holding, date)
    _is_grain(lot)
    before, after = said["moisture_before_pct"], said["moisture_after_pct"]
    if after >= before:
        refuse("moisture_after_pct", _("It should be drier after than before."))
    with writing(holding):
        drying, is_new = entry_write(
            Drying, holding=holding, lot=lot, date=date, **said
        )
        if is_new:
            amount = _put_through(lot, drying.weight_kg)
            steps = _dried(drying, amount, _left(drying, amount))
            if not steps:
                refuse("weight_kg", _("Of so little no gram of water went."))
            _move(drying, Movement.Kind.DRY, steps)
    return drying


def _left(drying, amount):
    """Weighed after, or None. [g]"""
    if drying.after_kg is None:
        return None
    left = weighed(drying.after_kg)
    if left >= amount:
        refuse("after_kg", _("It should weigh less after it was dried than before."))
    return left


def _dried(drying, amount, left):
    before, after = drying.moisture_before_pct, drying.moisture_after_pct
    by_moisture = amount - round(float(weight_at(amount, before / 100, after / 100)))
    lost = by_moisture if left is None else amount - left
    water = min(lost, by_moisture)
    return _filled(
        Step(lot_place(drying.lot), -lost, moisture(before)),
        Step(_own(drying, Place.Kind.WATER), water),
        Step(_own(drying, Place.Kind.UNEXPLAINED), lost - water),
    )


def dressing_record(*, holding, lot, date, **said):
    """Clean grain; screenings that nobody weighed are what is not clean."""
    ours(holding, lot)
    not_ahead(holding, date)
    _is_grain(lot)
    with writing(holding):
        dressing, is_new = entry_write(
            Dressing, holding=holding, lot=lot, date=date, **said
        )
        if is_new:
            amount = _put_through(lot, dressing.weight_kg)
            _move(dressing, Movement.Kind.DRESS, _dressed(dressing, amount))
    return dressing


def _dressed(dressing, amount):
    clean, out, rest = _parted(dressing, amount)
    lot, code = dressing.lot, dressing.clean_code
    is_new = code not in ("", lot.code)
    steps = _filled(
        Step(lot_place(lot), -amount if is_new else clean - amount),
        Step(_screenings(dressing), out) if out else None,
        Step(_own(dressing, Place.Kind.UNEXPLAINED), rest),
        Step(_lot_of(dressing, code, Lot.Kind.GRAIN), clean) if is_new else None,
    )
    if not steps:
        refuse("clean_kg", _("All of it was clean: nothing is to be written down."))
    return steps


def _parted(dressing, amount):
    """Clean, screenings, and what nobody can account for. [g]"""
    clean, said = weighed(dressing.clean_kg), dressing.screenings_kg
    out = max(amount - clean, 0) if said is None else weighed(said)
    if clean + out > amount:
        refuse(
            "clean_kg",
            _(
                "%(kg).1f kg of clean grain and screenings came of %(of).1f kg; it "
                "should be no more than went through."
            )
            % {"kg": (clean + out) / 1000, "of": amount / 1000},
        )
    return clean, out, amount - clean - out


def _screenings(dressing):
    if dressing.screenings_to == Dressing.To.AWAY:
        return _own(dressing, Place.Kind.SCREENINGS)
    if dressing.screenings_to == Dressing.To.FED:
        return place_of(
            holding=dressing.holding, kind=Place.Kind.FED, subject=dressing.lot_id
        )
    if dressing.screenings_code in ("", dressing.lot.code, dressing.clean_code):
        refuse("screenings_code", _("Say the lot of the screenings: one of its own."))
    return _lot_of(dressing, dressing.screenings_code, Lot.Kind.TAIL)


def store_check_record(*, holding, lot, date, **said):
    ours(holding, lot)
    not_ahead(holding, date)
    return entry_add(StoreCheck, holding=holding, lot=lot, date=date, **said)


def milling_record(*, holding, lot, date, **said):
    """A run of the mill: what is neither flour nor bran is lost at the stones."""
    ours(holding, lot)
    not_ahead(holding, date)
    _is_grain(lot)
    if said.get("miller") and said.get("uncertified_miller"):
        refuse(
            "uncertified_miller", _("Say one miller, with a certificate or without.")
        )
    with writing(holding):
        run, is_new = entry_write(Milling, holding=holding, lot=lot, date=date, **said)
        if is_new:
            may_leave(lot)
            _mill(run)
    return run


def _mill(run):
    """To the mill what is not there yet, and from it what came of it."""
    mill = place_of(holding=run.holding, kind=Place.Kind.MILL, subject=run.lot_id)
    at_mill, store = there(mill), lot_place(run.lot)
    asked = None if run.weight_kg is None else weighed(run.weight_kg)
    ground = asked or at_mill or all_of(store)
    steps = _milled(run, mill, ground)
    if ground > at_mill:
        short = ground - at_mill
        _move(
            run,
            Movement.Kind.MOVE,
            [Step(store, -short), Step(mill, short)],
            id=uuid.uuid5(run.pk, "to the mill"),
        )
    _move(run, Movement.Kind.MILL, steps)


def _milled(run, mill, ground):
    flour = weighed(run.flour_kg)
    bran = 0 if run.bran_kg is None else weighed(run.bran_kg)
    if flour + bran > ground:
        raise TooLittleThere(
            f"{(flour + bran) / 1000:,.1f} kg of flour and bran cannot come of "
            f"{ground / 1000:,.1f} kg of grain; it should be no more than that."
        )
    if run.bran_code and not bran:
        refuse("bran_kg", _("Say what the bran weighed, or leave its lot out."))
    if bran and run.bran_code in ("", run.flour_code):
        refuse("bran_code", _("Say the lot of the bran: one of its own."))
    return _filled(
        Step(mill, -ground),
        Step(_lot_of(run, run.flour_code, Lot.Kind.FLOUR), flour),
        Step(_lot_of(run, run.bran_code, Lot.Kind.BRAN), bran) if bran else None,
        Step(_own(run, Place.Kind.MILLING), ground - flour - bran),
    )


def flour_bags_record(*, holding, lot, date, bags, bag_kg, best_before, **said):
    """Bags filled, to be labelled; nothing moves, for they are still the lot."""
    ours(holding, lot)
    not_ahead(holding, date)
    if lot.kind not in MILLED:
        refuse("lot", _("Only flour or bran is bagged and labelled here."))
    if best_before <= date:
        refuse("best_before", _("It should be after the day it was filled."))
    with writing(holding):
        entry, is_new = entry_write(
            FlourBags,
            holding=holding,
            lot=lot,
            date=date,
            bags=bags,
            bag_kg=bag_kg,
            best_before=best_before,
            **said,
        )
        if is_new and bags * weighed(bag_kg) > there(lot_place(lot)):
            _too_little(lot, bags * weighed(bag_kg))
    return entry


def flour_check_record(*, holding, date, until=None, **said):
    not_ahead(holding, date)
    in_order(date, until, _("it was done"), "until")
    return entry_add(FlourCheck, holding=holding, date=date, until=until, **said)


def grain_terms_set(*, holding, **said):
    """A buyer's terms; what they leave out is as the package has it."""
    terms = terms_of(GrainTerms(**said))
    for name, full, least in (
        ("protein_least_pct", terms.protein_full, terms.protein_least),
        ("hagberg_least_s", terms.hagberg_full, terms.hagberg_least),
        ("weight_least_kg_per_hl", terms.weight_full, terms.weight_least),
    ):
        if least > full:
            refuse(name, _("What is refused should be below what is full quality."))
    if terms.moisture_refused < terms.moisture_most:
        refuse(
            "moisture_refused_pct",
            _("What is refused should be damper than what has the full price."),
        )
    return entry_add(GrainTerms, holding=holding, **said)


def seed_loan_record(*, holding, date, back_by=None, **said):
    not_ahead(holding, date)
    in_order(date, back_by, _("it was lent"), "back_by")
    return entry_add(SeedLoan, holding=holding, date=date, back_by=back_by, **said)


def _is_grain(lot):
    if lot.kind not in GRAIN:
        refuse("lot", _("This lot is no grain; it should be grain or tail corn."))


def _put_through(lot, kg):
    """What was dried or dressed: all of the lot, if nobody says. [g]"""
    store = lot_place(lot)
    amount = all_of(store) if kg is None else weighed(kg)
    if amount > there(store):
        _too_little(lot, amount)
    return amount


def _too_little(lot, amount):
    raise TooLittleThere(
        f"{amount / 1000:,.1f} kg of lot {lot} can't be, for there are "
        f"{there(lot_place(lot)) / 1000:,.1f} kg; it should be no more than that."
    )


def _lot_of(entry, code, kind):
    """What comes of a lot is of its variety and harvest, and set apart if it was."""
    of = entry.lot
    return lot_made(
        by=entry,
        code=code,
        kind=kind,
        variety=of.variety,
        harvest_year=of.harvest_year,
        set_apart=Lot.objects.values_list("set_apart", flat=True).get(pk=of.pk),
    )


def _own(entry, kind):
    return place_of(holding=entry.holding, kind=kind)


def _filled(*steps):
    return [step for step in steps if step and step.grams]


def _move(entry, kind, steps, id=None):
    return movement_write(
        id=id or entry.pk,
        holding=entry.holding,
        made_by=entry.made_by,
        kind=kind,
        date=entry.date,
        steps=steps,
        subject=entry.pk,
    )
