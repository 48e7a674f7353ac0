from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.records import wording
from sheafwright.records.selectors.cutting import crops_standing
from sheafwright.records.selectors.ground import field_now, fields_now
from sheafwright.records.selectors.walk import walk_on
from sheafwright.web.access import for_right
from sheafwright.web.corrections import put_right_section
from sheafwright.web.sheets import Section, Sheet, sheet, write_action
from sheafwright.web.tables import Column, Link, Table
from sheafwright.web.templatetags.said import area, day_and_year, kg, rate
from sheafwright.web.walks import walk_section
from sheafwright.web.years import years_of


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
    answer = wording.ground_headline(len(fields))
    return sheet(request, Sheet(_("Ground"), answer, sections=tuple(sections)))


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
        _history(request, now.field),
        put_right_section(
            request,
            write_action(request, "field-correction", field=now.field.pk),
            field=now.field,
        ),
        walk_section(
            request, walk_on(field=now.field), wording.where_it_went(now.field)
        ),
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


def _history(request, field):
    columns = (Column(_("Day")), Column(_("What")), Column(_("More")))
    rows = sorted(
        [
            *((s.since, s.get_way_display(), s.note) for s in field.statuses.all()),
            *((ley.sown, ley.what, ley.note) for ley in field.leys.all()),
            *(
                (
                    i.date,
                    i.product,
                    f"{kg(i.quantity_kg, request.user.units)}; {i.evidence}",
                )
                for i in field.inputs.all()
            ),
        ],
        key=lambda row: str(row[0]),
    )
    table = Table(columns, tuple((day_and_year(d), *rest) for d, *rest in rows))
    return Section(
        heading=_("What was done on it"),
        table=table if rows else None,
        sentence="" if rows else wording.nothing_written(),
        actions=(
            *write_action(request, "field-status", field=field.pk),
            *write_action(request, "ley", field=field.pk),
            *write_action(request, "input", field=field.pk),
        ),
    )
