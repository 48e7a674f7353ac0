"""How good straw is, as sections of *Straw* and of a lot's own page."""

import uuid

from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.grades import USES, grade_rule
from sheafwright.feeds.telling import first_sentence, refusal
from sheafwright.records import grading_wording as wording
from sheafwright.records.clock import today
from sheafwright.records.due.straw import KEPT
from sheafwright.records.saved import saved
from sheafwright.records.selectors.grading import (
    graded,
    is_measured,
    plan_of,
    rule_of,
    rules_of,
    rules_written,
)
from sheafwright.records.wording import being_worked_out
from sheafwright.web.sheets import Fold, Quick, Section, write_action
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import height_cm, length_mm, percent
from sheafwright.web.tracing import draft_actions, photograph_action

TAPS = (1, 5, 10)
"""Bundles that one tap tells off."""


def grades_in_short(request, lots):
    """Id of each lot to its grade as a cell has it."""
    told = graded(holding=request.membership.holding, lots=lots)
    return {pk: wording.in_short(each) for pk, each in told.items()}


def lot_sections(request, lots, with_heading=True):
    """How good each of some lots is, and its tally of bundles."""
    holding = request.membership.holding
    rules = rules_of(holding=holding)
    told = graded(holding=holding, lots=lots)
    waiting = draft_actions(request, lots)
    return tuple(
        _lot(request, told[lot.pk], rules, waiting[lot.pk], with_heading)
        for lot in lots
    )


def _lot(request, told, rules, waiting, with_heading):
    sentence, more = _how_good(told)
    return Section(
        heading=str(told.lot) if with_heading else _("How good it is"),
        sentence=sentence,
        more=(*more, *([told.bundles.sentence] if told.bundles else [])),
        fold=_plan(told, rules),
        quick=_tally(request, told.lot),
        actions=(
            *waiting,
            *write_action(request, "hand-grade", lot=told.lot.pk),
            *photograph_action(request, told.lot),
            *write_action(request, "stem-sample", lot=told.lot.pk),
            *write_action(request, "bundles", lot=told.lot.pk),
        ),
        working=_working(told),
    )


def _how_good(told):
    """The grade by stems first, and by hand beside it; else by hand alone."""
    by_hand = told.hand.sentence if told.hand else wording.not_graded()
    if told.said_fit:
        by_hand = wording.said_fit(told.said_fit)
    if told.stems is None:
        return by_hand, ()
    first, _rest = first_sentence(by_hand)
    return told.stems.sentence, (first,) if told.fit is not None else ()


def _working(told):
    answers = (told.stems, told.hand, told.bundles)
    return tuple(step for answer in answers if answer for step in answer.working)


def _plan(told, rules):
    """Which bundles to open, behind a word; nothing where the grade is settled."""
    if told.stems and told.stems.more_bundles == 0:
        return None
    summary = _("Which bundles to open")
    try:
        plan = plan_of(told, rules)
    except SheafwrightError as error:
        return Fold(summary, (refusal(error),))
    return Fold(summary, (plan.sentence if plan else wording.no_count(),))


def _tally(request, lot):
    """Bundles told off as they are tied, a tap each time."""
    membership = request.membership
    if not membership.may(Right.DO_WORK):
        return None
    taps = tuple((str(n), wording.more(n)) for n in TAPS)
    return Quick(
        summary=_("Tell off bundles…"),
        url=reverse("web:write", args=[membership.holding.slug, "bundles"]),
        hidden={
            "id": uuid.uuid4(),
            "lot": lot.pk,
            "date": today(membership.holding).isoformat(),
        },
        name="count",
        choices=(*taps, ("-1", wording.put_back())),
    )


def history_section(request):
    """What made the good straw, as it was last worked out."""
    holding = request.membership.holding
    kept = saved(question=KEPT, about=[_OfHolding(holding)]).get(holding.pk)
    said = kept.said if kept else {}
    sentence = said.get("refused") or said.get("sentence") or _no_history(holding)
    first, rest = first_sentence(sentence)
    return Section(
        heading=_("What made the good straw"),
        sentence=first,
        more=(rest,) if rest else (),
        table=_groups(said, request.user.units),
        folded=_("By field and by variety"),
        working=tuple(said.get("working", ())),
        made_at=kept and kept.made_at,
    )


def _no_history(holding):
    waits = is_measured(holding=holding)
    return being_worked_out() if waits else wording.history_waits()


class _OfHolding:
    """The holding itself, as the subject of an answer."""

    def __init__(self, holding):
        self.pk = self.holding_id = holding.pk


def _groups(said, units):
    rows = tuple(
        (
            group["name"],
            group["lots"],
            length_mm(group["length_mm"], units),
            _number(group["brightness"]),
            _number(group["bends"], ".2f"),
        )
        for group in said.get("groups", ())
    )
    columns = (
        Column(_("Field or variety")),
        Column(_("Lots"), True),
        Column(_("Length"), True),
        Column(_("Brightness"), True),
        Column(_("Bends"), True),
    )
    return Table(columns, rows) if rows else None


def _number(value, spec=".0f"):
    return wording.UNKNOWN if value is None else f"{value:{spec}}"


def rules_section(request):
    """What each grade asks: the holding's own rule, or the usual one."""
    units = request.user.units
    columns = (
        Column(_("For")),
        Column(_("Shortest"), True),
        Column(_("Butt"), True),
        Column(_("Bends"), True),
        Column(_("Damaged"), True),
        Column(_("Grade 1"), True),
        Column(_("Grade 2"), True),
        Column(_("Whose rule")),
    )
    said = rules_written(holding=request.membership.holding)
    if not request.membership.may(Right.SEE_TRADE):
        said = [each for each in said if not each.buyer_name]
    for_all = {each.use for each in said if not each.buyer_name}
    usual = [_rule(use, grade_rule(use), None, units) for use in USES]
    rows = [row for use, row in zip(USES, usual, strict=True) if use not in for_all]
    rows += [_rule(each.use, rule_of(each), each, units) for each in said]
    return Section(
        heading=_("What a grade asks"),
        table=Table(columns, tuple(rows)),
        folded=_("Length, butt, bends and shares"),
        actions=write_action(request, "grade-rule"),
    )


def _rule(use, rule, said, units):
    thin, thick = (length_mm(each, units) for each in (rule.butt_least, rule.butt_most))
    return (
        wording.use(use),
        height_cm(rule.length_least / 10, units),
        f"{thin} – {thick}",
        f"{rule.bends_most:g}",
        f"{rule.damage_most:g}",
        percent(100 * rule.first),
        percent(100 * rule.second),
        wording.whose(said),
    )
