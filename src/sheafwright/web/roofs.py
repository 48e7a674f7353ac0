"""A roof's answer as sections of a page, and the way from it to an enquiry."""

import json

from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.charts.roof import roof_svg
from sheafwright.feeds.roof import COMBED_REED, LONG_STRAW, roof_said
from sheafwright.feeds.telling import measured
from sheafwright.records import trade_wording as wording
from sheafwright.records.models import Lot, Order
from sheafwright.records.papers.roof_facts import plan_of
from sheafwright.records.selectors.orders import sent_for_roofs
from sheafwright.web.sheets import Action, Section, entry_action
from sheafwright.web.tables import Column, Link, Table
from sheafwright.web.templatetags.said import day_and_year

KINDS = {COMBED_REED: Lot.Kind.REED, LONG_STRAW: Lot.Kind.LONG_STRAW}
"""What is sold of a roof's material."""
MOST_SENT = 10


def roof_sections(answer, actions=()):
    """What a roof is, as figures and drawn, and what it takes.

    Parameters
    ----------
    answer : RoofAnswer
    actions : sequence of Action
        What can be done with it.
    """
    said = answer.to_json()
    if answer.warnings:
        yield Section(heading=_("Look again"), is_danger=True, more=answer.warnings)
    yield Section(heading=_("Drawn to scale"), drawing=roof_svg(answer))
    yield Section(heading=_("The roof"), table=_sizes(said, answer.shape.squares))
    yield Section(heading=_("It takes"), table=_takes(said, answer.straw))
    yield Section(table=_counted(said), actions=tuple(actions))
    yield Section(
        heading=_("Before anybody goes up"),
        care=tuple(said["cautions"]),
        working=answer.working,
    )


def _sizes(said, squares):
    rows = [
        (_("Slopes"), measured(said["area_m2"], "m²", ",.1f")),
        (_("Squares of 100 square feet"), f"{squares:,.1f}"),
        (_("Plan, at the drip"), measured(said["plan_m2"], "m²", ",.1f")),
    ]
    named = {
        "ridge_m": _("Ridge"),
        "hips_m": _("Hips"),
        "valleys_m": _("Valleys"),
        "eaves_m": _("Eaves"),
        "verges_m": _("Verges"),
        "abutments_m": _("Against walls"),
        "rise_m": _("Rise, eaves to ridge"),
    }
    rows += [(n, measured(said[k], "m", ",.2f")) for k, n in named.items() if said[k]]
    return Table((Column(_("What")), Column(_("How much"), True)), tuple(rows))


def _takes(said, straw):
    bought, load = straw.bought._asdict(), measured(straw.load, "kg", ",.0f")
    bundle = measured(straw.bundle, "kg", ".3g")
    rows = [
        (_("Straw, with what is thrown out"), *_three(bought, _weight)),
        (_("Bundles of %(weight)s") % {"weight": bundle}, *_three(said["bundles"])),
        (_("Loads of %(weight)s") % {"weight": load}, *_three(said["trailer_loads"])),
        (_("Spars"), *_three(said["spars"])),
        (_("Gads of hazel"), *_three(said["hazel_gads"])),
    ]
    columns = (
        Column(_("What")),
        Column(_("Least"), True),
        Column(_("Likely"), True),
        Column(_("Most"), True),
    )
    return Table(columns, tuple(rows))


def _counted(said):
    """What is reckoned from lengths alone; nothing, where none of it is wanted."""
    rows = [
        (_("Liggers"), f"{said['liggers']:,d}", said["liggers"]),
        (_("Sways"), measured(said["sways_m"], "m", ",.0f"), said["sways_m"]),
        (_("Hooks"), f"{said['hooks']:,d}", said["hooks"]),
    ]
    rows = tuple(row for *row, much in rows if much)
    columns = Column(_("And")), Column(_("About"), True)
    return Table(columns, rows) if rows else None


def _three(band, written="{:,d}".format):
    return (written(band[name]) for name in ("low", "likely", "high"))


def _weight(kg):
    return measured(kg / 1000, "t", ",.2f")


def keep_actions(membership, question, answer):
    """Buttons that keep a roof: with an enquiry, an order, or one asked already.

    Nothing for who may write none.
    """
    plan = json.dumps(roof_said(question), separators=(",", ":"))
    of = {"kind": KINDS[question.material].value, "roof": question.name}
    takes = f"{answer.straw.bought.high:.1f} kg"
    currency = membership.holding.currency
    said = {"roof_plan": plan, "weight_kg": takes, "currency": currency}
    return (
        *entry_action(
            membership,
            "enquiry",
            says=_("Begin an enquiry for this roof"),
            **of,
            roof_plan=plan,
        ),
        *entry_action(
            membership, "order", says=_("Take an order for this roof"), **of, **said
        ),
        *entry_action(
            membership,
            "enquiry-roof",
            says=_("Put it in place of an enquiry's roof"),
            plan=plan,
            roof=question.name,
        ),
    )


def describe_actions(request, says=None):
    """The way to describe a roof on the spot, for whoever may ask."""
    if not request.membership.may(Right.SEE_WORK):
        return ()
    url = reverse("web:ask", args=[request.membership.holding.slug, "roof"])
    return (Action(says or _("What does a roof take?"), url),)


def roof_action(membership, asked):
    """The way to a roof that was described with an enquiry or an order."""
    return Action(wording.roof_drawn(), _address(membership, asked))


def _address(membership, asked):
    page = "order-roof" if isinstance(asked, Order) else "enquiry-roof"
    return reverse(f"web:{page}", args=[membership.holding.slug, asked.pk])


def lot_roofs(request, lot):
    """The roofs that a lot was sent for, for whoever may see who buys."""
    if not request.membership.may(Right.SEE_TRADE):
        return ()
    sent = sent_for_roofs(lot)[:MOST_SENT]
    rows = tuple(_sent(request.membership, each) for each in sent)
    if not rows:
        return ()
    columns = (Column(_("Roof")), Column(_("Buyer")), Column(_("Sent")))
    return (Section(heading=wording.roofs_it_went_to(), table=Table(columns, rows)),)


def _sent(membership, delivery):
    order = delivery.order
    name = order.roof or wording.roof_drawn()
    if plan_of(order):
        name = Link(name, _address(membership, order))
    return name, str(order.customer), day_and_year(delivery.sale.date)
