import itertools

from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.answers.work_day import CAUTION
from sheafwright.feeds.telling import told
from sheafwright.feeds.work import work_rates
from sheafwright.records import hands_wording as wording
from sheafwright.records.clock import today
from sheafwright.records.models import Briefing, Machine
from sheafwright.records.selectors.against import Kind, against_work
from sheafwright.records.selectors.hands import hands_now, who_comes
from sheafwright.records.selectors.machines import (
    insurance_now,
    machines_now,
    tying_now,
)
from sheafwright.records.selectors.work import owed_both_ways
from sheafwright.web.access import for_right
from sheafwright.web.corrections import put_right_section
from sheafwright.web.sheets import Action, Section, Sheet, sheet, write_action
from sheafwright.web.tables import Column, Link, Table
from sheafwright.web.templatetags.said import (
    UNKNOWN,
    day,
    day_and_year,
    kg,
    weekday,
)

CARRIES = (Machine.Kind.CART, Machine.Kind.OTHER)
"""Kinds that bundles may go on."""
OWN_SECTION = (Machine.Kind.BINDER, Machine.Kind.DRUM)
LATEST = 20
"""Briefings shown."""


@for_right(Right.SEE_WORK)
def hands(request):
    holding = request.membership.holding
    week, against = who_comes(holding=holding), against_work(holding=holding)
    sections = (
        _against(request, against),
        _week(request, week),
        _people(request),
        _owed(request),
        *_machines(request),
        _tying(request),
        _briefings(request),
        _insurance(request),
    )
    return sheet(
        request,
        Sheet(
            title=_("Hands"),
            answer=wording.headline(week, today(holding)),
            odds=wording.beneath(against),
            sections=tuple(each for each in sections if each),
        ),
    )


def _against(request, against):
    """What is more than stands under the headline."""
    rest = against[1:]
    if not rest:
        return None
    return Section(
        heading=_("What else stands against work"),
        is_danger=rest[0].kind == Kind.BROKEN,
        more=tuple(wording.stands_against(each) for each in rest),
    )


def _week(request, week):
    columns = (Column(_("Day")), Column(_("Morning")), Column(_("Afternoon")))
    rows = tuple(
        (weekday(date), *(_names(each.comes) for each in halves))
        for date, halves in itertools.groupby(week, lambda each: each.half_day.date)
    )
    return Section(
        heading=_("Who comes"),
        sentence=wording.said_nothing(week),
        table=Table(columns, rows),
        actions=(*write_action(request, "coming"), _stook_card(request)),
    )


def _names(hands):
    return ", ".join(each.name for each in hands) or UNKNOWN


def _stook_card(request):
    slug = request.membership.holding.slug
    address = reverse("web:stook-card", args=[slug])
    return Action(_("How to build a stook, to print"), address)


def _people(request):
    columns = (Column(_("Name")), Column(_("From")), Column(_("May work at")))
    rows = tuple(
        (_to_change(request, each), each.farm or _("here"), wording.may(each))
        for each in hands_now(holding=request.membership.holding)
    )
    return Section(
        heading=_("Hands"),
        table=Table(columns, rows) if rows else None,
        sentence="" if rows else _("Nobody is written down yet."),
        actions=write_action(request, "hand"),
    )


def _to_change(request, each):
    flags = dict.fromkeys(each.flags, "on")
    action = write_action(request, "hand-tasks", hand=each.hand.pk, **flags)
    return Link(each.name, action[0].url) if action else each.name


def _owed(request):
    """Between neighbours: not for those who only work here."""
    if not request.membership.may(Right.SEE_BOOK):
        return None
    hours_a_day = work_rates().day.hand_hours
    columns = (
        Column(_("Neighbour")),
        Column(_("They owe us"), True),
        Column(_("We owe them"), True),
    )
    rows = tuple(
        (
            each.who,
            wording.days(each.to_us, hours_a_day),
            wording.days(each.to_them, hours_a_day),
        )
        for each in owed_both_ways(holding=request.membership.holding)
    )
    return Section(
        heading=_("Days owed"),
        table=Table(columns, rows) if rows else None,
        sentence=wording.a_day_is(hours_a_day) if rows else wording.nothing_owed(),
        actions=write_action(request, "labour"),
    )


