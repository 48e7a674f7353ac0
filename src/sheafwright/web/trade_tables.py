"""Tables of papers, visits and roofs, and the ways to an order and a buyer."""

from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.records import trade_wording as wording
from sheafwright.records.money import said
from sheafwright.records.papers.bills import BILLS
from sheafwright.web.sheets import Section
from sheafwright.web.tables import Column, Link, Table
from sheafwright.web.templatetags.said import UNKNOWN, day_and_year, kg


def order_link(request, order, text):
    return Link(text, _to(request, "order", order.pk))


def buyer_link(request, customer):
    return Link(str(customer), _to(request, "buyer", customer.pk))


def lot_link(request, lot):
    return Link(lot.code, _to(request, "lot", lot.pk)) if lot else UNKNOWN


def _to(request, name, pk):
    return reverse(f"web:{name}", args=[request.membership.holding.slug, pk])


def paper_url(request, paper):
    own = not request.membership.may(Right.SEE_BOOK)
    return _to(request, "own-paper" if own else "paper", paper.pk)


def papers_table(request, papers, with_ubl=False, with_money=True):
    """Papers as they were issued, each to print."""
    columns = (
        Column(_("Paper")),
        Column(_("What")),
        Column(_("Day")),
        Column(_("Buyer")),
        *((Column(_("Comes to"), True),) if with_money else ()),
        *((Column(_("For programs")),) if with_ubl else ()),
    )
    rows = tuple(
        (
            Link(paper.code, paper_url(request, paper)),
            paper.get_kind_display(),
            day_and_year(paper.date),
            str(paper.customer or UNKNOWN),
            *((_comes_to(paper),) if with_money else ()),
            *((_ubl_link(request, paper),) if with_ubl else ()),
        )
        for paper in papers
    )
    return Table(columns, rows)


def _comes_to(paper):
    return said(paper.gross, paper.currency) if paper.gross else UNKNOWN


def _ubl_link(request, paper):
    if paper.kind not in BILLS:
        return UNKNOWN
    return Link("UBL", _to(request, "paper-ubl", paper.pk))


def visits_section(request, visits):
    """Who looked, what they said they would take, where the kept handful is."""
    units = request.user.units
    columns = (
        Column(_("Day")),
        Column(_("Buyer")),
        Column(_("Lot")),
        Column(_("Looked at")),
        Column(_("Would take"), True),
        Column(_("Said")),
        Column(_("Kept handful")),
    )
    rows = tuple(
        (
            day_and_year(each.date),
            buyer_link(request, each.customer),
            lot_link(request, each.lot),
            each.looked_at,
            kg(each.would_take_kg, units),
            each.said or UNKNOWN,
            each.handful or UNKNOWN,
        )
        for each in visits
    )
    if not rows:
        return None
    return Section(heading=_("Who looked"), table=Table(columns, rows))


def lasted_section(request, reports):
    """How straw is on its roofs, after how many years."""
    columns = (
        Column(_("Roof")),
        Column(_("Lot")),
        Column(_("Laid"), True),
        Column(_("Seen on")),
        Column(_("How it is")),
        Column(_("Says")),
    )
    rows = tuple(
        (
            each.roof,
            lot_link(request, each.lot),
            each.laid,
            day_and_year(each.date),
            f"{each.get_state_display()}, {wording.after_years(each)}",
            buyer_link(request, each.customer),
        )
        for each in reports
    )
    if not rows:
        return None
    return Section(heading=_("How it lasted"), table=Table(columns, rows))
