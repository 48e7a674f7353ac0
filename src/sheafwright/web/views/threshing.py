import datetime

from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.answers.run_check import CAUTION
from sheafwright.feeds.telling import first_sentence, told
from sheafwright.records import drum_wording, wording
from sheafwright.records.models import WeatherSource
from sheafwright.records.saved import saved
from sheafwright.records.selectors.drum_order import order_of_ricks
from sheafwright.records.selectors.runs import days_at_drum, runs_checked
from sheafwright.web.access import for_right
from sheafwright.web.sheets import Action, Section, Sheet, sheet, write_action
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import day, day_and_year, grams, kg, percent

MOST_RUNS, WHOLE = 20, 3
"""Runs told, and those of them told whole."""
MOST_DAYS = 8
OPEN_DAYS, OPEN_RUNS = 3, 4
"""Of them, not behind a fold."""


@for_right(Right.SEE_WORK)
def threshing(request):
    holding, units = request.membership.holding, request.user.units
    runs = runs_checked(holding=holding, most=MOST_RUNS)
    order = order_of_ricks(holding=holding)
    days = days_at_drum(holding=holding, last=[each.run for each in runs])
    last = runs[0] if runs else None
    sections = (
        _first(request),
        *([_odd(last)] if last and last.is_odd else []),
        _ricks(order, units),
        _winter(holding),
        *([_days(days, units)] if days else []),
        *([_limits(runs)] if runs else []),
        *(_run(each, units, each is last) for each in runs[:WHOLE]),
    )
    answer = first_sentence(order.sentence) if order.turns else (_last(runs),)
    return sheet(request, Sheet(_("Threshing"), *answer, sections=sections))


def _last(runs):
    return wording.threshing_headline([each.run for each in runs])


def _first(request):
    sheet_of_day = reverse("web:drum-day", args=[request.membership.holding.slug])
    return Section(
        care=wording.drum_cautions(),
        actions=(
            *write_action(request, "threshing"),
            Action(_("The day's sheet for the drum, to print"), sheet_of_day),
        ),
    )


def _odd(last):
    """The last run, if it is not as those before it: seen before the next is begun."""
    return Section(
        heading=drum_wording.looks_odd(wording.run_of_the_drum(last.run.threshing)),
        sentence=last.check.sentence,
        care=(told(CAUTION),),
    )


def _ricks(order, units):
    columns = (
        Column(_("Rick")),
        Column(_("Holds"), True),
        Column(_("Turn")),
        Column(_("For")),
        Column(_("Why")),
    )
    rows = tuple(
        (
            each.asked.name,
            kg(each.asked.kg, units),
            drum_wording.turn(each),
            drum_wording.how(each),
            " ".join((*each.why, *each.why_so)),
        )
        for each in order.turns
    )
    return Section(
        heading=_("Which rick next"),
        sentence="" if rows else order.sentence,
        table=Table(columns, rows) if rows else None,
        more=() if _fills_any(order) else (drum_wording.no_orders(),),
        working=order.working if rows else (),
    )


def _fills_any(order):
    return any(each.asked.ordered_for for each in order.turns)


def _winter(holding):
    heading = _("Days fit for the comb")
    sources = list(WeatherSource.objects.filter(holding=holding)[:1])
    if not sources:
        return Section(heading=heading, sentence=drum_wording.no_weather())
    kept = saved(question="comb_winter", about=sources, with_charts=True)
    answer = next(iter(kept.values()), None)
    if answer is None:
        return Section(heading=heading, sentence=drum_wording.winter_waits())
    if "refused" in answer.said:
        return Section(heading=heading, sentence=answer.said["refused"])
    return Section(
        heading=heading,
        sentence=answer.said["sentence"],
        drawing=answer.drawing,
        table=_weeks(answer.said["weeks"]),
        working=tuple(answer.said["working"]),
        made_at=answer.made_at,
    )


def _weeks(weeks):
    columns = (
        Column(_("Week of")),
        Column(_("Fit days")),
        Column(_("Rain"), True),
        Column(_("Damp"), True),
        Column(_("Dry"), True),
        Column(_("Frost"), True),
    )
    rows = tuple(
        (
            day(datetime.date.fromisoformat(each["begins"])),
            drum_wording.days_of(
                each["fit_d_p10"], each["fit_d_mean"], each["fit_d_p90"]
            ),
            *(
                f"{each[f'{name}_share']:.0%}"
                for name in ("rain", "damp", "dry", "frost")
            ),
        )
        for each in weeks
    )
    return Table(columns, rows, caption=drum_wording.weeks_are())


def _days(days, units):
    columns = (
        Column(_("Day")),
        Column(_("Sheaves"), True),
        Column(_("Straw"), True),
        Column(_("Grain"), True),
        Column(_("Crew")),
    )
    rows = tuple(
        (
            day_and_year(each.date),
            kg(each.kg, units),
            kg(each.straw_kg, units),
            kg(each.grain_kg, units),
            drum_wording.crew_of(each),
        )
        for each in days[:MOST_DAYS]
    )
    mean = kg(sum(each.kg for each in days) / len(days), units)
    return Section(
        heading=_("Days at the drum"),
        sentence=drum_wording.days_said(len(days), mean),
        table=Table(columns, rows, shown=OPEN_DAYS),
    )


def _limits(runs):
    """Every run's shares, and which are not as in the runs before it."""
    columns = (
        Column(_("Run")),
        Column(_("Reed or straw"), True),
        Column(_("Its limits"), True),
        Column(_("Grain"), True),
        Column(_("Tail"), True),
        Column(_("Waste"), True),
    )
    rows = tuple(
        (
            drum_wording.short_run(each.run.threshing),
            *drum_wording.shares_of(each.check),
        )
        for each in runs
        if each.check
    )
    return Section(
        heading=_("Runs against the runs before them"),
        sentence=drum_wording.limits_are(),
        table=Table(columns, rows, shown=OPEN_RUNS) if rows else None,
    )


def _run(checked, units, is_last):
    """What a run gave; of all but the last run, its weights behind a fold."""
    run, check = checked.run, checked.check
    columns = (
        Column(_("What")),
        Column(_("Weight"), True),
        Column(_("Share"), True),
    )
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
        more=(check.sentence,) if check else (),
        table=Table(columns, rows) if rows else None,
        folded="" if is_last else _("What it gave"),
        working=(*run.outturn.working, *check.working) if check else (),
    )