def _machines(request):
    machines = machines_now(holding=request.membership.holding)
    own = [each for each in machines if each.machine.kind in OWN_SECTION]
    others = [each for each in machines if each not in own]
    yield from (_machine(request, each) for each in own)
    columns = (
        Column(_("Machine")),
        Column(_("Where")),
        Column(_("Looked over")),
        Column(_("Carries")),
    )
    rows = tuple(
        (
            _to_check(request, each),
            wording.where(each),
            day(each.checked),
            _carries(request, each.machine),
        )
        for each in others
    )
    yield Section(
        heading=_("Other machines") if own else _("Machines"),
        table=Table(columns, rows) if rows else None,
        sentence="" if rows or own else _("No machine is written down yet."),
        actions=(
            *write_action(request, "machine"),
            *write_action(request, "machine-move"),
        ),
    )
    if machines:
        found = [each.machine for each in machines]
        yield put_right_section(request, machine__in=found)


def _carries(request, machine):
    """Its deck and what it may carry, with the way to say so where it carries."""
    known = wording.deck(machine, request.user.units)
    if machine.kind not in CARRIES:
        return known or UNKNOWN
    action = write_action(request, "machine-correction", machine=machine.pk)
    return Link(known or _("say it"), action[0].url) if action else known or UNKNOWN


def _to_check(request, each):
    action = write_action(request, "machine-check", machine=each.machine.pk)
    name = str(each.machine)
    return Link(name, action[0].url) if action else name


def _machine(request, each):
    given = {"machine": each.machine.pk}
    clean = {"what": each.machine.name, **given}
    return Section(
        heading=wording.machine_named(each.machine),
        is_danger=bool(each.broken),
        sentence=wording.machine_said(each),
        more=tuple(filter(None, (wording.parts_said(each), wording.spares_said(each)))),
        actions=(
            *write_action(request, "machine-check", wording.look_over(), **given),
            *write_action(request, "spare", **given),
            *write_action(request, "machine-move", wording.goes_or_comes(), **given),
            *write_action(request, "cleaning", wording.clean_down(), **clean),
            *write_action(request, "machine-correction", **given),
        ),
    )


def _tying(request):
    rates, units = work_rates(), request.user.units
    tying = tying_now(holding=request.membership.holding)
    used = tying.twine_kg_per_acre
    known = wording.tied_elsewhere(rates.twine.mis_ties, rates.known.bad_mis_ties)
    return Section(
        heading=_("Knots and twine"),
        sentence=wording.tied(tying),
        more=(
            wording.twine(None if used is None else kg(used, units)),
            known,
        ),
        actions=write_action(request, "tying"),
    )


def _briefings(request):
    columns = (Column(_("Who")), Column(_("Machine")), Column(_("Shown")))
    found = Briefing.objects.filter(holding=request.membership.holding)
    latest = found.select_related("hand", "machine").order_by("-date", "-made_at")
    rows = tuple(
        (str(each.hand), str(each.machine), _shown(each)) for each in latest[:LATEST]
    )
    return Section(
        heading=_("Who was shown a machine"),
        care=(told(CAUTION),),
        table=Table(columns, rows) if rows else None,
        sentence="" if rows else _("Nobody was shown one yet."),
        actions=write_action(request, "briefing"),
    )


def _shown(each):
    said = {"day": day_and_year(each.date), "by": each.by}
    if each.signed:
        return _("%(day)s by %(by)s, signed") % said
    return _("%(day)s by %(by)s, not signed") % said


def _insurance(request):
    now = insurance_now(holding=request.membership.holding)
    return Section(
        heading=_("Employers' liability insurance"),
        sentence=wording.insured(now),
        more=(wording.insurance_why(),),
        actions=write_action(request, "insurance"),
    )
