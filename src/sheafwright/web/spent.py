"""The book's money on a page: beside the budget, by field, and bill by bill."""

from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.answers import budget_wording as told
from sheafwright.answers.budget_lines import COSTS, INCOME
from sheafwright.core.money.pence import pence_of
from sheafwright.records import money_wording as wording
from sheafwright.records.selectors.purchases import purchases_for
from sheafwright.web.sheets import Action, Section, write_action
from sheafwright.web.tables import Column, Link, Table
from sheafwright.web.templatetags.said import day_and_year

MOST_BILLS = 60


def book_sections(request, against):
    """The budget beside the book, then what was spent."""
    book = against.book
    yield Section(
        heading=_("The budget beside the book"),
        sentence=wording.written_so_far(against),
        table=_in_short(against),
        more=tuple(wording.not_counted(book)),
        actions=write_action(request, "purchase", harvest_year=book.harvest_year),
    )
    yield Section(table=_by_line(against), folded=_("The book line by line"))
    if against.fields:
        yield Section(
            more=(wording.how_shared(),),
            table=_by_field(against.fields),
            folded=_("The book field by field"),
        )
    bills = purchases_for(holding=book.holding, harvest_year=book.harvest_year)
    if bills:
        yield Section(
            heading=_("Money spent"),
            table=_bills(request, bills[-MOST_BILLS:]),
            folded=_("Bill by bill"),
            actions=(_file(request, book.harvest_year),),
        )


def _file(request, year):
    page = reverse("web:money-csv", args=[request.membership.holding.slug])
    return Action(_("These bills as CSV"), f"{page}?year={year}")


def _in_short(against):
    planned = {line.line: line.planned or 0 for line in against.lines}
    got = sum(planned[name] for name in INCOME)
    spent = sum(planned[name] for name in COSTS if name in planned)
    columns = (Column(_("Harvest")), Column(_("Budget"), True), Column(_("Book"), True))
    named = (
        (_("Brought in"), got, against.got),
        (_("Spent"), spent, against.spent),
        (_("Left so far"), got - spent, against.left),
    )
    rows = tuple(
        (says, told.pence(planned), _written(actual)) for says, planned, actual in named
    )
    return Table(columns, rows, is_wordy=True)


def _written(pence):
    return _pence(pence, wording.nothing_written())


def _by_line(against):
    columns = (
        Column(_("Line")),
        Column(_("Budget"), True),
        Column(_("Book"), True),
        Column(_("Book has more"), True),
    )
    rows = tuple(
        (
            wording.line_name(each.line),
            _pence(each.planned, wording.not_in_budget()),
            _written(each.actual),
            _pence(each.difference, ""),
        )
        for each in against.lines
    )
    return Table(columns, rows)


def _pence(pence, unknown):
    return unknown if pence is None else told.pence(pence)


def _by_field(fields):
    columns = (
        Column(_("Field")),
        Column(_("Budget leaves"), True),
        Column(_("Brought in"), True),
        Column(_("Spent"), True),
        Column(_("Left so far"), True),
    )
    rows = tuple(
        (
            each.name,
            _pence(each.planned, wording.not_in_budget()),
            _written(each.got),
            _written(each.spent),
            _written(each.left),
        )
        for each in fields
    )
    return Table(columns, rows)


def _bills(request, bills):
    columns = (
        Column(_("What")),
        Column(_("Date")),
        Column(_("For")),
        Column(_("From")),
        Column(_("£"), True),
        Column(_("Belongs to")),
        Column(_("Bill")),
        Column(_("Wrong?")),
    )
    slug = request.membership.holding.slug
    rows = tuple(
        (
            each.what,
            day_and_year(each.date),
            each.get_line_display(),
            each.supplier,
            told.pence(pence_of(each.cost)),
            wording.belongs_to(each),
            _photo(slug, each),
            _strike(slug, each),
        )
        for each in reversed(bills)
    )
    return Table(columns, rows)


def _photo(slug, purchase):
    if not purchase.photo:
        return _("no photo")
    return Link(_("photo"), reverse("web:bill", args=[slug, purchase.pk]))


def _strike(slug, purchase):
    page = reverse("web:write", args=[slug, "purchase-strike"])
    return Link(_("strike it out"), f"{page}?purchase={purchase.pk}")
