from django.http import Http404
from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.records import wording
from sheafwright.records.models import Lot, Place
from sheafwright.records.selectors.lots import (
    lot_of,
    lots_held,
    runs_of_drum,
)
from sheafwright.records.selectors.walk import walk_back
from sheafwright.web.access import for_right
from sheafwright.web.sheets import Action, Section, Sheet, sheet, write_action
from sheafwright.web.tables import Column, Link, Table
from sheafwright.web.templatetags.said import day_and_year, grams, height_cm, percent
from sheafwright.web.walks import walk_section

STRAW = (Lot.Kind.REED, Lot.Kind.LONG_STRAW)
GRAIN = (Lot.Kind.GRAIN, Lot.Kind.TAIL, Lot.Kind.FLOUR)
MOST_RUNS, MOST_LOTS = 20, 40


@for_right(Right.SEE_WORK)
def straw(request):
    return _lots(request, _("Straw"), STRAW, ("sale",))


@for_right(Right.SEE_WORK)
def grain(request):
    return _lots(
        request, _("Grain"), GRAIN, ("sale", "grain-move", "flour", "lot-test")
    )


def _lots(request, title, kinds, entries):
    holding, units = request.membership.holding, request.user.units
    begins = _begins(request)
    held = lots_held(holding=holding, kinds=kinds, begins=begins, most=MOST_LOTS)
    lots = held.lots
    answer = wording.lots_headline(title, held, grams(held.grams, units))
    actions = [action for kind in entries for action in write_action(request, kind)]
    if lots and kinds == STRAW:
        labels = reverse("web:labels", args=[holding.slug])
        actions.append(Action(_("Labels, to print"), labels))
    older = held.count - begins - len(lots)
    if lots and older > 0:
        more = f"?from={begins + MOST_LOTS}"
        actions.append(Action(wording.older_lots(older), more))
    table = _table(request, lots, units) if lots else None
    sections = (Section(table=table, actions=tuple(actions)),)
    return sheet(request, Sheet(title, answer, sections=sections))


def _begins(request):
    """How many lots were shown before."""
    given = request.GET.get("from", "")
    return int(given) if given.isascii() and given.isdigit() and len(given) < 7 else 0


def _table(request, lots, units):
    slug = request.membership.holding.slug
    columns = (
        Column(_("Lot")),
        Column(_("What")),
        Column(_("Variety")),
        Column(_("Harvest"), True),
        Column(_("Length"), True),
        Column(_("In store"), True),
    )
    rows = tuple(
        (
            Link(each.lot.code, reverse("web:lot", args=[slug, each.lot.pk])),
            wording.lot_kind(each.lot),
            each.lot.variety,
            each.lot.harvest_year,
            height_cm(each.lot.length_cm, units),
            grams(each.grams, units),
        )
        for each in lots
    )
    return Table(columns, rows)


@for_right(Right.SEE_WORK)
def threshing(request):
    runs = runs_of_drum(holding=request.membership.holding, most=MOST_RUNS)
    first = Section(
        care=wording.drum_cautions(), actions=write_action(request, "threshing")
    )
    rest = (_run(run, request.user.units) for run in runs)
    answer = wording.threshing_headline(runs)
    return sheet(request, Sheet(_("Threshing"), answer, sections=(first, *rest)))


def _run(run, units):
    columns = (Column(_("What")), Column(_("Weight"), True), Column(_("Share"), True))
    rows = tuple(
        (name, grams(amount, units), percent(100 * amount / run.grams))
        for name, amount in run.came
    )
    smelt = run.threshing.smelt_of_fish
    says = [
        *([wording.smelt_of_fish()] if smelt else []),
        *([run.outturn.sentence] if run.outturn else []),
    ]
    return Section(
        heading=wording.run_of_the_drum(run.threshing),
        sentence=" ".join(says),
        is_danger=smelt,
        table=Table(columns, rows) if rows else None,
        working=run.outturn.working if run.outturn else (),
    )


@for_right(Right.SEE_LOT)
def lot(request, lot_id):
    """The walk-back page: for whoever works here, inspects, or bought of it."""
    found = lot_of(membership=request.membership, id=lot_id)
    if found is None:
        raise Http404
    units = request.user.units
    place = Place.objects.filter(kind=Place.Kind.LOT, subject=found.pk).first()
    deeds = Section(actions=_deeds(request, found, place))
    sections = (
        *((deeds,) if found.set_apart else ()),
        walk_section(
            request,
            walk_back(lot=found),
            wording.where_it_came_from(found),
            chosen=str(place.pk) if place else None,
        ),
        _tests(found),
        *(() if found.set_apart else (deeds,)),
    )
    return sheet(
        request,
        Sheet(
            title=found.code,
            answer=wording.lot_headline(found),
            odds=wording.lot_odds(found, height_cm(found.length_cm, units)),
            sections=sections,
        ),
    )


def _deeds(request, found, place):
    """What a lot can be given to; set apart, it is cleared or written off."""
    if not found.set_apart:
        return (
            *write_action(request, "sale", lot=found.pk),
            *write_action(request, "lot-test", lot=found.pk),
            *write_action(request, "lot-apart", lot=found.pk),
        )
    spoiled = {"place": place.pk, "counted_as": "spoiled"} if place else {}
    return (
        *write_action(request, "lot-clear", lot=found.pk),
        *write_action(request, "lot-test", lot=found.pk),
        *write_action(request, "loss", says=_("Write it off"), **spoiled),
    )


def _tests(found):
    columns = (
        Column(_("Tested")),
        Column(_("Moisture"), True),
        Column(_("Protein"), True),
        Column(_("Hagberg"), True),
    )
    rows = tuple(
        (
            day_and_year(test.date),
            percent(test.moisture_pct),
            percent(test.protein_pct),
            wording.seconds(test.hagberg_s),
        )
        for test in found.tests.all()
    )
    if not rows:
        return Section()
    return Section(heading=_("Tests"), table=Table(columns, rows))
