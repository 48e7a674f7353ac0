from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.records import crop_wording, wording
from sheafwright.records.selectors.cutting import crops_standing
from sheafwright.records.selectors.ground import field_now, fields_now
from sheafwright.records.selectors.prospects import prospects
from sheafwright.records.selectors.supply import (
    next_harvest,
    supplied_next,
    usual_rain,
)
from sheafwright.records.selectors.walk import walk_on
from sheafwright.web.access import for_right
from sheafwright.web.corrections import put_right_section
from sheafwright.web.plan import plan_shown
from sheafwright.web.prospects import prospect_sections, supply_section
from sheafwright.web.sheets import Action, Section, Sheet, sheet, write_action
from sheafwright.web.tables import Column, Link, Table
from sheafwright.web.templatetags.said import area, day_and_year, kg, rate
from sheafwright.web.walks import walk_section
from sheafwright.web.years import years_of

WALKED = 2
"""Harvests that are walked on together."""


@for_right(Right.SEE_WORK)
def ground(request):
    fields = fields_now(holding=request.membership.holding)
    sections = [_fields(request, fields)] if fields else []
    sections.append(
        Section(
            actions=(
                *write_action(request, "field"),
                *write_action(request, "field-status"),
                *write_action(request, "ley"),
                *write_action(request, "input"),
            )
        )
    )
    plan, title = plan_shown(request), _("Ground")
    if plan is None:
        said = Sheet(title, wording.ground_headline(len(fields)), "", tuple(sections))
    else:
        said = Sheet(title, plan.answer, plan.odds, (*plan.sections, *sections))
    return render(request, "web/ground.html", {"sheet": said, "plan": plan})


def _fields(request, fields):
    units = request.user.units
    columns = (
        Column(_("Field")),
        Column(_("Area"), True),
        Column(_("Now")),
        Column(_("Farmed")),
        Column(_("Soil")),
    )
    rows = tuple(
        (
            Link(now.field.name, _field_url(request, now.field)),
            area(now.field.area_ha, units),
            wording.growing_now(now.sowings),
            now.status.get_way_display() if now.status else wording.UNKNOWN,
            now.field.soil or wording.UNKNOWN,
        )
        for now in fields
    )
    return Section(table=Table(columns, rows))


def _field_url(request, field):
    return reverse("web:field", args=[request.membership.holding.slug, field.pk])


@for_right(Right.SEE_WORK)
def field(request, field_id):
    holding = request.membership.holding
    now = field_now(holding=holding, id=field_id)
    crops = crops_standing(holding=holding, field=now.field)
    years = years_of(holding.slug, now.sowings)
    sections = (
        *(_sowing(request, sowing, years[sowing.pk]) for sowing in now.sowings),
        *_prospects(request, now.field, [crop.sowing for crop in crops]),
        _history(request, now.field),
        put_right_section(
            request,
            write_action(request, "field-correction", field=now.field.pk),
            field=now.field,
        ),
        *_went(request, now.field),
    )
    return sheet(
        request,
        Sheet(
            now.field.name,
            wording.growing_headline(crops) if crops else now.field.name,
            odds=wording.field_odds(now, area(now.field.area_ha, request.user.units)),
            sections=sections,
        ),
    )


def _went(request, field):
    """Where its last harvests went; the earlier ones have pages of their own."""
    sown = {sowing.harvest_year for sowing in field.sowings.all()}
    until = request.GET.get("until", "")
    years = sorted((y for y in sown if not until or str(y) <= until), reverse=True)
    walk = walk_on(
        field=field,
        harvest_years=years[:WALKED],
        with_buyers=request.membership.may(Right.SEE_TRADE),
    )
    yield walk_section(request, walk, wording.where_it_went(field))
    if years[WALKED:]:
        earlier = Action(_("Earlier harvests"), f"?until={years[WALKED]}")
        yield Section(actions=(earlier,))


def _sowing(request, sowing, year):
    units = request.user.units
    said = [
        sowing.seed_lot.variety,
        area(sowing.area_ha, units),
        *([rate(sowing.rate_kg_per_ha, units)] if sowing.rate_kg_per_ha else []),
    ]
    return Section(
        heading=wording.sown_for(sowing),
        sentence=", ".join(said) + ".",
        year=year,
        actions=(
            *write_action(request, "observation", sowing=sowing.pk),
            *write_action(request, "cut", sowing=sowing.pk),
        ),
    )


def _prospects(request, field, sowings):
    """What may be told of what stands in it; where nothing does, of its ground."""
    holding = request.membership.holding
    if not sowings:
        year = next_harvest(field)
        supplied = supplied_next(field, year, usual_rain(holding))
        heading = crop_wording.ground_would_give(year)
        return (supply_section(request, field, year, supplied, heading),)
    told = prospects(holding=holding, sowings=sowings, with_charts=True)
    return tuple(
        section
        for each in told.values()
        for section in prospect_sections(request, each)
    )


def _history(request, field):
    columns = (Column(_("Day")), Column(_("What")), Column(_("More")))
    rows = sorted(_happened(request, field), key=lambda row: row[0])
    lines = tuple((day, *rest) for _order, day, *rest in rows)
    table = Table(columns, lines, is_wordy=True)
    return Section(
        heading=_("What was done on it"),
        table=table if rows else None,
        sentence="" if rows else wording.nothing_written(),
        actions=(
            *write_action(request, "field-status", field=field.pk),
            *write_action(request, "past-crop", field=field.pk),
            *write_action(request, "ley", field=field.pk),
            *write_action(request, "input", field=field.pk),
        ),
    )


def _happened(request, field):
    """Each row of its history, behind what it is sorted by."""
    for status in field.statuses.all():
        way = status.get_way_display()
        yield str(status.since), day_and_year(status.since), way, status.note
    for ley in field.leys.all():
        more = crop_wording.of_a_ley(ley)
        yield str(ley.sown or ley.ploughed), day_and_year(ley.sown), ley.what, more
    for past in field.past_crops.all():
        day, crop = crop_wording.harvest_of(past.harvest_year), past.get_crop_display()
        yield f"{past.harvest_year}-08", day, crop, past.note
    for put_on in field.inputs.all():
        weight = kg(put_on.quantity_kg, request.user.units)
        more = f"{weight}; {put_on.evidence}"
        yield str(put_on.date), day_and_year(put_on.date), put_on.product, more
