"""The best plan, found from nothing or from the plan before."""

import dataclasses
import math
import time

from sheafwright.core.errors import NoPlan
from sheafwright.core.inputs.cropping import Pin
from sheafwright.feeds.telling import mark, say
from sheafwright.planning.cropping.model import Model, rules_of
from sheafwright.planning.cropping.paths import Growing
from sheafwright.planning.cropping.problem import Problem

GAP, GAP_AGAIN = 0.005, 0.01
"""How near to the best that can be is good enough: of a plan from nothing, and of one
from the plan before. [1]"""
SECONDS, SECONDS_AGAIN = 25.0, 2.4
"""For a plan from nothing, and for one from the plan before. [s]"""
NEAR = 1, 6
"""Fields of like area that may change with those that must: at first, and then."""
NONE_IN_TIME = mark(
    "No plan was found in the time, though there may be one; fewer pins, or less that "
    "is wanted, should make it easier to find."
)
LEAST = 0.2
"""Given to a run that comes last. [s]"""


class NoPlanInTime(NoPlan):
    """There may be a plan, but none was found."""


@dataclasses.dataclass(frozen=True)
class Plan:
    """Which field grows what in which year."""

    problem: Problem
    pins: frozenset[Pin]
    grown: dict[str, tuple[Growing, ...]]
    """By field, by year."""
    score: float
    """Worth less risk, and the ley that is left. [GBP]"""
    bound: float
    """No plan scores more. [GBP]"""
    plots: tuple[float, ...]
    """Of scarce seed, by year. [ha]"""

    @property
    def gap(self):
        """Share by which a better plan could be better."""
        return max(0.0, self.bound - self.score) / max(1.0, abs(self.score))

    def bounded(self, bound):
        """The same, where it is proven that no plan scores more than this."""
        return dataclasses.replace(self, bound=max(self.score, bound))

    def kept(self):
        """The whole plan as pins."""
        return {
            Pin(name, year, growing.crop)
            for name, row in self.grown.items()
            for year, growing in zip(self.problem.years, row, strict=True)
        }

    def crops(self, field):
        """The field's crops by year."""
        return tuple(growing.crop for growing in self.grown[field])


def solve(problem, pins=(), gap=GAP, seconds=SECONDS):
    """The best `Plan` found in the time, or None where the rules leave none.

    Parameters
    ----------
    problem : Problem
    pins : iterable of Pin
    gap : float
        [1]
    seconds : float

    Raises
    ------
    NoPlanInTime
        Where there may be one.
    """
    pins = frozenset(pins)
    model = Model(problem, rules_of(problem, pins))
    if not model.possible:
        return None
    return plan_of(model, model.program.run(seconds, gap), pins)


def solve_again(before, pins, gap=GAP_AGAIN, seconds=SECONDS_AGAIN):
    """As `solve`, but from the plan before, and therefore sooner.

    First those fields may change that must and a few like them, then those that the
    linear program would change, and all of them only where that finds nothing.

    Parameters
    ----------
    before : Plan
    pins : iterable of Pin
        All of them, old and new.
    """
    pins, ends = frozenset(pins), time.monotonic() + seconds
    # More pins can't be worth more, so that the old bound holds.
    bound = before.bound if before.pins <= pins else math.inf
    near = None
    for most in NEAR:
        free = to_change(before, pins, most)
        if free is None:
            return None
        if len(free) == len(before.problem.fields):
            return solve(before.problem, pins, gap, _left(ends))
        found = _in_time(solve_within, before, pins, free, gap / 2, _left(ends))
        near = _better(near, found, bound)
        if near and (near.gap <= gap or _left(ends) == LEAST):
            return near
    model = Model(before.problem, rules_of(before.problem, pins))
    relaxed = model.program.run(_left(ends), relaxed=True)
    near = _better(near, None, min(bound, relaxed.bound))
    if relaxed.values and (not near or near.gap > gap):
        loose = free | unlike(model, relaxed.values, near or before)
        found = _in_time(solve_within, near or before, pins, loose, gap, _left(ends))
        near = _better(near, found, min(bound, relaxed.bound))
    return near or solve(before.problem, pins, gap, _left(ends))


def to_change(before, pins, most):
    """Fields to let change with new pins: the fewest that must, and so many like them.

    None where the linear program already proves that no plan keeps the pins.
    """
    model = Model(before.problem, rules_of(before.problem, pins))
    if not model.possible:
        return None
    # Most worth to what leaves the plan as it is.
    model.program.aim(starting(model, before))
    found = model.program.run(SECONDS, relaxed=True)
    if found.impossible:
        return None
    must = unlike(model, found.values, before) if found.values else set()
    areas = {field.name: field.area for field in before.problem.fields}
    moved = {pin.field for pin in frozenset(pins) - before.kept()}
    others = sorted(
        areas.keys() - moved,
        key=lambda name: (
            min((abs(areas[name] - areas[each]) for each in moved), default=0),
            name,
        ),
    )
    return moved.union(must, others[:most])


def unlike(model, values, plan):
    """Fields that the linear program would not all leave as they are planned."""
    start = starting(model, plan)
    return {
        name
        for name, columns in model.arcs.items()
        if any(abs(values[column] - start[column]) > 1e-6 for column in columns)
    }


def solve_within(before, pins, free, gap=0.0, seconds=SECONDS_AGAIN):
    """As `solve`, with all fields but the free ones left as they were."""
    pins = frozenset(pins)
    still = frozenset(pin for pin in before.kept() if pin.field not in free)
    plan = solve(before.problem, pins | still, gap, seconds)
    return plan and dataclasses.replace(plan, pins=pins)


def _left(ends):
    return max(LEAST, ends - time.monotonic())


def _score(plan):
    return plan.score


def _better(one, other, bound):
    """The better of two plans, if there is any, with what is proven of it."""
    best = max(filter(None, (one, other)), key=_score, default=None)
    return best and best.bounded(bound)


def _in_time(solver, *asked):
    try:
        return solver(*asked)
    except NoPlanInTime:
        return None


def starting(model, plan):
    """The plan as values of the model's arcs, by column."""
    values = {}
    for name, row in plan.grown.items():
        node = 0
        for arc, column in zip(
            model.networks[name].arcs, model.arcs[name], strict=True
        ):
            taken = arc.start == node and arc.growing == row[arc.year]
            node = arc.end if taken else node
            values[column] = float(taken)
    return values


def plan_of(model, found, pins):
    """The `Plan` that a run found, or None."""
    if found.impossible:
        return None
    if not found.values:
        raise NoPlanInTime(say(NONE_IN_TIME))
    value = found.values
    return Plan(
        problem=model.problem,
        pins=pins,
        grown={
            name: tuple(
                arc.growing
                for arc, column in zip(model.networks[name].arcs, columns, strict=True)
                if value[column] > 0.5
            )
            for name, columns in model.arcs.items()
        },
        score=found.worth,
        bound=max(found.bound, found.worth),
        plots=tuple(value[column] for column in model.plots.values()),
    )


def even_hours(plan):
    """Hours by week where each year's work is spread as evenly as its weeks allow.

    Returns
    -------
    dict of int to float
        By week, counted on from the first week of the first harvest's year. [h]
    """
    problem = plan.problem
    model = Model(problem, rules_of(problem, plan.kept()))
    model.program.aim(model.peaks())
    return model.hours_by_week(model.program.run(SECONDS_AGAIN).values)
