"""Who does what in the next half-days, as sections of *Cutting*."""

import uuid

from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.records import crew_wording as wording
from sheafwright.records.clock import today
from sheafwright.records.due.crew import crew_due
from sheafwright.records.models import Breakdown
from sheafwright.records.models.hands import Half
from sheafwright.records.selectors.crew import (
    crew_asked,
    crew_kept,
    crop_names,
    turns_kept,
)
from sheafwright.web.sheets import Fold, Quick, Section, write_action
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import money


def crew_sections(request):
    """The plan, and what may upset it; none where nothing is to be cut or carted."""
    holding = request.membership.holding
    asked = crew_asked(holding=holding)
    if asked.question is None:
        return tuple(_wanting(request, asked))
    hashed = crew_due(holding, asked).inputs_sha256()
    kept = crew_kept(holding=holding, hashed=hashed)
    plan = _plan(request, kept, kept and kept.inputs_sha256 == hashed)
    return *_changes(kept), plan, *_upsets(request, asked)


def turns_told(holding, crops):
    """What heads the column of fields that can wait, and what it says of each crop.

    Nothing where no field is ripe so soon.
    """
    kept = turns_kept(holding=holding)
    if kept is None:
        return "", {}
    by_field = {each["field"]: each for each in kept.said["fields"]}
    names = crop_names(crop.sowing for crop in crops if crop.is_answered)
    told = {}
    for crop in crops:
        if turn := by_field.get(names.get(crop.sowing.pk)):
            lost = turn["lost_by_waiting"] * crop.worth.gbp
            told[crop.sowing.pk] = wording.turn(turn["verdict"], money(lost))
    return wording.if_left(kept.said["until"]), told


def _wanting(request, asked):
    """What has to be written down before there can be a plan."""
    if asked.wants_hands and asked.binders:
        yield Section(
            heading=_("Who does what"),
            sentence=wording.wants_hands(),
            actions=write_action(request, "hand"),
        )


def _changes(kept):
    """What the plan does otherwise than the one before it."""
    changed = kept.said.get("changed") if kept else None
    if changed:
        yield Section(heading=_("What changes"), more=tuple(changed))


def _plan(request, kept, is_new):
    said = kept.said if kept else {}
    heading = _("Who does what")
    if "half_days" not in said:
        sentence = said.get("refused") or wording.being_planned()
        return Section(heading=heading, sentence=sentence)
    return Section(
        heading=heading,
        sentence=said["comes_to"],
        more=() if is_new else (wording.is_older(),),
        table=_table(said),
        fold=_left(said),
        care=(said["caution"],),
        actions=write_action(request, "coming"),
        working=tuple(said["working"]),
        made_at=kept.made_at,
    )


def _table(said):
    if not any(half["rows"] for half in said["half_days"]):
        return None
    columns = Column(_("When")), Column(_("What"))
    rows = tuple(
        (wording.half_day(half), wording.done(half)) for half in said["half_days"]
    )
    return Table(columns, rows)


def _left(said):
    if not said["left"]:
        return None
    return Fold(
        _("What is left, and why"), tuple(wording.left(each) for each in said["left"])
    )


def _upsets(request, asked):
    """Entries of one tap that make the plan anew."""
    if not request.membership.may(Right.DO_WORK):
        return
    for each in asked.binders:
        yield Section(heading=each.machine.name, quick=_breakdown(request, each))
    yield Section(heading=_("Rain"), quick=_shower(request))


def _breakdown(request, binder):
    state = Breakdown.State.MENDED if binder.is_broken else Breakdown.State.BROKEN
    return Quick(
        summary=wording.says_state(binder.machine, state),
        url=_write(request, "breakdown"),
        hidden={
            "id": uuid.uuid4(),
            "machine": binder.machine.pk,
            "date": today(request.membership.holding).isoformat(),
            "state": state.value,
        },
        name="half",
        choices=tuple((half.value, wording.since(half)) for half in Half),
    )


def _shower(request):
    return Quick(
        summary=_("A shower came…"),
        url=_write(request, "shower"),
        hidden={
            "id": uuid.uuid4(),
            "date": today(request.membership.holding).isoformat(),
        },
        name="half",
        choices=tuple((half.value, wording.this(half)) for half in Half),
    )


def _write(request, kind):
    return reverse("web:write", args=[request.membership.holding.slug, kind])
