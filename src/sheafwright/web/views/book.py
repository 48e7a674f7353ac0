from collections import Counter

from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.records import wording
from sheafwright.records.clock import today
from sheafwright.records.models import Movement, Place
from sheafwright.records.selectors.inspection import certificates_now
from sheafwright.records.selectors.lots import sales_to, standings_of
from sheafwright.records.selectors.mass_balance import Item, mass_balance
from sheafwright.records.selectors.movements import movements_of
from sheafwright.records.selectors.orders import papers_of
from sheafwright.records.selectors.settle import to_settle
from sheafwright.records.selectors.work import hours_owed
from sheafwright.records.services.settle import to_settle_done
from sheafwright.records.services.stock import entry_undo
from sheafwright.web.access import for_right
from sheafwright.web.corrections import put_right_section
from sheafwright.web.errors import told_on
from sheafwright.web.forms.book import PeriodForm, SettleForm, UndoForm, year_to
from sheafwright.web.sheets import Action, Section, Sheet, sheet, write_action
from sheafwright.web.tables import Column, Link, Table
from sheafwright.web.templatetags.said import day_and_year, grams
from sheafwright.web.trade_tables import papers_table
from sheafwright.web.views.orders import own_sections

SHOWN = 60
"""Movements on the page; the printed book has all."""
OPEN = 8
"""Of them, not behind a fold."""
ENTRIES = (
    "loss",
    "weight",
    "labour",
    "cleaning",
    "vermin",
    "complaint",
    "certificate",
    "derogation",
    "lot-apart",
)


@for_right(Right.SEE_BOOK)
def book(request):
    holding, units = request.membership.holding, request.user.units
    period = PeriodForm(request.GET or None, initial=year_to(today(holding)))
    begins, ends = period.said()
    accounts = mass_balance(holding=holding, since=begins, until=ends)
    own = next(
        (c for c in certificates_now(holding=holding) if c.certificate.is_own), None
    )
    sections = (
        _papers(request, begins, ends),
        _balance(accounts, units),
        _certificates(request),
        _owed(holding),
        _movements(request, holding, begins, ends),
        _sold(request, holding, begins, ends),
        _standings(holding, begins, ends),
        put_right_section(request, begins=begins, ends=ends),
        _entries(request),
    )
    said = Sheet(
        title=_("Record book"),
        answer=wording.book_headline(own, grams(_unexplained(accounts), units)),
        odds=wording.period(begins, ends),
        sections=sections,
    )
    return render(request, "web/book.html", {"sheet": said, "period": period})


def _entries(request):
    """What may be written here; nothing for who only reads."""
    may = tuple(a for kind in ENTRIES for a in write_action(request, kind))
    return Section(heading=_("Write in it"), actions=may) if may else Section()


def _papers(request, begins, ends):
    slug = request.membership.holding.slug
    dates = f"?begins={begins:%Y-%m-%d}&ends={ends:%Y-%m-%d}"
    papers = (
        (_("The record book, to print"), "book-pdf"),
        (_("The record book, as tables"), "book-csv"),
        (_("Its events, as EPCIS"), "book-epcis"),
    )
    actions = tuple(
        Action(says, reverse(f"web:{name}", args=[slug]) + dates)
        for says, name in papers
    )
    return Section(heading=_("For the inspector"), actions=actions)


def _sold(request, holding, begins, ends):
    """Papers of sales; without their prices for whoever may not know them."""
    papers = papers_of(holding=holding, most=SHOWN, begins=begins, ends=ends)
    if not papers:
        return Section()
    with_money = request.membership.may(Right.SEE_TRADE)
    return Section(
        heading=_("Papers of sales"),
        table=papers_table(request, papers, with_money=with_money),
        folded=_("Every paper issued in this time"),
    )


def _balance(accounts, units):
    columns = (
        Column(_("What")),
        Column(_("At the start"), True),
        Column(_("Came in")),
        Column(_("Went out")),
        Column(_("Lost")),
        Column(_("At the end"), True),
    )
    rows = tuple(
        (
            wording.of_harvest(account.name, account.harvest_year),
            grams(account.opening_grams, units),
            _items(account.came_in, units),
            _items(account.went_out, units),
            _items(account.lost, units),
            grams(account.closing_grams, units),
        )
        for account in accounts
    )
    return Section(
        heading=_("Mass balance"),
        sentence=wording.losses(_items(_losses(accounts), units)),
        table=Table(columns, rows) if rows else None,
    )


def _items(items, units):
    said = [f"{item.bare} {_weight(item, units)}" for item in items if item.grams]
    return ", ".join(said) or wording.UNKNOWN


def _weight(item, units):
    """Less than was guessed comes in as less than nothing."""
    return grams(item.grams, units).replace("-", "−")


def _losses(accounts):
    """What was lost of all materials together, by name."""
    sums = Counter()
    for account in accounts:
        sums.update({item.what: item.grams for item in account.lost})
    return [Item(what, lost) for what, lost in sums.items()]


