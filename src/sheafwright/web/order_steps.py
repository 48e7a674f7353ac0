"""What may be done of an order or an enquiry, as buttons: the next step first."""

from django.utils.translation import gettext as _

from sheafwright.records.money import rounded, said
from sheafwright.records.papers.roof_facts import plan_of
from sheafwright.records.selectors.orders import quotation_of
from sheafwright.web.roofs import roof_action
from sheafwright.web.sheets import write_action
from sheafwright.web.templatetags.said import kg

TERMS = ("price_per_t", "vat_pct", "haulage", "haulage_vat_pct", "currency")
ASKED = ("grades", "varieties", "most_lots", "kind")


def next_steps(request, allotted, now, told_of):
    """To send, to invoice, to be paid."""
    yield from _to_send(request, allotted, now.order, told_of)
    if now.uninvoiced:
        yield from write_action(request, "invoice", order=now.order.pk)
    for each in now.invoices:
        if each.owed > 0:
            yield from write_action(
                request,
                "payment",
                says=_("%(money)s for %(invoice)s came in")
                % {
                    "money": said(each.owed, now.order.currency),
                    "invoice": each.paper,
                },
                invoice=each.paper.pk,
                amount=_plain(each.owed, now.order.currency),
            )


def other_steps(request, now):
    """Whatever else may be."""
    for each in now.deliveries:
        at = {"delivery": each.delivery.pk}
        yield from write_action(request, "lot-paper", **at)
        yield from write_action(request, "return", **at)
    for each in now.invoices:
        yield from write_action(request, "credit-note", invoice=each.paper.pk)
    if now.left_kg:
        yield from write_action(request, "order-end", order=now.order.pk)
    if plan_of(now.order):
        yield roof_action(request.membership, now.order)


def _plain(amount, currency):
    """As it is typed: 1234.50."""
    return f"{rounded(amount, currency):f}"


def _to_send(request, allotted, order, told_of):
    for lot, amount in told_of.given.items() if told_of else ():
        known = allotted.lots.get(lot)
        if known is None:
            continue
        said_of = {"order": order.pk, "lot": known.pk}
        # To the gram: rounded up, it would be more than the lot has.
        mass = f"{round(amount, 3):.10g} kg"
        yield from write_action(
            request,
            "delivery",
            says=_("Deliver %(weight)s of %(lot)s")
            % {"weight": kg(amount, request.user.units), "lot": lot},
            **said_of,
            kg=mass,
        )
        if lot not in told_of.asked.reserved:
            yield from write_action(
                request,
                "reservation",
                says=_("Keep %(lot)s for it") % {"lot": lot},
                **said_of,
                weight_kg=mass,
            )


def of_enquiry(request, each):
    """To quote for it, or else to take it as it was quoted."""
    quotation = quotation_of(each)
    if quotation is None:
        return write_action(
            request,
            "quotation",
            enquiry=each.pk,
            weight_kg=f"{each.weight_kg:g} kg",
            currency=request.membership.holding.currency,
        )
    given = {name: getattr(quotation, name) for name in TERMS}
    when = ("roof", "wanted_from", "wanted_by")
    given |= {name: getattr(each, name) or "" for name in when}
    return write_action(
        request,
        "order",
        quotation=quotation.pk,
        customer=each.customer_id,
        weight_kg=f"{quotation.weight_kg:g} kg",
        **given,
        **like(each),
    )


def its_roof(request, enquiry):
    """The way to the roof that was described for it, if one was."""
    return (roof_action(request.membership, enquiry),) if enquiry.roof_plan else ()


def like(asked):
    """What somebody asks for or likes, as a form begins with it."""
    given = {name: getattr(asked, name) or "" for name in ASKED}
    if asked.organic:
        given["organic"] = "on"
    if asked.least_length_cm:
        given["least_length_cm"] = f"{asked.least_length_cm:g} cm"
    return given
