from django.http import Http404
from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.records import wording
from sheafwright.records.models import Lot, Place
from sheafwright.records.models.store import STRAW
from sheafwright.records.selectors.grain import grain_now
from sheafwright.records.selectors.lot_known import lengths_known
from sheafwright.records.selectors.lots import LotNow, lot_of, lots_held
from sheafwright.records.selectors.walk import walk_back
from sheafwright.web.access import for_right
from sheafwright.web.asked import whole
from sheafwright.web.asks import ask_action
from sheafwright.web.grain import lot_grain_sections
from sheafwright.web.looked import looked_sections
from sheafwright.web.roofs import lot_roofs
from sheafwright.web.sheets import Action, Section, Sheet, sheet, write_action
from sheafwright.web.straw import (
    grades_in_short,
    history_section,
    lot_sections,
    rules_section,
)
from sheafwright.web.tables import Column, Link, Table
from sheafwright.web.templatetags.said import (
    day_and_year,
    grams,
    height_cm,
    percent,
    specific_weight,
)
from sheafwright.web.tracing import tracings_section
from sheafwright.web.walks import walk_section
from sheafwright.web.worth import worth_sections

MOST_LOTS = 40
MOST_GRADED = 3
"""Newest lots of which a page tells how good they are; each has its own page."""


@for_right(Right.SEE_WORK)
def straw(request):
    holding, units = request.membership.holding, request.user.units
    begins = begins_at(request)
    held = lots_held(holding=holding, kinds=STRAW, begins=begins, most=MOST_LOTS)
    lots = held.lots
    answer = wording.lots_headline(_("Straw"), held, grams(held.grams, units))
    sections = (
        Section(
            table=_table(request, lots, units) if lots else None,
            actions=tuple(_actions(request, held, begins)),
        ),
        *_straw_sections(request, lots),
    )
    return sheet(request, Sheet(_("Straw"), answer, sections=sections))


def _actions(request, held, begins):
    yield from write_action(request, "sale")
    if held.lots:
        labels = reverse("web:labels", args=[request.membership.holding.slug])
        yield Action(_("Labels, to print"), labels)
    older = held.count - begins - len(held.lots)
    if held.lots and older > 0:
        yield Action(wording.older_lots(older), f"?from={begins + MOST_LOTS}")


def _straw_sections(request, lots):
    """How good the newest lots are, what grades ask, and what made the good straw."""
    newest = [each.lot for each in lots[:MOST_GRADED]]
    yield from lot_sections(request, newest)
    yield history_section(request)
    yield rules_section(request)


def begins_at(request):
    """How many lots were shown before."""
    return whole(request.GET.get("from", ""), digits=6) or 0


def _table(request, lots, units):
    grades = grades_in_short(request, [each.lot for each in lots])
    long = lengths_known(each.lot for each in lots)
    slug = request.membership.holding.slug
    columns = (
        Column(_("Lot")),
        Column(_("What")),
        Column(_("Grade")),
        Column(_("Variety")),
        Column(_("Harvest"), True),
        Column(_("Length"), True),
        Column(_("In store"), True),
    )
    rows = tuple(
        (
            Link(each.lot.code, reverse("web:lot", args=[slug, each.lot.pk])),
            wording.lot_kind(each.lot),
            grades[each.lot.pk],
            each.lot.variety,
            each.lot.harvest_year,
            _length(long[each.lot.pk], units),
            grams(each.grams, units),
        )
        for each in lots
    )
    return Table(columns, rows)


def _length(known, units):
    return wording.length_in_short(known, height_cm(known.cm, units))


@for_right(Right.SEE_LOT)
def lot(request, lot_id):
    """The walk-back page: for whoever works here, inspects, or bought of it."""
    found = lot_of(membership=request.membership, id=lot_id)
    if found is None:
        raise Http404
    units = request.user.units
    long = lengths_known([found])[found.pk]
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
        *(_of_straw(request, found) if found.kind in STRAW else ()),
        *worth_sections(request, found),
        *_done(request, found, place),
        *lot_roofs(request, found),
        *looked_sections(request, found),
        _tests(found, units),
        *(() if found.set_apart else (deeds,)),
    )
    return sheet(
        request,
        Sheet(
            title=found.code,
            answer=wording.lot_headline(found),
            odds=wording.lot_odds(found, long, height_cm(long.cm, units)),
            sections=sections,
        ),
    )


def _of_straw(request, found):
    """How good it is, and the photographs that its stems were measured on."""
    return (*lot_sections(request, [found], False), tracings_section(request, found))


def _deeds(request, found, place):
    """What a lot can be given to; set apart, it is cleared or written off."""
    if not found.set_apart:
        return (
            *write_action(request, "sale", lot=found.pk),
            *write_action(request, "lot-test", lot=found.pk),
            *write_action(request, "lot-apart", lot=found.pk),
            *_of_grain(request, found, place),
        )
    spoiled = {"place": place.pk, "counted_as": "spoiled"} if place else {}
    return (
        *write_action(request, "lot-clear", lot=found.pk),
        *write_action(request, "lot-test", lot=found.pk),
        *write_action(request, "loss", says=_("Write it off"), **spoiled),
    )


def _of_grain(request, found, place):
    """What is done with grain, and what becomes of it, asked with what is known."""
    if found.kind not in (Lot.Kind.GRAIN, Lot.Kind.TAIL):
        bagged = write_action(request, "flour-bags", lot=found.pk)
        return () if found.kind in STRAW else bagged
    of_grain = found.kind == Lot.Kind.GRAIN
    entries = ("drying", "dressing", "store-check", *(("milling",) if of_grain else ()))
    deeds = [act for k in entries for act in write_action(request, k, lot=found.pk)]
    if of_grain and request.membership.may(Right.SEE_WORK):
        asked = _grain_of(found, place).asked
        deeds.append(ask_action(request, "grain-choice", **asked))
    return tuple(deeds)


def _grain_of(found, place):
    left = place.balance.grams if place else 0
    return grain_now([LotNow(found, left)])[0]


def _done(request, found, place):
    """What was done to grain or flour, for whoever works here or inspects."""
    may = request.membership.may
    if found.kind in STRAW or not (may(Right.SEE_WORK) or may(Right.SEE_BOOK)):
        return ()
    return tuple(lot_grain_sections(request, _grain_of(found, place)))


def _tests(found, units):
    columns = (
        Column(_("Tested")),
        Column(_("Moisture"), True),
        Column(_("Protein"), True),
        Column(_("Falling number"), True),
        Column(_("Bushel weight"), True),
    )
    rows = tuple(
        (
            day_and_year(test.date),
            percent(test.moisture_pct),
            percent(test.protein_pct),
            wording.seconds(test.hagberg_s),
            specific_weight(test.specific_weight_kg_per_hl, units),
        )
        for test in found.tests.all()
    )
    if not rows:
        return Section()
    return Section(heading=_("Tests"), table=Table(columns, rows))
