"""What does a plan of the next half-days bring beside the plain rule?"""

import dataclasses
import datetime
from typing import NamedTuple

import numpy as np

from sheafwright.answers import turns_wording as wording
from sheafwright.answers.perfect_crop import perfect_crop
from sheafwright.answers.wording import date
from sheafwright.core.decide.gang_day import UNWANTED, Fields
from sheafwright.core.decide.turns import as_planned
from sheafwright.core.errors import OutOfRange, UnreadableInput
from sheafwright.feeds.crew_day import BINDING

SURE_90 = 1.645
"""Standard errors on each side that hold 9 chances in 10. [1]"""


class PlanGain(NamedTuple):
    """Of a plan, over the ripest first from the start, in the same summers."""

    gbp: float
    low: float
    """With `high`, 9 chances in 10. [GBP]"""
    high: float
    """[GBP]"""

    @property
    def says(self):
        return wording.plan_gain(*self)

    def to_json(self):
        return {
            "gain_gbp": round(self.gbp, 2),
            "gain_gbp_p5": round(self.low, 2),
            "gain_gbp_p95": round(self.high, 2),
        }


class Piece(NamedTuple):
    """A part of a field."""

    field: int
    area: float
    """[ha]"""
    day: int | None
    """Of the plan, from which it may be cut; None for not in the plan at all."""
    place: int
    """In the order of the plan; what the plan had no hours for comes after all."""


def plan_gain(made, fields, plan):
    """`PlanGain` of a plan.

    Parameters
    ----------
    made : sheafwright.answers.turns_summers.TurnsSummers
    fields : sequence of sheafwright.feeds.turns.Waiting
    plan : mapping
        JSON of a `sheafwright.answers.crew.CrewAnswer`.
    """
    try:
        cuts, ready = cut_by_plan(plan), wanting_hours(plan)
    except (LookupError, TypeError, ValueError, AttributeError):
        raise UnreadableInput(
            "The plan can't be read; it should be as `sheafwright day` printed it with "
            "--json."
        ) from None
    for day, *_ in cuts:
        _check_day(day, made)
    planned, ruled = gains_of(made, pieces_of(made, fields, cuts, ready))
    gbp = (planned - ruled) * perfect_crop(1.0).gbp
    error = SURE_90 * gbp.std() / np.sqrt(len(gbp))
    mean = float(gbp.mean())
    return PlanGain(mean, mean - float(error), mean + float(error))


def cut_by_plan(plan):
    """What a plan cuts, in its order: date, field and hectares."""
    return [
        (
            datetime.date.fromisoformat(half["date"]),
            each["field"],
            float(each["area_ha"]),
        )
        for half in plan["half_days"]
        for row in half["rows"]
        if row["task"] == BINDING
        for each in row["fields"]
    ]


def wanting_hours(plan):
    """Fields that a plan leaves, or leaves a part of, for want of hours alone."""
    return {
        each["field"]
        for each in plan["left"]
        if each["task"] == BINDING and each["is_ready"]
    }


def pieces_of(made, fields, cuts, ready):
    """Every `Piece` of the fields, once a plan has parted them.

    Parameters
    ----------
    made, fields : as in `plan_gain`
    cuts, ready : from `cut_by_plan` and `wanting_hours`
    """
    names = [each.name for each in fields]
    left, pieces = [each.area_ha for each in fields], []
    for place, (cut_on, name, area) in enumerate(cuts):
        if name not in names:
            raise OutOfRange(
                "The plan cuts {name}, which is not among the fields; both should "
                "speak of the same.",
                name=name,
            )
        field = names.index(name)
        day = (cut_on - made.first).days
        area = min(area, left[field])
        left[field] -= area
        if area > 0:
            pieces.append(Piece(field, area, day, place))
    rest = [
        Piece(f, area, 0 if names[f] in ready else None, len(cuts) + f)
        for f, area in enumerate(left)
        if area > 0
    ]
    return pieces + rest


def gains_of(made, pieces):
    """Hectares' worth that the plan's pieces and the plain rule bring: (2, draw)."""
    of = np.array([piece.field for piece in pieces])
    parts = {
        name: getattr(made.ahead, name)[:, of]
        for name in ("ripeness", "worth", "can_cut")
    }
    fields = Fields(np.array([p.area for p in pieces]), made.fields.farm[of])
    return as_planned(
        dataclasses.replace(made.ahead, **parts),
        [_order(pieces, day) for day in range(made.plan_days)],
        made.at,
        fields,
        made.gang,
        made.losses,
    )


def _order(pieces, day):
    """What rain put off comes before the plan's next day, spare hours after all."""
    return [
        UNWANTED if piece.day is None or piece.day > day else -float(piece.place)
        for piece in pieces
    ]


def _check_day(day, made):
    if not made.first <= day <= made.until:
        raise OutOfRange(
            "The plan cuts on {day}; it should be of the days from {first} to {until}.",
            day=date(day),
            first=date(made.first),
            until=date(made.until),
        )
