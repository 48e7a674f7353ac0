from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.records import wording
from sheafwright.records.clock import today
from sheafwright.records.selectors.crop import sowings_of
from sheafwright.records.selectors.seed import seed_lots
from sheafwright.web.access import for_right
from sheafwright.web.asks import ask_action
from sheafwright.web.sheets import Section, Sheet, sheet, write_action
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import area, day_and_year, rate

MOST_SOWN = 40


@for_right(Right.SEE_WORK)
def seed(request):
    holding = request.membership.holding
    lots = seed_lots(holding=holding)
    sections = (
        *(_lot(request, lot) for lot in lots),
        Section(
            actions=(
                ask_action(request, "seed-rate"),
                *write_action(request, "seed-lot"),
            )
        ),
        _sown(request, sowings_of(holding=holding)[:MOST_SOWN]),
    )
    answer = wording.seed_headline(lots, today(holding))
    return sheet(request, Sheet(_("Seed"), answer, sections=sections))


def _lot(request, seen):
    lot = seen.lot
    return Section(
        heading=str(lot),
        sentence=wording.seed_lot_said(seen),
        is_danger=bool(seen.sick),
        actions=(
            *write_action(request, "germination", seed_lot=lot.pk),
            *write_action(request, "seed-health", seed_lot=lot.pk),
            *write_action(request, "seed-lot-correction", seed_lot=lot.pk),
        ),
        working=seen.germination.working if seen.germination else (),
    )


def _sown(request, sowings):
    units = request.user.units
    columns = (
        Column(_("Field")),
        Column(_("Sown")),
        Column(_("Seed")),
        Column(_("Area"), True),
        Column(_("Rate"), True),
    )
    rows = tuple(
        (
            str(sowing),
            day_and_year(sowing.date),
            str(sowing.seed_lot),
            area(sowing.area_ha, units),
            rate(sowing.rate_kg_per_ha, units),
        )
        for sowing in sowings
    )
    return Section(
        heading=_("What was sown"),
        table=Table(columns, rows) if rows else None,
        sentence="" if rows else wording.nothing_written(),
        actions=write_action(request, "sowing"),
    )
