"""Which field can wait its turn, and which would hold up the others?"""

import dataclasses
import datetime
from collections import defaultdict
from typing import NamedTuple

import numpy as np

from sheafwright.answers import turns_wording as wording
from sheafwright.answers.known_days import known_weather
from sheafwright.answers.perfect_crop import perfect_crop
from sheafwright.answers.turns_checks import check
from sheafwright.answers.turns_plan import PlanGain, plan_gain
from sheafwright.answers.turns_summers import TurnsSummers, turns_summers
from sheafwright.answers.turns_working import telling_steps, turns_steps
from sheafwright.answers.working import steps_to_json
from sheafwright.core.decide import turns as core
from sheafwright.feeds.forecast.daily import Forecast
from sheafwright.feeds.telling import joined
from sheafwright.feeds.turns import Harvest

PLAN_DAYS = 3
FEW = 0.02
"""Whoever loses less of a perfect crop can wait. [1]"""
SURER = 2.0
"""Standard errors by which waiting must be better. [1]"""


@dataclasses.dataclass(frozen=True)
class TurnsQuestion:
    """All that stands, and the weather so far."""

    weather: str
    """Path of the weather record."""
    harvest: Harvest
    columns: str | None = None
    """Path of a columns file for it."""
    latitude: float | None = None
    """The record's own if not given; north positive. [°]"""
    altitude: float | None = None
    """The record's own if not given. [m]"""
    as_of: datetime.date | None = None
    """The last day of the record if not given."""
    forecast: Forecast | None = None
    own_seasons: str | None = None
    """Path of past seasons' dates."""
    own_readings: str | None = None
    """Path of the fields' own readings."""
    losses: str | None = None
    """Path of a table of losses."""
    seed: int = 1
    summers: int = 200
    """Possible summers drawn."""


class Turn(NamedTuple):
    """What a hectare of a field brings, as a share of a perfect crop. [1]"""

    field: str
    if_cut: float
    """Cut in the plan."""
    if_left: float
    """Left until after it, net of what it then costs the others."""
    lost: float
    """By being left."""
    error: float
    """Standard error of that."""
    own_loss: float
    holds_up: float

    @property
    def verdict(self):
        """One of ``wording.VERDICTS``."""
        if self.lost < -SURER * self.error:
            return wording.GAINS
        if self.lost < FEW:
            return wording.CAN_WAIT
        own = self.own_loss >= self.holds_up
        return wording.LOSES if own else wording.HOLDS_UP

    def to_json(self):
        numbers = {
            "worth_if_cut": self.if_cut,
            "worth_if_left": self.if_left,
            "lost_by_waiting": self.lost,
            "lost_standard_error": self.error,
            "own_loss": self.own_loss,
            "holds_up": self.holds_up,
        }
        said = {name: round(float(number), 4) for name, number in numbers.items()}
        return {"field": self.field, "verdict": self.verdict} | said


@dataclasses.dataclass(frozen=True)
class TurnsAnswer:
    """The answer."""

    question: TurnsQuestion
    summers: TurnsSummers
    turns: tuple[Turn, ...]
    """Who loses most first."""
    plan: PlanGain | None = None
    """What a plan that was made brings beside the plain rule."""

    @property
    def sentence(self):
        """The answer in a few sentences."""
        by_verdict, worst = defaultdict(list), self.turns[0]
        for each in self.turns:
            by_verdict[each.verdict].append(each.field)
        loses = worst.lost >= FEW
        return joined(
            wording.turns(
                self.summers.until,
                by_verdict,
                (worst.field, worst.lost, worst.holds_up) if loses else None,
            ),
            self.plan and self.plan.says,
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return turns_steps(self)

    @property
    def telling(self):
        """The few of those steps on which it turns."""
        return telling_steps(self)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        known = self.summers.known
        return {
            "sentence": self.sentence,
            "as_of": known.as_of.isoformat(),
            "first": self.summers.first.isoformat(),
            "until": self.summers.until.isoformat(),
            "fields": [each.to_json() for each in self.turns],
            "perfect_gbp_per_ha": round(perfect_crop(1.0).gbp, 2),
            "plan": self.plan and self.plan.to_json(),
            "summers": self.question.summers,
            "working": steps_to_json(self.working),
        }


def turns(question, plan=None):
    """The `TurnsAnswer` to a `TurnsQuestion`.

    Parameters
    ----------
    question : TurnsQuestion
    plan : mapping, optional
        The JSON of a `CrewAnswer`: then it is said what that brings beside the plain
        rule, in the same summers.
    """
    known = known_weather(question)
    first = question.harvest.first or known.as_of
    until = question.harvest.until or first + datetime.timedelta(PLAN_DAYS - 1)
    check(question, known.as_of, first, until)
    made = turns_summers(question, first, until, known)
    gain = None if plan is None else plan_gain(made, question.harvest.fields, plan)
    return TurnsAnswer(question, made, _turns(question, made), gain)


def _turns(question, made):
    found = core.turns(
        made.ahead, made.plan_days, made.at, made.fields, made.gang, made.losses
    )
    error = found.lost.std(axis=-1) / np.sqrt(found.lost.shape[-1])
    each = (found.if_cut, found.if_left, found.lost)
    told = [
        Turn(field.name, *(float(number) for number in numbers))
        for field, *numbers in zip(
            question.harvest.fields,
            *(draws.mean(axis=-1) for draws in each),
            error,
            found.own_loss.mean(axis=-1),
            found.holds_up.mean(axis=-1),
            strict=True,
        )
    ]
    return tuple(sorted(told, key=lambda turn: -turn.lost))
