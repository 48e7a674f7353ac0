from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.answers.rick_heat import CAUTION
from sheafwright.feeds.telling import first_sentence
from sheafwright.records import wording
from sheafwright.records.selectors.heat import heat_of_ricks
from sheafwright.records.selectors.store import ricks_now
from sheafwright.web.access import for_right
from sheafwright.web.asks import ask_action
from sheafwright.web.sheets import Action, Section, Sheet, sheet, write_action
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import day_and_time, kg, temperature

LATEST = 14
"""Readings shown."""


@for_right(Right.SEE_WORK)
def ricks(request):
    holding = request.membership.holding
    heats = heat_of_ricks(holding=holding)
    now = {each.rick.pk: each for each in ricks_now(holding=holding)}
    sections = [_rick(request, each, now[each.rick.pk]) for each in heats]
    build, fit = write_action(request, "rick"), ask_action(request, "rick-size")
    sections.append(Section(actions=(*build, fit)))
    said = heats[0].heat.sentence if heats else ""
    first, rest = first_sentence(said) if said else ("", "")
    return sheet(
        request,
        Sheet(
            title=_("Ricks"),
            answer=first or wording.no_rick(),
            odds=f"{rest} {CAUTION}".strip() if heats else "",
            sections=tuple(sections),
        ),
    )


def _rick(request, each, now):
    units = request.user.units
    held = wording.rick_holds(now, kg(now.kg, units), kg(now.rick.capacity_kg, units))
    slug = request.membership.holding.slug
    card = Action(
        _("Its card, to print"), reverse("web:rick-card", args=[slug, each.rick.pk])
    )
    return Section(
        heading=str(each.rick),
        is_danger=each.heat.fire_service_first,
        sentence=f"{each.heat.sentence} {held}",
        table=_readings(each.rick, units),
        actions=(
            *write_action(request, "rick-reading", rick=each.rick.pk),
            *write_action(request, "threshing", rick=each.rick.pk),
            *write_action(request, "rick-empty", rick=each.rick.pk),
            card,
        ),
        working=each.heat.working,
    )


def _readings(rick, units):
    columns = (Column(_("Taken")), Column(_("Temperature"), True))
    last = list(rick.readings.all())[-LATEST:]
    rows = tuple((day_and_time(r.at), temperature(r.temperature_c)) for r in last[::-1])
    return Table(columns, rows) if rows else None
