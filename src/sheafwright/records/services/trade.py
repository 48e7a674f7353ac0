"""Buyers, enquiries, quotations, orders, deliveries, returns and payments."""

import uuid

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from sheafwright.answers.roof import roof
from sheafwright.feeds.roof import coat, roof_question, roof_said
from sheafwright.feeds.units import from_unit
from sheafwright.records.errors import TooLittleThere
from sheafwright.records.models import (
    CurrencyRate,
    Customer,
    CustomerWants,
    Delivery,
    Enquiry,
    Letterhead,
    Lot,
    Movement,
    Order,
    OrderEnd,
    Paper,
    Payment,
    Place,
    Quotation,
    Reservation,
    Returned,
    RoofReport,
    Sale,
    Visit,
)
from sheafwright.records.money import exact, price_of, rounded
from sheafwright.records.selectors.orders import invoice_now, reserved_of
from sheafwright.records.selectors.undone import not_undone
from sheafwright.records.services.book import Step, movement_write, place_of
from sheafwright.records.services.checks import happened, in_order, not_ahead, refuse
from sheafwright.records.services.corrections import put_right
from sheafwright.records.services.entry import entry_add, entry_write, writing
from sheafwright.records.services.papers import (
    delivery_issue,
    end_if_done,
    order_issue,
    quotation_issue,
)
from sheafwright.records.services.stock import sell
from sheafwright.records.services.weights import ours, there, weighed

POUNDS = "GBP"
"""In which a sale's price is kept."""
COATS = {Lot.Kind.REED: "combed_reed", Lot.Kind.LONG_STRAW: "long_straw"}


def letterhead_write(*, holding, **said):
    return entry_add(Letterhead, holding=holding, **said)


def currency_rate_say(*, holding, since, currency, pounds, **said):
    """Say what other money than pounds is worth, from a day on; the last counts."""
    not_ahead(holding, since, "since")
    if currency == POUNDS:
        refuse("currency", _("Pounds are what it is told in; name other money."))
    if pounds <= 0:
        refuse("pounds", _("It should be more than nothing."))
    return entry_add(
        CurrencyRate,
        holding=holding,
        since=since,
        currency=currency,
        pounds=pounds,
        **said,
    )


def customer_add(*, holding, **said):
    return entry_add(Customer, holding=holding, **said)


def customer_wants_say(*, holding, **said):
    return entry_add(CustomerWants, holding=holding, **said)


def visit_record(*, holding, date, **said):
    not_ahead(holding, date)
    return entry_add(Visit, holding=holding, date=date, **said)


def roof_report_record(*, holding, date, laid, **said):
    not_ahead(holding, date)
    if laid > date.year:
        refuse("laid", _("It can't have been laid after it was seen."))
    return entry_add(RoofReport, holding=holding, date=date, laid=laid, **said)


def enquiry_record(*, holding, date, **said):
    """Somebody asks; where only a roof is told, its straw is worked out."""
    not_ahead(holding, date)
    _is_window(said)
    if said.get("roof_plan"):
        said |= _of_plan(said)
    if not said.get("weight_kg"):
        said["weight_kg"] = _straw_of(said)
    return entry_add(Enquiry, holding=holding, date=date, **said)


def _is_window(said):
    begins, ends = said.get("wanted_from"), said.get("wanted_by")
    if begins and ends and begins > ends:
        refuse(
            "wanted_from",
            _("It is wanted by %(day)s; it should be from no later a day on.")
            % {"day": date_format(ends, "j F Y")},
        )


def _of_plan(said):
    """What a described roof tells: its squares, its coat, and its straw at the most."""
    question = _described(said["roof_plan"], said.get("kind"))
    answer = roof(question)
    is_coat = question.work in Enquiry.Coat.values
    return {
        "roof_plan": roof_said(question),
        "squares": round(answer.shape.squares, 1) if is_coat else None,
        "coat": question.work if is_coat else "",
        "weight_kg": said.get("weight_kg") or round(answer.straw.bought.high, 1),
        "roof": said.get("roof") or question.name[:200],
    }


