"""Grain, milling and flour, as sections of *Grain* and of a lot's own page."""

from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.answers.grain_keeping import CAUTION
from sheafwright.answers.grain_wording import several_times
from sheafwright.feeds.telling import told
from sheafwright.records import grain_wording as wording
from sheafwright.records import wording as record_wording
from sheafwright.records.clock import today
from sheafwright.records.models import FlourBags, Lot
from sheafwright.records.selectors.grain import at_prices_told, owed_now
from sheafwright.records.selectors.grain_terms import terms_now, terms_of
from sheafwright.records.selectors.milled import is_spoilt_by_mill, runs_of_mill
from sheafwright.web.asks import ask_action
from sheafwright.web.forms.kinds import KINDS
from sheafwright.web.sheets import Action, Fold, Section, write_action
from sheafwright.web.tables import Column, Link, Table
from sheafwright.web.templatetags.said import (
    day_and_year,
    grams,
    kg,
    percent,
    specific_weight,
    temperature,
)

MOST_RUNS, MOST_BAGS, MOST_STEPS = 10, 8, 8
OPEN_FLOUR, OPEN_RUNS, OPEN_BAGS = 6, 4, 3
"""Of them, not behind a fold."""


class Weights:
    """Numbers and days as their reader has them."""

    def __init__(self, units):
        self.units = units

    def kg(self, value):
        return kg(value, self.units)

    def grams(self, value):
        return grams(value, self.units)

    def temperature(self, value):
        return temperature(value, self.units)

    day = staticmethod(day_and_year)


def next_section(request, steps):
    """Pairs of `GrainNow` and `NextStep`, what presses first."""
    columns = (Column(_("Lot")), Column(_("What it is")), Column(_("Do this next")))
    rows = tuple(
        (
            _lots_of_step(request, lots),
            record_wording.lot_kind(lots[0]),
            _step_link(request, lots[0], step),
        )
        for step, lots in _of_one_step(steps)[:MOST_STEPS]
    )
    table = Table(columns, rows, is_wordy=True)
    return Section(heading=_("What to do next"), table=table)


def _of_one_step(steps):
    """Each step once, with the lots that it is the next of."""
    found = {}
    for now, step in steps:
        # A list is one for all flour; whatever else is next is done to one lot.
        key = step.entry if step.entry == "flour-check" else now.lot.pk
        found.setdefault(key, (step, []))[1].append(now.lot)
    return list(found.values())


def _lots_of_step(request, lots):
    if len(lots) == 1:
        return _lot_link(request, lots[0])
    return wording.lots_together(lots)


def _lot_link(request, lot):
    slug = request.membership.holding.slug
    return Link(lot.code, reverse("web:lot", args=[slug, lot.pk]))


def _step_link(request, lot, step):
    """The step, leading to its form for whoever may write it."""
    slug = request.membership.holding.slug
    if step.entry == "grain-choice":
        url = reverse("web:ask", args=[slug, step.entry])
        return Link(step.says, f"{url}?{urlencode(step.given)}")
    if not request.membership.may(KINDS[step.entry].right):
        return step.says
    url = reverse("web:write", args=[slug, step.entry])
    given = step.given if step.entry == "flour-check" else {"lot": lot.pk} | step.given
    return Link(step.says, f"{url}?{urlencode(given)}" if given else url)


def stock_section(request, lots, actions):
    """Grain in store, where, and how good it is."""
    units = request.user.units
    columns = (
        Column(_("Lot")),
        Column(_("What")),
        Column(_("In store"), True),
        Column(_("Lies")),
        Column(_("Moisture"), True),
        Column(_("Protein"), True),
        Column(_("Falling number"), True),
        Column(_("Bushel weight"), True),
    )
    rows = tuple(
        (
            _lot_link(request, now.lot),
            _what(now),
            grams(now.grams, units),
            now.checked.where if now.checked else wording.UNKNOWN,
            percent(now.moisture),
            percent(now.quality("protein_pct")),
            record_wording.seconds(now.quality("hagberg_s")),
            specific_weight(now.quality("specific_weight_kg_per_hl"), units),
        )
        for now in lots
        if now.is_grain
    )
    return Section(
        heading=_("Grain in store"),
        table=Table(columns, rows) if rows else None,
        actions=tuple(actions),
    )


def flour_section(request, lots):
    """Flour and bran in store; nothing where there is none."""
    columns = (
        Column(_("Lot")),
        Column(_("What")),
        Column(_("In store"), True),
        Column(_("Milled")),
        Column(_("Best before")),
    )
    rows = tuple(
        (
            _lot_link(request, now.lot),
            _what(now),
            grams(now.grams, request.user.units),
            day_and_year(now.milled and now.milled.date),
            _best_before(now, today(request.membership.holding)),
        )
        for now in lots
        if not now.is_grain
    )
    if not rows:
        return Section()
    table = Table(columns, rows, shown=OPEN_FLOUR)
    return Section(heading=_("Flour and bran in store"), table=table)


