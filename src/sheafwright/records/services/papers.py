"""Papers issued: numbered in the holding's turn, and never changed."""

import datetime
import uuid

from django.db.models import Max
from django.utils.translation import gettext as _

from sheafwright.records.errors import SaidOtherwise
from sheafwright.records.grain_wording import not_organic_by_the_mill
from sheafwright.records.models import LotTest, Order, OrderEnd, Paper
from sheafwright.records.models.store import STRAW
from sheafwright.records.money import exact, rounded
from sheafwright.records.papers.labels import lot_may_be_sold_as, sowings_behind
from sheafwright.records.papers.roof_facts import plan_of, sizes_of
from sheafwright.records.papers.straw_facts import (
    graded_said,
    own_rules_of,
    stems_said,
)
from sheafwright.records.papers.trade_facts import (
    goods,
    haulage,
    of_lot,
    said_of,
)
from sheafwright.records.selectors.milled import not_organic_by_mill
from sheafwright.records.selectors.orders import invoice_now, letterhead_of, order_now
from sheafwright.records.services.checks import happened, not_ahead, refuse
from sheafwright.records.services.entry import entry_check, entry_write, writing
from sheafwright.records.services.weights import ours


def id_of(entry, kind):
    """The id of the paper that an entry issues with itself."""
    return uuid.uuid5(entry, f"paper {kind}")


def paper_issue(*, id, holding, made_by, kind, date, lines, more=None, **about):
    """Issue a paper, or find it if it was issued before.

    Parameters
    ----------
    lines : list of dict
        As `papers.trade_facts` makes them.
    more : dict, optional
        What else it says.
    """
    not_ahead(holding, date)
    with writing(holding):
        if issued := _issued(id, holding, kind):
            return issued
        paper = Paper(
            id=id, holding=holding, made_by=made_by, kind=kind, date=date, **about
        )
        paper.said = said_of(paper, lines, **(more or {}))
        last = Paper.objects.filter(holding=holding, kind=kind).aggregate(
            last=Max("number")
        )["last"]
        paper.number = 1 + (last or 0)
        entry_check(paper)
        paper.save(force_insert=True)
        return paper


def _issued(id, holding, kind):
    """The paper of this id, if it was issued before."""
    issued = Paper.objects.filter(pk=id).first()
    if issued is not None:
        ours(holding, issued)
        if issued.kind != kind:
            raise SaidOtherwise(
                f"This was already issued as {issued.code}; issue another paper anew."
            )
    return issued


def quotation_issue(quotation):
    """The paper of a quotation."""
    enquiry = quotation.enquiry
    return paper_issue(
        id=id_of(quotation.pk, "quotation"),
        holding=quotation.holding,
        made_by=quotation.made_by,
        kind=Paper.Kind.QUOTATION,
        date=quotation.date,
        customer=enquiry.customer,
        currency=quotation.currency,
        lines=[
            goods(enquiry.kind, quotation.weight_kg, quotation),
            *haulage(quotation),
        ],
        more={"open_until": quotation.open_until.isoformat()}
        | _asked(enquiry)
        | {"roof_sizes": sizes_of(enquiry.roof_plan)}
        | own_rules_of(enquiry.customer, enquiry.kind),
    )


def order_issue(order):
    """The paper by which an order is confirmed."""
    return paper_issue(
        id=id_of(order.pk, "order"),
        holding=order.holding,
        made_by=order.made_by,
        kind=Paper.Kind.ORDER,
        date=order.date,
        customer=order.customer,
        order=order,
        currency=order.currency,
        lines=[goods(order.kind, order.weight_kg, order), *haulage(order)],
        more=_asked(order)
        | {"deliver_to": _goes_to(order), "roof_sizes": sizes_of(plan_of(order))}
        | own_rules_of(order.customer, order.kind),
    )


def delivery_issue(delivery, kg):
    """The note that goes with a delivery."""
    order, sale = delivery.order, delivery.sale
    lot = sale.lot
    line = {"kind": lot.kind, "kg": str(exact(kg)), "bundles": sale.bundles}
    return paper_issue(
        id=id_of(delivery.pk, "delivery"),
        holding=delivery.holding,
        made_by=delivery.made_by,
        kind=Paper.Kind.DELIVERY,
        date=sale.date,
        customer=order.customer,
        order=order,
        lot=lot,
        currency=order.currency,
        lines=[line | of_lot(lot)],
        more={"vehicle": delivery.vehicle, "deliver_to": _goes_to(order)}
        | _refers(order),
    )


