"""The field's year: sown to sold, with the days known and the days expected."""

import collections
import dataclasses
import datetime

from django.db import models

from sheafwright.records.models import (
    Cut,
    Line,
    Movement,
    Observation,
    Place,
    Sale,
    Threshing,
)
from sheafwright.records.saved import saved
from sheafwright.records.selectors.crop import seen_stages
from sheafwright.records.selectors.undone import not_undone

STEPS = (
    "sown",
    "up",
    "ear",
    "flower",
    "cut",
    "stooked",
    "ricked",
    "threshed",
    "sold",
)
STAGE_OF = {"up": "emergence", "ear": "ear_out", "flower": "flowering"}
"""Steps that are stages of the crop, to their names."""
FIT = "soft_dough"
"""A crop may be cut from this stage."""


@dataclasses.dataclass(frozen=True)
class Expected:
    """Days between which 8 possible summers in 10 have it, and the middle one."""

    early: datetime.date
    likely: datetime.date
    late: datetime.date


@dataclasses.dataclass(frozen=True)
class YearStep:
    """One step of a field's year; the first day of it, if it is known."""

    name: str
    known: datetime.date | None = None
    expected: Expected | None = None


def field_years(sowings):
    """Each sowing's own id to the `YearStep` of each of ``STEPS``.

    As many queries for many as for one.
    """
    ways, stages, told = _ways(sowings), _stages(sowings), _told(sowings)
    return {
        sowing.pk: _steps(
            {"sown": sowing.date} | stages[sowing.pk] | ways[sowing.pk],
            told.get(sowing.pk, {}),
        )
        for sowing in sowings
    }


def _steps(known, told):
    # What has happened is expected no more.
    return tuple(
        YearStep(name, known=known[name])
        if name in known
        else YearStep(name, expected=_expected(told, name))
        for name in STEPS
    )


def _stages(sowings):
    """Sowing to the day of each step that is a stage, as far as it was seen."""
    seen = {sowing.pk: [] for sowing in sowings}
    for each in Observation.objects.filter(sowing__in=sowings):
        seen[each.sowing_id].append(each)
    return {
        pk: {step: days[s] for step, s in STAGE_OF.items() if s in days}
        for pk, days in ((pk, seen_stages(each)) for pk, each in seen.items())
    }


def _expected(told, name):
    stage = FIT if name in ("cut", "stooked") else STAGE_OF.get(name)
    days = told.get(stage) or {}
    if not all(days.get(p) for p in ("p10", "p50", "p90")):
        return None
    return Expected(
        *(datetime.date.fromisoformat(days[p]) for p in ("p10", "p50", "p90"))
    )


def _told(sowings):
    """Sowing to the stages that its last outlook tells of."""
    kept = saved(question="outlook", about=sowings)
    return {pk: answer.said.get("stages", {}) for pk, answer in kept.items()}


def _ways(sowings):
    """Sowing to the first day of each step that its straw and grain took."""
    way = _Way({sowing.pk: {} for sowing in sowings})
    sets = way.cut(sowings)
    ricks = way.carted(sets)
    lots = way.threshed(sets, ricks)
    way.sold(lots)
    return way.first


@dataclasses.dataclass(frozen=True)
class _Way:
    """First days by sowing; its steps give what came of it to the sowings behind it."""

    first: dict

    def cut(self, sowings):
        cuts = not_undone(Cut.objects.filter(sowing__in=sowings))
        sets = collections.defaultdict(set)
        for sowing, date, stook_set in cuts.values_list("sowing", "date", "stook_set"):
            sets[stook_set].add(sowing)
            self._note({sowing}, "cut", date)
            if stook_set:
                self._note({sowing}, "stooked", date)
        return sets

    def carted(self, sets):
        carts = Line.objects.filter(
            movement__kind=Movement.Kind.CART, movement__reversed_by=None
        )
        took = carts.filter(place__kind=Place.Kind.STOOKS, place__subject__in=sets)
        behind = {}
        for movement, date, stook_set in took.values_list(
            "movement", "movement__date", "place__subject"
        ):
            behind[movement] = sets[stook_set]
            self._note(behind[movement], "ricked", date)
        return _passed_on(behind, carts, Place.Kind.RICK)

    def threshed(self, sets, ricks):
        runs = not_undone(
            Threshing.objects.filter(
                models.Q(stook_set__in=sets) | models.Q(rick__in=ricks)
            )
        )
        behind = {}
        for run, date, stook_set, rick in runs.values_list(
            "pk", "date", "stook_set", "rick"
        ):
            behind[run] = sets[stook_set] if stook_set else ricks[rick]
            self._note(behind[run], "threshed", date)
        return _passed_on(behind, Line.objects.all(), Place.Kind.LOT)

    def sold(self, lots):
        sales = not_undone(Sale.objects.filter(lot__in=lots))
        for lot, date in sales.values_list("lot", "date"):
            self._note(lots[lot], "sold", date)

    def _note(self, sowings, name, date):
        for sowing in sowings:
            known = self.first[sowing]
            known[name] = min(date, known.get(name, date))


def _passed_on(behind, lines, kind):
    """What movements gave to places of a kind, to the sowings behind each."""
    given = lines.filter(movement__in=behind, place__kind=kind, grams__gt=0)
    passed = collections.defaultdict(set)
    for movement, subject in given.values_list("movement", "place__subject"):
        passed[subject] |= behind[movement]
    return passed