def _best_before(now, day):
    """The day of its last bags, and whether that is gone."""
    last = now.bags[-1].best_before if now.bags else None
    said = day_and_year(last)
    return wording.is_gone(said) if last and last < day else said


def _what(now):
    lot, kind = now.lot, record_wording.lot_kind(now.lot)
    if now.milled and lot.kind == Lot.Kind.FLOUR:
        kind = now.milled.get_flour_display()
    return f"{kind}, {lot.variety}, {lot.harvest_year}"


def keeping_section(request, grain):
    """How grain keeps that somebody took the temperature and the moisture of."""
    known = [(now.lot, now.keeping) for now in grain if now.keeping]
    return Section(
        heading=_("Will it keep?"),
        sentence=wording.look_every(),
        more=tuple(
            _("%(lot)s: %(keeps)s") % {"lot": lot, "keeps": keeping.sentence}
            for lot, keeping in known
        ),
        care=(told(CAUTION),),
        actions=write_action(request, "store-check"),
        working=known[0][1].working if known else (),
    )


def prices_section(request, heap_grams):
    """What a tonne brings milled, beside what it brings as grain.

    By the book's own prices, so they are told to those alone who may know them.
    """
    holding = request.membership.holding
    heaps = {"mass": heap_grams, "owed": owed_now(holding=holding).grams}
    asked = {name: f"{heap / 1000:g} kg" for name, heap in heaps.items() if heap}
    ask = ask_action(request, "grain-choice", **asked)
    heading = _("Sold as grain, or milled")
    if not request.membership.may(Right.SEE_TRADE):
        return Section(heading=heading, actions=(ask,))
    choice = at_prices_told(holding=holding)
    return Section(
        heading=heading,
        sentence=several_times(choice),
        more=(wording.prices_are(),),
        actions=(ask, *write_action(request, "grain-terms")),
        working=choice.working,
    )


def terms_section(request):
    """What each buyer wants and takes off; nothing where nobody told any.

    For whoever may know who asks for what.
    """
    may_know = request.membership.may(Right.SEE_TRADE)
    said = terms_now(holding=request.membership.holding) if may_know else ()
    if not said:
        return Section()
    columns = (
        Column(_("Buyer")),
        Column(_("Since")),
        Column(_("£ a tonne"), True),
        Column(_("Moisture"), True),
        Column(_("Protein"), True),
        Column(_("Falling number"), True),
        Column(_("Bushel weight"), True),
    )
    rows = tuple(_terms_row(each, terms_of(each), request.user.units) for each in said)
    return Section(
        heading=_("Buyers' terms"),
        sentence=_("Full price from, and refused beyond."),
        table=Table(columns, rows),
    )


def _terms_row(said, terms, units):
    def pair(full, least):
        return _("%(full)s, %(least)s") % {"full": full, "least": least}

    return (
        str(said.customer or wording.usual_terms()),
        day_and_year(said.since),
        f"{said.price:,.2f}" if said.price is not None else wording.UNKNOWN,
        pair(percent(100 * terms.moisture_most), percent(100 * terms.moisture_refused)),
        pair(percent(terms.protein_full), percent(terms.protein_least)),
        pair(
            record_wording.seconds(terms.hagberg_full),
            record_wording.seconds(terms.hagberg_least),
        ),
        pair(
            specific_weight(terms.weight_full, units),
            specific_weight(terms.weight_least, units),
        ),
    )


def owed_section(request):
    """What goes back to whoever lent seed."""
    owed, units = owed_now(holding=request.membership.holding), request.user.units
    columns = (
        Column(_("Lent by")),
        Column(_("Seed")),
        Column(_("Lent"), True),
        Column(_("To go back"), True),
        Column(_("By")),
    )
    rows = tuple(
        (
            each.lender,
            str(each.seed_lot),
            kg(each.lent_kg, units),
            kg(each.owed_kg, units),
            day_and_year(each.back_by),
        )
        for each in owed.loans
    )
    return Section(
        heading=_("Owed for seed"),
        sentence=wording.owed_says(owed, lambda mass: kg(mass, units)),
        table=Table(columns, rows) if rows else None,
        actions=(
            *write_action(request, "seed-loan"),
            *(write_action(request, "grain-move", to="owed") if owed.grams else ()),
        ),
    )