def invoice_issue(*, id, holding, made_by, order, date, note=""):
    """Invoice what was delivered for an order and not invoiced yet.

    Haulage is on its first invoice.
    """
    ours(holding, order)
    with writing(holding):
        if issued := _issued(id, holding, Paper.Kind.INVOICE):
            return issued
        now = order_now(order)
        if not now.to_invoice:
            refuse("order", _("Nothing was delivered for it that is not invoiced yet."))
        lines = [
            goods(
                each.delivery.sale.lot.kind,
                exact(each.kept) / 1000,
                order,
                each.delivery.sale.lot,
                each.delivery.sale.bundles if not each.back else None,
            )
            for each in now.to_invoice
        ]
        is_first = not any(each.stands for each in now.invoices)
        lines += haulage(order) if is_first else []
        days = _days_to_pay(holding)
        more = {
            "deliveries": [str(each.delivery.pk) for each in now.to_invoice],
            "due": (date + datetime.timedelta(days)).isoformat(),
        }
        return paper_issue(
            id=id,
            holding=holding,
            made_by=made_by,
            kind=Paper.Kind.INVOICE,
            date=date,
            customer=order.customer,
            order=order,
            currency=order.currency,
            note=note,
            lines=lines,
            more=more | _refers(order),
        )


def credit_note_issue(
    *, id, holding, made_by, invoice, date, why, net=None, vat_pct=None, note=""
):
    """Credit an invoice: all that is left of it, or so much of one of its rates."""
    ours(holding, invoice)
    if invoice.kind != Paper.Kind.INVOICE:
        refuse("invoice", _("Only an invoice is credited."))
    happened(holding, date, invoice.date, _("it was issued"))
    with writing(holding):
        if issued := _issued(id, holding, Paper.Kind.CREDIT):
            return issued
        lines = _whole_of(invoice) if net is None else [_part_of(invoice, net, vat_pct)]
        paper = paper_issue(
            id=id,
            holding=holding,
            made_by=made_by,
            kind=Paper.Kind.CREDIT,
            date=date,
            customer=invoice.customer,
            order=invoice.order,
            corrects=invoice,
            currency=invoice.currency,
            note=note,
            lines=lines,
            more={"why": why, "of_invoice": invoice.code, "of_date": str(invoice.date)},
        )
        _no_more_than_invoiced(invoice)
        end_if_done(invoice.order, made_by, date, paper.pk)
        return paper


def lot_paper_issue(*, id, holding, made_by, delivery, kind, date, note=""):
    """A grain note, an organic statement or a lot certificate of one delivery."""
    ours(holding, delivery)
    if kind not in OF_A_DELIVERY:
        refuse("kind", _("It should be one of the papers of a delivery."))
    with writing(holding):
        if issued := _issued(id, holding, kind):
            return issued
        lot, order = delivery.sale.lot, delivery.order
        kg = _kept_of(delivery)
        more = OF_A_DELIVERY[kind](lot, order.customer)
        line = {"kind": lot.kind, "kg": str(exact(kg) / 1000)} | of_lot(lot)
        return paper_issue(
            id=id,
            holding=holding,
            made_by=made_by,
            kind=kind,
            date=date,
            customer=order.customer,
            order=order,
            lot=lot,
            currency=order.currency,
            note=note,
            lines=[line | {"bundles": delivery.sale.bundles}],
            more=more
            | {"vehicle": delivery.vehicle, "deliver_to": _goes_to(order)}
            | _refers(order),
        )


def _kept_of(delivery):
    """What stayed with the buyer. [g]"""
    counts = order_now(delivery.order).deliveries
    kept = {each.delivery.pk: each.kept for each in counts}
    if delivery.pk not in kept:
        refuse("delivery", _("This delivery was undone."))
    return kept[delivery.pk]


def end_if_done(order, made_by, date, key):
    """Close an order of which nothing is left to deliver, invoice or have paid."""
    order = Order.objects.get(pk=order.pk)
    now = order_now(order)
    if now.ended or not now.is_done or not now.invoices:
        return
    entry_write(
        OrderEnd,
        id=uuid.uuid5(key, "ended"),
        holding=order.holding,
        made_by=made_by,
        order=order,
        date=date,
        why=_("paid in full"),
    )


