"""Tables of papers, visits and roofs, and the ways to an order and a buyer."""

from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.records import trade_wording as wording
from sheafwright.records.money import said
from sheafwright.records.papers.bills import BILLS
from sheafwright.web.sheets import Section, write_action
from sheafwright.web.tables import Column, Link, Table
from sheafwright.web.templatetags.said import UNKNOWN, day_and_year, kg


def order_link(request, order, text):
    return Link(text, _to(request, "order", order.pk))


def buyer_link(request, customer):
    return Link(str(customer), _to(request, "buyer", customer.pk))


def lot_link(request, lot):
    return Link(unbroken(lot.code), _to(request, "lot", lot.pk)) if lot else UNKNOWN


def unbroken(code):
    """A code that stays in one line."""
    return code.replace("-", "\u2011")


def _to(request, name, pk):
    return reverse(f"web:{name}", args=[request.membership.holding.slug, pk])


def paper_url(request, paper):
    own = not request.membership.may(Right.SEE_BOOK)
    return _to(request, "own-paper" if own else "paper", paper.pk)


def currencies_told(weighed):
    """At what other money was weighed, a sentence each."""
    yield from (wording.at_rate(rate) for rate in weighed.rates)
    by_currency = {}
    for name, currency in weighed.unpriced.items():
        by_currency.setdefault(currency, []).append(unbroken(name))
    for currency, orders in by_currency.items():
        yield wording.no_rate(orders, currency)


def rate_actions(request, weighed):
    """The way to say what money is worth, and to say it anew."""
    used = (rate.currency for rate in weighed.rates)
    for currency in dict.fromkeys((*weighed.unpriced.values(), *used)):
        says = wording.worth_of(currency)
        yield from write_action(request, "currency-rate", says, currency=currency)


def papers_table(request, papers, with_ubl=False, with_money=True, shown=0):
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
    return Table(columns, rows, shown=shown)


def _comes_to(paper):
    return said(paper.gross, paper.currency) if paper.gross else UNKNOWN


def _ubl_link(request, paper):
    if paper.kind not in BILLS:
        return UNKNOWN
    return Link("UBL", _to(request, "paper-ubl", paper.pk))


def visits_section(request, visits, without=()):
    """Who looked, what they said they would take, where the kept handful is.

    Parameters
    ----------
    without : iterable of str
        Columns that the page tells anyway: ``buyer``, ``lot``.
    """
    units = request.user.units
    columns = {
        "day": (Column(_("Day")), lambda each: day_and_year(each.date)),
        "buyer": (Column(_("Buyer")), lambda each: buyer_link(request, each.customer)),
        "lot": (Column(_("Lot")), lambda each: lot_link(request, each.lot)),
        "looked_at": (Column(_("Looked at")), lambda each: each.looked_at),
        "would_take": (
            Column(_("Would take"), True),
            lambda each: kg(each.would_take_kg, units),
        ),
        "said": (Column(_("Said")), lambda each: each.said or UNKNOWN),
        "handful": (Column(_("Kept handful")), lambda each: each.handful or UNKNOWN),
    }
    return _section(_("Who looked"), columns, visits, without)


def lasted_section(request, reports, without=()):
    """How straw is on its roofs, after how many years."""
    columns = {
        "roof": (Column(_("Roof")), lambda each: each.roof),
        "lot": (Column(_("Lot")), lambda each: lot_link(request, each.lot)),
        "laid": (Column(_("Laid"), True), lambda each: each.laid),
        "seen": (Column(_("Seen on")), lambda each: day_and_year(each.date)),
        "state": (Column(_("How it is")), wording.lasted),
        "buyer": (Column(_("Says")), lambda each: buyer_link(request, each.customer)),
    }
    return _section(_("How it lasted"), columns, reports, without)


def _section(heading, columns, things, without):
    told = [each for name, each in columns.items() if name not in without]
    rows = tuple(tuple(cell(each) for _column, cell in told) for each in things)
    if not rows:
        return None
    table = Table(tuple(column for column, _cell in told), rows)
    return Section(heading=heading, table=table)