def milling_section(request):
    """Runs of the mill beside what is usual."""
    units = request.user.units
    runs = runs_of_mill(holding=request.membership.holding, most=MOST_RUNS)
    columns = (
        Column(_("Milled")),
        Column(_("Lot")),
        Column(_("Grain"), True),
        Column(_("Flour"), True),
        Column(_("Bran"), True),
        Column(_("Lost"), True),
        Column(_("Flour of the grain")),
        Column(_("By")),
    )
    rows = tuple(
        (
            day_and_year(each.run.date),
            wording.from_lot_to(each.run),
            kg(each.came.ground, units),
            kg(each.came.flour, units),
            kg(each.came.bran or None, units),
            grams(each.lost_grams, units),
            wording.share_of_flour(each.came),
            wording.miller(each.run),
        )
        for each in runs
    )
    last = runs[0] if runs else None
    return Section(
        heading=_("Milling"),
        sentence=last.came.sentence if last else "",
        more=tuple(_of_run(last, units)) if last else (),
        table=Table(columns, rows, shown=OPEN_RUNS) if rows else None,
        actions=write_action(request, "milling"),
        working=last.came.working if last else (),
    )


def _of_run(told_run, units):
    """What is to be asked about a run."""
    run, came = told_run.run, told_run.came
    if came.much_is_lost:
        yield wording.much_lost(grams(told_run.lost_grams, units))
    if is_spoilt_by_mill(run):
        yield wording.not_organic_by_the_mill()
    elif not run.cleaned_first and run.miller:
        yield wording.not_flushed()


def bags_section(request):
    """Bags filled of late, each with its labels."""
    holding, units = request.membership.holding, request.user.units
    filled = FlourBags.objects.filter(holding=holding).select_related("lot")
    filled = filled.order_by("-date", "-made_at")[:MOST_BAGS]
    columns = (
        Column(_("Labels")),
        Column(_("Filled")),
        Column(_("Bags"), True),
        Column(_("Each"), True),
        Column(_("Best before")),
    )
    rows = tuple(
        (
            Link(_("%(lot)s, to print") % {"lot": each.lot}, labels_url(holding, each)),
            day_and_year(each.date),
            each.bags,
            kg(each.bag_kg, units),
            day_and_year(each.best_before),
        )
        for each in filled
    )
    return Section(
        heading=_("Bags"),
        table=Table(columns, rows, shown=OPEN_BAGS) if rows else None,
        actions=write_action(request, "flour-bags"),
    )


def labels_url(holding, bags):
    return reverse("web:flour-labels", args=[holding.slug, bags.pk])


def checklist_section(request, checks):
    """What comes before flour is sold: what is to do, and the rest behind a fold."""
    to_do = sum(not each.is_done for each in checks)
    columns = (Column(_("What")), Column(_("State")))
    rows = tuple(
        (_tick(request, each), wording.check_state(each, day_and_year))
        for each in sorted(checks, key=lambda check: check.is_done)
    )
    return Section(
        heading=_("Before flour is sold"),
        sentence=wording.checklist_headline(checks),
        table=Table(columns, rows, shown=to_do),
        folded="" if to_do else _("The list"),
        more=(wording.ask_the_authority(),),
        fold=Fold(
            _("What each asks for"), tuple(wording.check_says(each) for each in checks)
        ),
    )


def _tick(request, checked):
    name = wording.check_name(checked).capitalize()
    if not request.membership.may(KINDS["flour-check"].right):
        return name
    url = reverse("web:write", args=[request.membership.holding.slug, "flour-check"])
    given = {"what": checked.what, "who": request.user.name, "done": "on"}
    return Link(name, f"{url}?{urlencode(given)}")


def _stands(now, by_nobody):
    """How it keeps; of flour, whether its mill lets it be organic."""
    if by_nobody:
        return wording.miller_not_told()
    if now.milled and is_spoilt_by_mill(now.milled):
        return wording.not_organic_by_the_mill()
    return now.keeping.sentence if now.keeping else ""


def lot_grain_sections(request, now):
    """What was done to a lot of grain, flour or bran, and how it keeps."""
    weight = Weights(request.user.units)
    holding = request.membership.holding
    done = [
        *((each.date, wording.dried(each, weight)) for each in now.dryings),
        *((each.date, wording.looked_at(each, weight)) for each in now.checks),
        *((each.date, wording.bagged(each, weight)) for each in now.bags),
    ]
    if now.dressed:
        done.append((now.dressed.date, wording.dressed(now.dressed, weight)))
    if now.milled:
        done.append((now.milled.date, wording.milled(now.milled, weight)))
    labels = tuple(
        Action(
            _("Labels of %(day)s, to print") % {"day": day_and_year(each.date)},
            labels_url(holding, each),
        )
        for each in now.bags[-1:]
        if request.membership.may(Right.SEE_WORK)
    )
    by_nobody = not (now.is_grain or now.milled)
    if not (done or by_nobody):
        return
    yield Section(
        heading=_("What was done to it"),
        sentence=_stands(now, by_nobody),
        more=tuple(says for _day, says in sorted(done, key=lambda each: each[0])),
        actions=labels,
        working=now.keeping.working if now.keeping else (),
    )
