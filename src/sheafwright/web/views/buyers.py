"""A buyer's own page, and an order's."""

from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.answers.grade import rule_said
from sheafwright.records import grading_wording
from sheafwright.records import trade_wording as wording
from sheafwright.records.clock import today
from sheafwright.records.models import Customer, Order, RoofReport, Visit
from sheafwright.records.selectors.allotment import allotment
from sheafwright.records.selectors.buyers import buyer_now, next_window
from sheafwright.records.selectors.lot_known import own_rules
from sheafwright.records.selectors.orders import order_now
from sheafwright.web.access import for_right
from sheafwright.web.order_steps import like, next_steps, other_steps
from sheafwright.web.sheets import Action, Fold, Section, Sheet, sheet, write_action
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import (
    UNKNOWN,
    day_and_year,
    grams,
    height_cm,
    kg,
)
from sheafwright.web.trade_tables import (
    currencies_told,
    lasted_section,
    lot_link,
    order_link,
    papers_table,
    rate_actions,
    visits_section,
)

MOST_SEEN = 10


@for_right(Right.SEE_TRADE)
def buyer(request, customer_id):
    """What somebody likes, looked at, bought, and how it lasted."""
    holding = request.membership.holding
    customer = get_object_or_404(Customer, holding=holding, pk=customer_id)
    now = buyer_now(customer)
    sections = (
        _likes(request, now),
        _orders(request, now.orders),
        visits_section(request, now.visits, ("buyer",)),
        lasted_section(request, now.reports, ("buyer",)),
        _papers(request, now.papers),
        _contact(customer),
    )
    return sheet(
        request,
        Sheet(
            title=customer.name,
            answer=wording.buys(customer, len(now.open_orders)),
            odds="" if now.visits else wording.not_yet_looked(),
            sections=tuple(each for each in sections if each),
        ),
    )


def _likes(request, now):
    units, customer = request.user.units, now.customer
    said = wording.likes(now.likes, lambda length: height_cm(length, units))
    rules = tuple(
        f"{wording.own_rule(grading_wording.use(use))}: {rule_said(use, rule)}"
        for use, rule in now.rules.items()
    )
    return Section(
        heading=_("What they like"),
        sentence=said or _("Nothing is written down yet."),
        more=rules,
        actions=(
            *_asks(request, now),
            *write_action(request, "visit", customer=customer.pk),
            *write_action(request, "roof-report", customer=customer.pk),
            *write_action(request, "customer-wants", customer=customer.pk),
            *write_action(request, "grade-rule", buyer_name=customer.name),
        ),
    )


def _asks(request, now):
    """The form of an enquiry, begun with what they like."""
    said = {"customer": now.customer.pk}
    if now.likes:
        wants = now.likes[-1]
        begins, ends = next_window(wants, today(now.customer.holding))
        said |= like(wants) | {"wanted_from": begins or "", "wanted_by": ends or ""}
    return write_action(request, "enquiry", **said)


def _orders(request, orders):
    units = request.user.units
    columns = (
        Column(_("Order")),
        Column(_("What")),
        Column(_("Ordered"), True),
        Column(_("Delivered"), True),
        Column(_("Wanted by")),
        Column(_("How it stands")),
    )
    rows = tuple(
        (
            order_link(request, now.order, code_of(now)),
            now.order.get_kind_display(),
            kg(now.order.weight_kg, units),
            kg(now.delivered_kg, units),
            day_and_year(now.order.wanted_by),
            now.ended.why if now.ended else _("open"),
        )
        for now in orders
    )
    return Section(heading=_("Orders"), table=Table(columns, rows)) if rows else None


def code_of(now):
    """The number that an order was confirmed under; its day, if it has none."""
    paper = next((each for each in now.papers if each.kind == "order"), None)
    return paper.code if paper else day_and_year(now.order.date)


def _papers(request, papers):
    if not papers:
        return None
    return Section(
        heading=_("Papers, the last first"), table=papers_table(request, papers, True)
    )


def _contact(customer):
    lines = (customer.address, customer.telephone, customer.email, customer.note)
    said = tuple(filter(None, lines))
    return Section(heading=_("Where they are"), more=said) if said else None