def _described(plan, kind):
    """The `RoofQuestion` of a roof for which this kind is wanted."""
    question = roof_question(plan, _("The roof"))
    if COATS.get(kind) != question.material:
        refuse("kind", _("The roof was described in another material than this."))
    return question


def enquiry_roof_anew(
    *, id, holding, made_by, enquiry, plan, why, kg=None, roof="", note=""
):
    """Describe an enquiry's roof anew; what was said of it before stays written.

    Parameters
    ----------
    plan : dict
        As `feeds.roof.roof_said` has it.
    kg : float, optional
        Straw that is asked for; from the roof, if not given.
    roof : str, optional
        Its name; as it was, if neither this nor the plan has one.
    """
    said = {"kind": enquiry.kind, "roof_plan": plan, "weight_kg": kg, "roof": roof}
    said = _of_plan(said)
    said["roof"] = said["roof"] or enquiry.roof
    return put_right(
        id=id,
        holding=holding,
        made_by=made_by,
        enquiry=enquiry,
        now=said,
        why=why,
        note=note,
    )


def _straw_of(said):
    """What a roof takes at the most that is usual, in kilograms.

    The upper of two rates: a roof half done waits for straw.
    """
    kind, squares = said.get("kind"), said.get("squares")
    if not squares or not said.get("coat") or kind not in COATS:
        refuse(
            "weight_kg",
            _("Say how much, or the squares and the coat of a roof of reed or straw."),
        )
    of = coat(COATS[kind])
    laid = squares * from_unit(1, "mass", "cwt") * max(getattr(of, said["coat"]))
    return round(laid * (1 + max(of.waste)), 1)


def quotation_make(*, holding, enquiry, date, open_until, **said):
    """Offer what was asked about, and issue the quotation."""
    happened(holding, date, enquiry.date, _("it was asked about"))
    in_order(date, open_until, _("it is made"), "open_until")
    with writing(holding):
        quotation, _new = entry_write(
            Quotation,
            holding=holding,
            enquiry=enquiry,
            date=date,
            open_until=open_until,
            **said,
        )
        quotation_issue(quotation)
    return quotation


def order_take(*, holding, date, wanted_by=None, **said):
    """Take an order, and issue its confirmation."""
    not_ahead(holding, date)
    in_order(date, wanted_by, _("it is ordered"), "wanted_by")
    _is_window(said | {"wanted_by": wanted_by})
    if said.get("roof_plan"):
        question = _described(said["roof_plan"], said.get("kind"))
        said["roof_plan"] = roof_said(question)
        said["roof"] = said.get("roof") or question.name[:200]
    with writing(holding):
        order, _new = entry_write(
            Order, holding=holding, date=date, wanted_by=wanted_by, **said
        )
        order_issue(order)
    return order


def order_end(*, holding, order, date, **said):
    happened(holding, date, order.date, _("it was ordered"))
    return entry_add(OrderEnd, holding=holding, order=order, date=date, **said)


def reserve(*, id, holding, made_by, order, lot, date, weight_kg, note=""):
    """Keep so much of a lot for an order; nothing lets it go."""
    ours(holding, order, lot)
    happened(holding, date, order.date, _("it was ordered"))
    with writing(holding):
        if not Reservation.objects.filter(pk=id).exists():
            _is_free(order, lot, weight_kg)
        entry, _new = entry_write(
            Reservation,
            id=id,
            holding=holding,
            made_by=made_by,
            order=order,
            lot=lot,
            date=date,
            weight_kg=weight_kg,
            note=note,
        )
    return entry