def _asked(of):
    """What was asked, where papers say so."""
    return {
        "roof": of.roof,
        "wanted_from": of.wanted_from.isoformat() if of.wanted_from else "",
        "wanted_by": of.wanted_by.isoformat() if of.wanted_by else "",
        "least_length_cm": of.least_length_cm,
        "grades": of.grades,
        "varieties": of.varieties,
        "organic": of.organic,
    }


def _refers(order):
    """The number of the order that a paper belongs to."""
    paper = Paper.objects.filter(order=order, kind=Paper.Kind.ORDER).first()
    return {"of_order": paper.code if paper else ""}


def _goes_to(order):
    return order.deliver_to or order.customer.address


def _days_to_pay(holding):
    head = letterhead_of(holding)
    return head.days_to_pay if head else 30


def _whole_of(invoice):
    if invoice_now(invoice).credited:
        refuse(
            "net",
            _("Some of it was credited before; say how much more is, without VAT."),
        )
    return [dict(line) for line in invoice.said["lines"]]


def _part_of(invoice, net, vat_pct):
    net = rounded(net, invoice.currency)
    if net <= 0:
        refuse("net", _("It should be more than nothing."))
    rates = [exact(rate) for rate, _net, _vat in invoice.said["rates"]]
    rate = max(rates, default=None) if vat_pct is None else exact(vat_pct)
    if rate not in rates:
        refuse(
            "vat_pct",
            _("The invoice has no line at %(rate)s%%; it should be one of its rates.")
            % {"rate": "–" if vat_pct is None else vat_pct},
        )
    return {"kind": "part", "vat_pct": str(rate), "net": str(net)}


def _no_more_than_invoiced(invoice):
    """At each rate; refused after it was written, so that all of it is taken back."""
    left = {exact(rate): exact(net) for rate, net, _vat in invoice.said["rates"]}
    for note in Paper.objects.filter(corrects=invoice):
        for rate, net, _vat in note.said["rates"]:
            left[exact(rate)] = left.get(exact(rate), exact(0)) - exact(net)
    if any(net < 0 for net in left.values()):
        refuse(
            "net",
            _("More would be credited than was invoiced; say no more than is left."),
        )


def _grain(lot, _customer):
    if lot.kind in STRAW:
        refuse("kind", _("A grain note is for grain; this lot is straw."))
    return {"measured": _measured(lot, MEASURED), "fields": _fields(lot)}


def _organic(lot, _customer):
    if not_organic_by_mill([lot]):
        refuse("kind", not_organic_by_the_mill())
    if lot_may_be_sold_as(lot, sowings_behind(lot)) == "not_organic":
        refuse("kind", _("What this lot was grown of may not be sold as organic."))
    return {"fields": _fields(lot)}


def _certificate(lot, customer):
    sowings = sowings_behind(lot)
    heights = [
        seen.height_cm
        for sowing in sowings
        for seen in sowing.observations.all()
        if seen.height_cm
    ]
    return {
        "fields": _fields(lot),
        "sown": sorted({sowing.date.isoformat() for sowing in sowings}),
        "heights_cm": [min(heights), max(heights)] if heights else [],
        "measured": _measured(lot, ("moisture_pct",)),
        "stems": stems_said(lot),
        "handful": _handful(lot),
        **graded_said(lot, customer),
    }


def _handful(lot):
    """What the last handful said of it."""
    hand = lot.hand_grades.order_by("date", "made_at").last()
    if hand is None:
        return {}
    return {name: getattr(hand, name) for name in ("twist", *SIGNS)}


def _measured(lot, names):
    """The last test of each."""
    last = {}
    for test in LotTest.objects.filter(lot=lot).order_by("date"):
        found = {name: getattr(test, name) for name in names}
        last |= {name: value for name, value in found.items() if value is not None}
    return last


def _fields(lot):
    return sorted({sowing.field.name for sowing in sowings_behind(lot)})


SIGNS = ("colour", "smell", "stems")
MEASURED = (
    *("moisture_pct", "protein_pct", "hagberg_s"),
    *("specific_weight_kg_per_hl", "admixture_pct"),
)
OF_A_DELIVERY = {
    Paper.Kind.GRAIN: _grain,
    Paper.Kind.ORGANIC: _organic,
    Paper.Kind.CERTIFICATE: _certificate,
}
