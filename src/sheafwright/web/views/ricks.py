from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.answers.rick_heat import CAUTION
from sheafwright.feeds.telling import first_sentence, joined, told
from sheafwright.records import rick_wording, wording
from sheafwright.records.selectors.calls import call_lists
from sheafwright.records.selectors.rick_told import ricks_told
from sheafwright.web.access import for_right
from sheafwright.web.asks import ask_action
from sheafwright.web.corrections import put_right_section
from sheafwright.web.sheets import Action, Fold, Section, Sheet, sheet, write_action
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import day_and_time, kg, temperature

LATEST = 14
"""Readings shown."""


@for_right(Right.SEE_WORK)
def ricks(request):
    ricks = ricks_told(holding=request.membership.holding)
    sections = [_rick(request, each, each is ricks[0]) for each in ricks]
    sections.append(put_right_section(request, rick__in=[each.rick for each in ricks]))
    sections.append(Section(actions=_to_do(request)))
    said = ricks[0].heat.sentence if ricks else ""
    first, rest = first_sentence(said) if said else ("", "")
    return sheet(
        request,
        Sheet(
            title=_("Ricks"),
            answer=first or wording.no_rick(),
            odds=joined(rest, told(CAUTION)) if ricks else "",
            sections=tuple(sections),
        ),
    )


def _to_do(request):
    # A new list is the old one changed: nobody types it all again.
    known = call_lists(holding=request.membership.holding).get(None, ())
    who = "\n".join(f"{call.name} {call.number}" for call in known)
    return (
        *write_action(request, "rick"),
        ask_action(request, "rick-size"),
        *write_action(request, "call-list", **({"who": who} if who else {})),
    )


def _rick(request, each, is_first):
    """A rick; how hot the first is, the page says above."""
    units, rick, now = request.user.units, each.rick, each.now
    held = wording.rick_holds(now, kg(now.kg, units), kg(rick.capacity_kg, units))
    return Section(
        heading=str(rick),
        is_danger=each.heat.fire_service_first,
        sentence=held if is_first else f"{each.heat.sentence} {held}",
        more=tuple(_more(each, units)),
        fold=Fold(rick_wording.behind_it(), tuple(_behind(each))),
        table=_readings(rick, units),
        actions=_actions(request, rick),
        working=tuple(_working(each)),
    )


def _actions(request, rick):
    slug = request.membership.holding.slug
    card = Action(
        _("Its card, to print"), reverse("web:rick-card", args=[slug, rick.pk])
    )
    return (
        *write_action(request, "rick-reading", rick=rick.pk),
        *write_action(request, "threshing", rick=rick.pk),
        *write_action(request, "rick-empty", rick=rick.pk),
        card,
        *write_action(request, "rick-correction", rick=rick.pk),
    )


def _more(each, units):
    """What a rick in danger wants first, then its room and how long it keeps."""
    if each.heat.fire_service_first:
        yield rick_wording.ring(each.calls)
    if each.heat.due and not each.heat.overdue:
        yield rick_wording.probe_next(each.heat.due)
    yield " ".join(_room(each.room, units))
    yield each.keeping.sentence if each.keeping else rick_wording.keeping_unknown()


def _room(room, units):
    if room is None:
        return (rick_wording.no_shape(),)
    fits = (room.size.sentence,) if room.size else ()
    return (*fits, rick_wording.room_left(room, units))


def _behind(each):
    rick = each.rick
    if rick.value is not None:
        yield rick_wording.worth_said(rick_wording.pounds(rick.value))
    else:
        yield each.worth.sentence if each.worth else rick_wording.worth_unknown()
    yield each.apart.sentence or rick_wording.no_distances()
    yield (
        rick_wording.conditions(rick.insurers_conditions)
        if rick.insurers_conditions
        else rick_wording.no_conditions()
    )
    if not each.heat.fire_service_first:
        yield rick_wording.ring(each.calls)


def _working(each):
    size = each.room and each.room.size
    for answer in (each.heat, size, each.keeping, each.worth, each.apart):
        if answer:
            yield from answer.working


def _readings(rick, units):
    columns = (Column(_("Taken")), Column(_("Temperature"), True))
    last = list(rick.readings.all())[-LATEST:]
    rows = tuple((day_and_time(r.at), temperature(r.temperature_c)) for r in last[::-1])
    return Table(columns, rows) if rows else None