def _unexplained(accounts):
    return sum(
        item.grams for item in _losses(accounts) if item.what == Place.Kind.UNEXPLAINED
    )


def _certificates(request):
    holding = request.membership.holding
    columns = (
        Column(_("Whose")),
        Column(_("Body and code")),
        Column(_("Until")),
        Column(_("Straw on it")),
    )
    rows = tuple(
        (
            _certificate(request, now.certificate),
            wording.certificate(now.certificate),
            day_and_year(now.certificate.expires),
            _("yes") if now.certificate.covers_straw else _("no"),
        )
        for now in certificates_now(holding=holding)
    )
    return Section(
        heading=_("Certificates"),
        table=Table(columns, rows) if rows else None,
        sentence="" if rows else wording.nothing_written(),
    )


def _certificate(request, certificate):
    """Its holder; for whoever may put it right, the way there."""
    action = write_action(request, "certificate-correction", certificate=certificate.pk)
    return Link(certificate.holder, action[0].url) if action else certificate.holder


def _standings(holding, begins, ends):
    columns = (Column(_("Lot")), Column(_("Day")), Column(_("Now")), Column(_("Why")))
    rows = tuple(
        (each.lot, day_and_year(each.date), wording.stands(each), each.why)
        for each in standings_of(holding=holding, begins=begins, ends=ends)
    )
    if not rows:
        return Section()
    return Section(heading=_("Lots set apart"), table=Table(columns, rows))


def _owed(holding):
    columns = (Column(_("Neighbour")), Column(_("Hours"), True))
    rows = tuple(
        (o.who, wording.hours_between(o.hours)) for o in hours_owed(holding=holding)
    )
    if not rows:
        return Section()
    return Section(heading=_("Days owed"), table=Table(columns, rows))


def _movements(request, holding, begins, ends):
    slug, units = holding.slug, request.user.units
    columns = (
        Column(_("Entry")),
        Column(_("Day")),
        Column(_("From")),
        Column(_("To")),
        Column(_("Weight"), True),
    )
    may_undo = request.membership.may(Right.RUN)
    rows = tuple(
        (
            Link(str(said.movement), reverse("web:undo", args=[slug, said.movement.pk]))
            if may_undo and not said.is_undone
            else wording.entry(said),
            day_and_year(said.movement.date),
            said.taken_from,
            said.given_to,
            grams(said.grams, units),
        )
        for said in movements_of(holding=holding, begins=begins, ends=ends, most=SHOWN)
    )
    return Section(
        heading=_("Movements, the last first"),
        table=Table(columns, rows, shown=OPEN) if rows else None,
        sentence="" if rows else wording.nothing_moved(),
    )


@for_right(Right.RUN)
def undo(request, movement_id):
    holding = request.membership.holding
    movement = get_object_or_404(Movement, holding=holding, pk=movement_id)
    form = UndoForm(request.POST or None, initial={"date": today(holding)})
    if form.is_valid():
        with told_on(form):
            entry_undo(
                holding=holding,
                made_by=request.user,
                movement=movement,
                **form.cleaned_data,
            )
        if form.is_valid():
            return redirect("web:book", holding.slug)
    context = {"form": form, "movement": movement, "act": _("Undo it")}
    return render(
        request, "web/undo.html", context, status=400 if form.is_bound else 200
    )


@for_right(Right.RUN)
def settle(request):
    holding, typed = request.membership.holding, None
    if request.method == "POST":
        typed = SettleForm(request.POST)
        if typed.is_valid():
            to_settle_done(holding=holding, made_by=request.user, **typed.cleaned_data)
            return redirect("web:settle", holding.slug)
    waiting = [(each, _settling(each, typed)) for each in to_settle(holding=holding)]
    context = {"waiting": waiting, "answer": wording.nothing_to_settle()}
    if waiting:
        context["answer"] = wording.to_settle(len(waiting))
    return render(request, "web/settle.html", context, status=400 if typed else 200)


def _settling(waits, typed):
    """The form of one that waits: as it was typed, where that was refused."""
    if typed is not None and typed["id"].value() == str(waits.pk):
        return typed
    return SettleForm(initial={"id": waits.pk}, auto_id=f"{waits.pk}-%s")


@for_right(Right.SEE_OWN)
def bought(request):
    sales = sales_to(membership=request.membership)
    columns = (Column(_("Lot")), Column(_("Day")), Column(_("What")))
    slug = request.membership.holding.slug
    rows = tuple(
        (
            Link(sale.lot.code, reverse("web:lot", args=[slug, sale.lot_id])),
            day_and_year(sale.date),
            wording.lot_kind(sale.lot),
        )
        for sale in sales
    )
    sections = (Section(table=Table(columns, rows)),) if rows else ()
    sections += own_sections(request)
    return sheet(
        request,
        Sheet(_("Bought"), wording.bought_headline(len(rows)), sections=sections),
    )
