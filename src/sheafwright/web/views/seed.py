import datetime

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sheafwright.accounts.rights import Right
from sheafwright.feeds.telling import first_sentence
from sheafwright.records import seed_wording, wording
from sheafwright.records.selectors.crop import sowings_of
from sheafwright.records.selectors.seed import (
    seed_lots,
    sowings_compared,
    sown_ahead,
)
from sheafwright.web.access import for_right
from sheafwright.web.asks import ask_action
from sheafwright.web.sheets import Fold, Section, Sheet, sheet, write_action
from sheafwright.web.tables import Column, Link, Table
from sheafwright.web.templatetags.said import (
    UNKNOWN,
    area,
    day,
    day_and_year,
    money,
    rate,
    yield_per_area,
)

MOST_SOWN, OPEN_SOWN = 40, 6
"""Sowings told, and those of them not behind a fold."""
KG_PER_T = 1000
COLD = {
    "safe": gettext_lazy("safe"),
    "marginal": gettext_lazy("marginal"),
    "at_risk": gettext_lazy("at risk"),
}


@for_right(Right.SEE_WORK)
def seed(request):
    holding = request.membership.holding
    lots, sown = seed_lots(holding=holding), sown_ahead(holding=holding)
    waits = [seen for seen in lots if not seen.is_sown or seen.sick or seen.smelt]
    grows = [seen for seen in lots if seen not in waits]
    before = (
        _asks(request),
        *(_lot(request, seen) for seen in waits),
        _compared(request),
        *([_growing(request, grows)] if grows else []),
    )
    after = _sown(request, sowings_of(holding=holding)[:MOST_SOWN])
    about = lots, sown, area(sown.area_ha, request.user.units)
    # What was sown is the answer as soon as something is; until then, how to sow.
    sections = (after, *before) if sown.fields else (*before, after)
    answer, beneath = seed_wording.headline(*about), seed_wording.beneath(*about)
    return sheet(request, Sheet(_("Seed"), answer, beneath, sections))


def _asks(request):
    return Section(
        actions=(
            ask_action(request, "seed-rate"),
            ask_action(request, "drill"),
            ask_action(request, "seed-increase"),
            *write_action(request, "seed-lot"),
        )
    )


def _lot(request, seen):
    given = {"seed_lot": seen.lot.pk}
    tests = (
        *write_action(request, "germination", **given),
        *write_action(request, "seed-health", **given),
    )
    thick = () if seen.is_sown else (ask_action(request, "seed-rate", **given),)
    return Section(
        heading=str(seen.lot),
        sentence=seed_wording.lot_said(seen),
        is_danger=bool(seen.sick or seen.smelt),
        actions=(
            # What is not tested yet is tested first.
            *(thick + tests if seen.germination else tests + thick),
            *(() if seen.is_sown else _smells(request, given)),
            *write_action(request, "seed-lot-correction", **given),
        ),
        working=seen.germination.working if seen.germination else (),
    )


def _smells(request, given):
    """Bunt found by its smell."""
    said = given | {"sickness": "bunt", "found": "found"}
    return write_action(request, "seed-health", _("It smells of fish"), **said)


def _growing(request, lots):
    """What is sown already, with nothing against it: a line each."""
    columns = (
        Column(_("Lot")),
        Column(_("Came up"), True),
        Column(_("Not looked for")),
    )
    rows = tuple(
        (
            _to_put_right(request, seen.lot),
            f"{seen.germination.share:.0%}" if seen.germination else UNKNOWN,
            wording.listed(seen.untested) if seen.untested else UNKNOWN,
        )
        for seen in lots
    )
    return Section(
        heading=_("Seed that is sown"),
        table=Table(columns, rows),
        actions=(
            *write_action(request, "germination"),
            *write_action(request, "seed-health"),
        ),
    )


def _to_put_right(request, lot):
    action = write_action(request, "seed-lot-correction", seed_lot=lot.pk)
    return Link(str(lot), action[0].url) if action else str(lot)


def _compared(request):
    """Dates of sowing side by side, as they were last worked out."""
    holding = request.membership.holding
    compared, heading = sowings_compared(holding=holding), _("When to sow")
    if not compared.has_record:
        return Section(
            heading=heading,
            sentence=seed_wording.no_record_to_compare(),
            actions=write_action(request, "weather"),
        )
    said = compared.answer.said if compared.answer else {}
    if "sentence" not in said:
        why = said.get("refused") or wording.being_worked_out()
        return Section(heading=heading, sentence=why)
    best, rest = first_sentence(said["sentence"])
    next_best, rest = first_sentence(rest)
    return Section(
        heading=heading,
        sentence=best,
        more=(next_best,),
        fold=Fold(_("What is given up, and what is not settled"), (rest,)),
        drawing=compared.answer.drawing,
        table=_dates(said, request.user.units),
        working=said["working"],
        made_at=compared.answer.made_at,
    )


def _dates(said, units):
    columns = (
        Column(_("Sown")),
        Column(_("Ripe, 8 years in 10")),
        Column(_("Fit week for the stooks")),
        Column(_("Cold")),
        Column(_("Lies at cutting"), True),
        Column(_("Straw"), True),
        Column(_("Grain"), True),
        Column(_("Worth a hectare"), True),
    )
    return Table(columns, tuple(_date(row, said, units) for row in said["by_sowing"]))


def _date(row, said, units):
    lies = row["lodged_share"]
    return (
        _day(row["sown"]),
        _("%(early)s to %(late)s")
        % {
            "early": _day(row["ripe_date"]["p10"]),
            "late": _day(row["ripe_date"]["p90"]),
        },
        _("%(years)d of %(seasons)d years")
        % {"years": row["fit_week_seasons"], "seasons": said["seasons"]},
        COLD[row["vernalisation"]["status"]],
        UNKNOWN if lies is None else f"{lies['mean']:.0%}",
        yield_per_area(KG_PER_T * row["straw_t_per_ha"]["mean"], units),
        yield_per_area(KG_PER_T * row["grain_t_per_ha"]["mean"], units),
        money(row["gbp_per_ha"]["mean"]),
    )


def _day(month_and_day):
    """A day of any year; never, where there is none."""
    if month_and_day is None:
        return _("never")
    return day(datetime.date.fromisoformat(f"2000-{month_and_day}"))


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
        table=Table(columns, rows, shown=OPEN_SOWN) if rows else None,
        sentence="" if rows else wording.nothing_written(),
        actions=write_action(request, "sowing"),
    )
