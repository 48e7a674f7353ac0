"""Who does what in the next half-days?"""

import dataclasses
import importlib.util
from typing import NamedTuple

from sheafwright.answers import crew_wording as wording
from sheafwright.answers.crew_again import earlier, what_changed
from sheafwright.answers.crew_left import left_undone
from sheafwright.answers.crew_problem import problem_of
from sheafwright.answers.crew_working import crew_steps, telling_steps
from sheafwright.answers.working import steps_to_json
from sheafwright.core.errors import ServiceUnavailable
from sheafwright.feeds.crew_day import BINDING, CARTING, STOOKING, CrewQuestion
from sheafwright.feeds.telling import joined, say
from sheafwright.planning.crew.problem import Plan, Problem

ORDER = (BINDING, STOOKING, CARTING)


class Row(NamedTuple):
    """What some people do together in a half-day."""

    half_day: str
    task: str
    at: str
    """The farm."""
    place: str
    """The farm, if there are others."""
    people: tuple[str, ...]
    binders: tuple[str, ...]
    fields: tuple[tuple[str, float], ...]
    """Each with its hectares."""


@dataclasses.dataclass(frozen=True)
class CrewAnswer:
    """The answer."""

    question: CrewQuestion
    problem: Problem
    plan: Plan
    changed: tuple[str, ...] | None = None
    """What is other than in the plan before, in sentences; None without one."""

    @property
    def rows(self):
        """Every `Row`, half-day by half-day."""
        return tuple(
            row
            for half in self.question.half_days
            for row in _rows_of(half.name, self.problem, self.plan)
        )

    @property
    def left(self):
        """Every `Left`: what is not done, and why."""
        return left_undone(self.question, self.problem, self.plan)

    @property
    def gap(self):
        """No plan is worth so much more. [GBP]"""
        return max(0.0, self.plan.bound - self.plan.worth)

    @property
    def sentence(self):
        """The answer in a few sentences."""
        return joined(
            self._first() if self.changed is None else self._changes(),
            self.comes_to,
            wording.left(self.left),
        )

    @property
    def comes_to(self):
        """What the plan brings, and how good it is proven."""
        last = self.question.half_days[-1]
        cut, carted = self._done(BINDING), self._done(CARTING)
        return joined(
            wording.comes_to(last, cut, carted, self.plan.worth)
            or wording.nothing(last),
            wording.proven(self.gap, self.changed is not None),
        )

    def _changes(self):
        shown = self.changed[: wording.MOST_SAID]
        more = len(self.changed) - len(shown)
        return joined(*shown, more > 0 and wording.and_more(more))

    def _first(self):
        """The first half-day on which there is something to do."""
        for half in self.question.half_days:
            if rows := [row for row in self.rows if row.half_day == half.name]:
                return wording.half_day(half, rows)
        return None

    def _done(self, task):
        return sum(area for (*_, of), area in self.plan.done.items() if of == task)

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return crew_steps(self)

    @property
    def telling(self):
        """The few of those steps on which the plan turns."""
        return telling_steps(self)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "comes_to": self.comes_to,
            "caution": say(wording.CAUTION),
            "changed": None if self.changed is None else list(self.changed),
            "half_days": [
                self._half_day(*each)
                for each in zip(
                    self.question.half_days, self.problem.half_days, strict=True
                )
            ],
            "left": [each.to_json() for each in self.left],
            "binders": [
                {"binder": each.name, "broken": sorted(each.broken)}
                for each in self.problem.binders
            ],
            "people": [
                {"person": each.name, "away": sorted(each.away)}
                for each in self.problem.people
            ],
            "jobs": [list(job) for job in self.asked_jobs],
            "cut_ha": round(self._done(BINDING), 2),
            "carted_ha": round(self._done(CARTING), 2),
            "worth_gbp": round(self.plan.worth, 2),
            "gap_gbp": round(self.gap, 2),
            "working": steps_to_json(self.working),
        }

    @property
    def asked_jobs(self):
        """Fields to cut and to cart, each with its task."""
        return [
            *((field.name, BINDING) for field in self.question.fields),
            *((stooked.field, CARTING) for stooked in self.question.stooks),
        ]

    def _half_day(self, half, fit):
        rows = [row for row in self.rows if row.half_day == half.name]
        busy = {name for row in rows for name in row.people}
        return {
            "half_day": half.name,
            "date": half.day.isoformat(),
            "half": half.half,
            "dry_chance": round(half.dry_chance, 4),
            "shower": half.name in self.question.showers,
            "fit_hours_h": round(fit.cutting_hours, 2),
            "says": wording.half_day(half, rows),
            "rows": [_row_to_json(row) for row in rows],
            "free": [
                person.name
                for person in self.problem.people
                if person.name not in busy and half.name not in person.away
            ],
        }


def crew(question, before=None, seconds=None):
    """The `CrewAnswer` to a `CrewQuestion`.

    Parameters
    ----------
    question : CrewQuestion
    before : mapping, optional
        The JSON of an earlier answer: then as little is changed as can be, in a few
        seconds, and it is said what.
    seconds : float, optional
        In which the plan is wanted.

    Raises
    ------
    ServiceUnavailable
        Where the solver isn't installed.
    """
    problem = problem_of(question)
    if not is_there():
        raise ServiceUnavailable(wording.NO_SOLVER)
    from sheafwright.planning.crew import solve

    limit = {} if seconds is None else {"seconds": seconds}
    if before is None:
        return CrewAnswer(question, problem, solve.solve(problem, **limit))
    known = earlier(before)
    plan = solve.solve_again(problem, known.plan, **limit)
    answer = CrewAnswer(question, problem, plan)
    changed = tuple(what_changed(known, answer))
    return dataclasses.replace(answer, changed=changed)


def is_there():
    """Whether the solver is installed."""
    return importlib.util.find_spec("ortools") is not None


def _rows_of(half_day, problem, plan):
    farms = sorted({duty.farm for duty in plan.duties.values()})
    several = len({job.farm for job in problem.jobs}) > 1
    for farm in farms:
        for task in ORDER:
            people = tuple(
                person.name
                for person in problem.people
                if plan.duties.get((half_day, person.name)) == (task, farm)
            )
            if people:
                yield Row(
                    half_day=half_day,
                    task=task,
                    at=farm,
                    place=farm if several else "",
                    people=people,
                    binders=_binders(half_day, task, farm, plan),
                    fields=_fields(half_day, task, farm, problem, plan),
                )


def _binders(half_day, task, farm, plan):
    return tuple(
        name
        for (when, name), at in sorted(plan.binders.items())
        if (when, at) == (half_day, farm) and task == BINDING
    )


def _fields(half_day, task, farm, problem, plan):
    """Fields of a farm that something is done in, as setting up goes with cutting."""
    of = BINDING if task == STOOKING else task
    return tuple(
        (job.field, area)
        for job in problem.jobs
        if (job.farm, job.task) == (farm, of)
        and (area := plan.done.get((half_day, job.field, of), 0.0)) > 0
    )


def _row_to_json(row):
    return {
        "task": row.task,
        "at": row.at,
        "people": list(row.people),
        "binders": list(row.binders),
        "fields": [
            {"field": name, "area_ha": round(area, 2)} for name, area in row.fields
        ],
        "says": wording.does(row),
    }