@for_right(Right.SEE_TRADE)
def order(request, order_id):
    """One order: what it gets and why, what went, and all that may be done of it."""
    holding = request.membership.holding
    found = get_object_or_404(
        Order.objects.select_related("customer"), holding=holding, pk=order_id
    )
    now, allotted = order_now(found), allotment(holding=holding)
    told_of = _told(allotted, found)
    sections = (
        _gets(request, allotted, now, told_of),
        _asked(request, found),
        _went(request, now),
        visits_section(request, _visits(found, now, told_of)),
        lasted_section(request, _reports(now)),
        _papers(request, now.papers),
        Section(
            heading=_("What else may be done"),
            actions=(*other_steps(request, now), _to_buyer(request, found.customer)),
        ),
    )
    return sheet(
        request,
        Sheet(
            title=f"{code_of(now)}, {found.customer}",
            answer=_headline(now, told_of),
            odds=wording.state(now, lambda mass: kg(mass, request.user.units)),
            sections=tuple(each for each in sections if each),
        ),
    )


def _told(allotted, order):
    name = next((n for n, now in allotted.orders.items() if now.order == order), None)
    return allotted.of(name) if name else None


def _headline(now, told_of):
    """What to do next of it."""
    if now.uninvoiced:
        return wording.to_invoice(now)
    if told_of is not None:
        return told_of.sentence
    if now.owed > 0:
        return wording.owed_by(now)
    return now.ended.why if now.ended else wording.no_orders()


def _gets(request, allotted, now, told_of):
    why = told_of.why if told_of else ()
    name = told_of.asked.name if told_of else ""
    weighed = allotted.weighed.of(name, now.order.currency)
    actions = (
        *next_steps(request, allotted, now, told_of),
        *(rate_actions(request, weighed) if told_of else ()),
    )
    if not (why or actions):
        return None
    return Section(
        heading=_("What it gets"),
        more=tuple(currencies_told(weighed)) if told_of else (),
        fold=Fold(_("Why so"), tuple(why)) if why else None,
        actions=actions,
        working=allotted.answer.working if told_of else (),
    )


def _asked(request, order):
    units = request.user.units
    said = list(wording.asked(order, lambda length: height_cm(length, units)))
    own = own_rules(order.customer.name, holding=order.holding)
    said += [
        f"{wording.own_rule(grading_wording.use(use))}: {rule_said(use, rule)}"
        for use, rule in own.items()
    ]
    return Section(heading=_("What is asked"), more=tuple(said)) if said else None


def _went(request, now):
    units = request.user.units
    columns = (
        Column(_("Delivered on")),
        Column(_("Lot")),
        Column(_("Bundles"), True),
        Column(_("Weight"), True),
        Column(_("Came back"), True),
        Column(_("Driver and vehicle")),
    )
    rows = tuple(
        (
            day_and_year(each.delivery.sale.date),
            lot_link(request, each.delivery.sale.lot),
            each.delivery.sale.bundles or UNKNOWN,
            grams(each.grams, units),
            grams(each.back, units) if each.back else UNKNOWN,
            each.delivery.vehicle or UNKNOWN,
        )
        for each in now.deliveries
    )
    return Section(heading=_("What went"), table=Table(columns, rows)) if rows else None


def _lots(now, told_of):
    """Codes of lots that it was given or gets."""
    codes = {each.delivery.sale.lot.code for each in now.deliveries}
    return codes | set(told_of.given if told_of else ())


def _visits(order, now, told_of):
    """By its buyer, and by anybody to the lots that it gets."""
    seen = Visit.objects.filter(holding=order.holding).select_related("lot", "customer")
    theirs = seen.filter(customer=order.customer)
    return (theirs | seen.filter(lot__code__in=_lots(now, told_of)))[:MOST_SEEN]


def _reports(now):
    """Of the lots that went for it."""
    lots = {each.delivery.sale.lot_id for each in now.deliveries}
    reports = RoofReport.objects.filter(lot__in=lots)
    return reports.select_related("lot", "customer")[:MOST_SEEN]


def _to_buyer(request, customer):
    url = reverse("web:buyer", args=[request.membership.holding.slug, customer.pk])
    return Action(_("All of %(customer)s") % {"customer": customer}, url)
