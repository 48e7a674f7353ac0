import datetime
import io
import itertools

from django.http import FileResponse
from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.answers.labour_need import CALLED
from sheafwright.feeds.telling import capital, told
from sheafwright.records import labour_wording as wording
from sheafwright.records.clock import today
from sheafwright.records.models import LabourRate
from sheafwright.records.selectors.labour import (
    labour_book,
    labour_needed,
    labour_years,
)
from sheafwright.web.access import for_right
from sheafwright.web.asked import year_of
from sheafwright.web.sheets import Action, Section, Sheet, sheet, write_action
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import UNKNOWN, day_and_year

LEAST_HOURS = 0.5
"""Of a week that is shown of the next season."""
MOST_YEARS = 12
DAY, WEEK = datetime.timedelta(1), datetime.timedelta(7)


@for_right(Right.RUN)
def labour(request):
    book, years = _book(request)
    units = request.user.units
    sections = (
        _first(request, book, years),
        *_kinds(book, units),
        _need(request),
        _rates(request),
    )
    return sheet(
        request,
        Sheet(
            title=_("Labour"),
            answer=wording.headline(book),
            odds=wording.per(book, units),
            sections=tuple(each for each in sections if each),
        ),
    )


@for_right(Right.RUN)
def hours_csv(request):
    """Every hour of a harvest, an entry a line."""
    from sheafwright.documents.record_book import Table as Lines
    from sheafwright.documents.record_book_csv import as_csv

    book, _years = _book(request)
    lines = Lines(*wording.hours_table(book))
    name = f"hours-{book.harvest_year}.csv"
    return FileResponse(
        io.BytesIO(as_csv(lines)),
        filename=name,
        as_attachment=True,
        content_type="text/csv; charset=utf-8",
    )


def _book(request):
    """Of the harvest that is asked for, else the last with hours."""
    holding = request.membership.holding
    years = labour_years(holding=holding)
    last = years[0] if years else today(holding).year
    year = year_of(request, years) or last
    return labour_book(holding=holding, harvest_year=year), years


def _first(request, book, years):
    slug = request.membership.holding.slug
    page, file = (
        reverse(f"web:{name}", args=[slug]) for name in ("labour", "labour-csv")
    )
    others = (
        Action(str(year), f"{page}?year={year}")
        for year in years[:MOST_YEARS]
        if year != book.harvest_year
    )
    said = wording.elsewhere(book.elsewhere) if book.elsewhere else ""
    return Section(
        sentence=said,
        more=(wording.only_what_is_written(),),
        actions=(
            *write_action(request, "labour"),
            *(
                [Action(_("These hours as CSV"), f"{file}?year={book.harvest_year}")]
                if book.hours
                else []
            ),
            *others,
        ),
    )


def _kinds(book, units):
    kinds = (
        (_("By task"), "", _("Task"), book.by_task, wording.task, units),
        (_("By person"), "", _("Who"), book.by_person, str, None),
        (_("By lot"), wording.shared_by_weight(), _("Lot"), book.by_lot, str, None),
    )
    for heading, note, what, spent, named, per in kinds:
        if spent:
            table = _spent(book, what, spent, named, per)
            yield Section(heading=heading, sentence=note, table=table)


def _spent(book, what, spent, named, units):
    """A table of hours and their cost; by an area and a tonne, if units are given."""
    more = wording.measures(book, units) if units else ()
    columns = (
        Column(what),
        Column(_("Hours"), True),
        Column(_("Cost"), True),
        *(Column(label, True) for label, _per in more),
    )
    rows = tuple(
        (
            named(each.name),
            wording.hours(each.hours),
            wording.pounds(each.cost),
            *(wording.hours(each.hours / per) for _label, per in more),
        )
        for each in spent
    )
    return Table(columns, rows)


def _need(request):
    need = labour_needed(holding=request.membership.holding)
    heading = _("What the next season needs")
    if need is None:
        return Section(heading=heading, sentence=wording.no_need())
    columns = (
        Column(_("Days")),
        Column(_("Hours a week"), True),
        *(Column(capital(told(CALLED[each.task])), True) for each in need.tasks),
    )
    rows = tuple(
        (
            wording.weeks(begins, ends),
            wording.hours(sum(hours)),
            *(wording.hours(each) if each else UNKNOWN for each in hours),
        )
        for begins, ends, hours in _weeks(need)
        if sum(hours) >= LEAST_HOURS
    )
    return Section(
        heading=heading,
        sentence=need.sentence,
        table=Table(columns, rows),
        working=need.working,
    )


def _weeks(need):
    """First and last day, and each task's hours a week, of weeks that are alike."""
    weeks = enumerate(need.weeks.T.round(1).tolist())
    for hours, alike in itertools.groupby(weeks, key=lambda week: week[1]):
        numbers = [number for number, _hours in alike]
        begins = need.first_week + numbers[0] * WEEK
        yield begins, need.first_week + (numbers[-1] + 1) * WEEK - DAY, hours


def _rates(request):
    rates = LabourRate.objects.filter(holding=request.membership.holding)
    columns = (
        Column(_("Whose, at what")),
        Column(_("£ an hour"), True),
        Column(_("Since")),
    )
    rows = tuple(
        (wording.rate_of(each), f"£{each.rate}", day_and_year(each.since))
        for each in rates.order_by("-since", "-made_at")
    )
    return Section(
        heading=_("What an hour costs"),
        sentence="" if rows else wording.no_rates(),
        table=Table(columns, rows) if rows else None,
        actions=write_action(request, "labour-rate"),
    )
