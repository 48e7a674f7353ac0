import dataclasses
import datetime

from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.answers.carting import carting
from sheafwright.feeds.telling import first_sentence
from sheafwright.records import wording
from sheafwright.records.saved import saved
from sheafwright.records.selectors.carting import carting_asked
from sheafwright.records.selectors.in_hand import stooks_in_hand
from sheafwright.web.access import for_right
from sheafwright.web.asks import ask_action
from sheafwright.web.carting import carting_section
from sheafwright.web.sheets import Section, Sheet, sheet, write_action
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import odds, weekday


@for_right(Right.SEE_WORK)
def stooks(request):
    holding = request.membership.holding
    sets = list(stooks_in_hand(holding=holding))
    kept = saved(question="stooks", about=sets, with_charts=True)
    order, after = _order(request, sets, kept)
    # The set that is carted first is told of first; those in no order come last.
    turns = {pk: turn for turn, pk in enumerate(after)}
    sets.sort(key=lambda each: turns.get(each.pk, len(turns)))
    sections = [_set(request, each, kept.get(each.pk), after) for each in sets]
    told = next((n for n, each in enumerate(sections) if each.drawing), None)
    first, rest = "", ""
    if told is not None:
        first, rest = first_sentence(sections[told].sentence)
        # Said above already.
        sections[told] = dataclasses.replace(sections[told], sentence="")
    return sheet(
        request,
        Sheet(
            title=_("Stooks"),
            answer=wording.stooks_headline(sets, first),
            odds=rest,
            sections=(*order, *sections),
        ),
    )


def _order(request, sets, kept):
    """The order of carting, and what each set wants after rain, by its id."""
    asked, named = carting_asked(
        holding=request.membership.holding, sets=sets, kept=kept
    )
    answer = carting(asked)
    if not answer.sets:
        return (), {}
    after = {named[e.stook_set.name].pk: e.after_rain.sentence for e in answer.sets}
    again = (ask_action(request, "carting"),)
    return (carting_section(answer, again, _("The order of carting")),), after


def _set(request, stook_set, answer, after):
    said = answer.said if answer else {}
    return Section(
        heading=str(stook_set.cut),
        sentence=said.get("refused")
        or said.get("sentence")
        or wording.being_worked_out(),
        more=tuple(filter(None, [after.get(stook_set.pk)])),
        drawing=answer.drawing if answer else "",
        table=_table(said.get("carting_by_day", ())),
        actions=(
            *write_action(request, "meter", stook_set=stook_set.pk),
            *write_action(request, "carting", stook_set=stook_set.pk),
        ),
        working=tuple(said.get("working", ())),
        made_at=answer and answer.made_at,
    )


def _table(days):
    columns = (
        Column(_("Day")),
        Column(_("Fit to cart"), True),
        Column(_("Fit by then"), True),
        Column(_("Rain"), True),
    )
    rows = tuple(
        (
            weekday(datetime.date.fromisoformat(day["date"])),
            odds(day["chance_fit"]),
            odds(day["chance_fit_by"]),
            odds(day["chance_of_rain"]),
        )
        for day in days
    )
    return Table(columns, rows) if rows else None