def _is_free(order, lot, kg):
    if lot.kind != order.kind:
        refuse("lot", _("The order is for something else than this lot is."))
    others = sum(kept for of, kept in reserved_of(lot).items() if of != order)
    place = place_of(holding=lot.holding, kind=Place.Kind.LOT, subject=lot.pk)
    free = there(place) / 1000 - others
    if kg > free + 0.0005:
        raise TooLittleThere(
            f"{kg:,.1f} kg would be kept of lot {lot}, of which {max(free, 0):,.1f} kg "
            "are free; keep no more than that."
        )


def delivery_record(
    *, id, holding, made_by, order, lot, date, kg, bundles=None, vehicle="", note=""
):
    """Send out part of an order, or all of it: a sale, with its delivery note."""
    ours(holding, order, lot)
    happened(holding, date, order.date, _("it was ordered"))
    if lot.kind != order.kind:
        refuse("lot", _("The order is for something else than this lot is."))
    amount = weighed(kg)
    who = {"holding": holding, "made_by": made_by}
    with writing(holding):
        sale = sell(
            order=order,
            id=uuid.uuid5(id, "sale"),
            **who,
            lot=lot,
            date=date,
            kg=kg,
            buyer_name=order.customer.name,
            buyer=order.customer.person,
            bundles=bundles,
            price=_in_pounds(order, kg),
        )
        delivery, _new = entry_write(
            Delivery, id=id, **who, order=order, sale=sale, vehicle=vehicle, note=note
        )
        delivery_issue(delivery, exact(amount) / 1000)
    return delivery


def _in_pounds(order, kg):
    """What a sale brings; None in another currency, of which no rate is known."""
    if order.currency != POUNDS:
        return None
    return rounded(price_of(kg, order.price_per_t, POUNDS), POUNDS)


def return_record(*, id, holding, made_by, delivery, date, weight_kg, why, note=""):
    """Some of a delivery comes back to its lot."""
    ours(holding, delivery)
    sale = delivery.sale
    happened(holding, date, sale.date, _("it was delivered"))
    amount = weighed(weight_kg)
    who = {"holding": holding, "made_by": made_by}
    with writing(holding):
        if not not_undone(Sale.objects.filter(pk=sale.pk)).exists():
            refuse("delivery", _("This delivery was undone."))
        entry, _new = entry_write(
            Returned,
            id=id,
            **who,
            delivery=delivery,
            date=date,
            weight_kg=weight_kg,
            why=why,
            note=note,
        )
        sold = place_of(holding=holding, kind=Place.Kind.SOLD, subject=sale.pk)
        lot = place_of(holding=holding, kind=Place.Kind.LOT, subject=sale.lot_id)
        movement_write(
            id=id,
            kind=Movement.Kind.MOVE,
            date=date,
            subject=delivery.pk,
            steps=[Step(sold, -amount), Step(lot, amount)],
            **who,
        )
    return entry


def payment_record(*, id, holding, made_by, invoice, date, amount, back=False, **said):
    """Money for an invoice; the order that it settles is closed."""
    ours(holding, invoice)
    if invoice.kind != Paper.Kind.INVOICE:
        refuse("invoice", _("Only an invoice is paid."))
    happened(holding, date, invoice.date, _("it was issued"))
    if rounded(amount, invoice.currency) != amount or amount <= 0:
        refuse("amount", _("It should be more than nothing, in whole coins."))
    who = {"holding": holding, "made_by": made_by}
    with writing(holding):
        if not Payment.objects.filter(pk=id).exists():
            _is_owed(invoice, amount, back)
        payment, is_new = entry_write(
            Payment,
            id=id,
            **who,
            invoice=invoice,
            date=date,
            amount=amount,
            back=back,
            **said,
        )
        if is_new and invoice.order:
            end_if_done(invoice.order, made_by, date, id)
    return payment


def _is_owed(invoice, amount, back):
    now = invoice_now(invoice)
    if back and amount > now.paid:
        refuse("amount", _("No more can go back than was paid."))
    if not back and amount > now.owed:
        refuse(
            "amount",
            _("%(owed)s is owed on it; it should be no more than that.")
            % {"owed": max(now.owed, exact(0))},
        )
