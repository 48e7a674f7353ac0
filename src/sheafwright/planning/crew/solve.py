"""The plan worth most, and the one nearest to a plan that can't be kept.

Areas are whole ares, and worth whole mills of a pound, because CP-SAT counts in whole
numbers.
"""

import dataclasses
import math
from collections import defaultdict

from sheafwright.core.errors import NoPlan
from sheafwright.planning.crew.problem import (
    BINDING,
    BOTHER_GBP,
    CARTING,
    STOOKING,
    Duty,
    Plan,
    changes,
)

ARES = 100
"""In a hectare."""
MINUTES = 60
SECONDS, SECONDS_AGAIN = 7.0, 2.0
"""For a plan from nothing, and for one from the plan before. [s]"""
GAP = 0.005
"""Share by which a better plan may be better. [1]"""
MILLS = 1000
"""In a pound."""
BOTHER = round(MILLS * BOTHER_GBP)
A_DUTY = 1
"""So little that nobody is sent out for nothing. [mill]"""


def solve(problem, seconds=SECONDS):
    """The `Plan` worth most that was found in the time.

    Parameters
    ----------
    problem : Problem
    seconds : float

    Raises
    ------
    NoPlan
    """
    model = _Model(problem, alike(problem.people))
    model.aim_at_worth()
    return _in_time(model.run(seconds), seconds)


def solve_again(problem, before, seconds=SECONDS_AGAIN):
    """The `Plan` worth most, less what each change costs in bother.

    First only the half-days that cannot stay as they were may change, then all. Its
    bound, too, is of what a plan is worth less bother.

    Parameters
    ----------
    problem : Problem
        As it now is: who is away, what is broken, which hours are fit.
    before : Plan
    seconds : float
        For both.

    Raises
    ------
    NoPlan
    """
    plans = []
    for held in (True, False):
        model = _Model(problem, [(person,) for person in problem.people])
        model.hint(plans[0] if plans else before)
        if held:
            model.hold(before)
        model.aim_at_few_changes(before)
        plans += [plan] if (plan := model.run(seconds / 2)) else []
    # In so short a time all free may bring less than most held.
    best = max(plans, key=lambda plan: less_bother(plan, before), default=None)
    if best:
        # What was held bounds nothing.
        most = plans[1].bound if len(plans) > 1 else _at_most(problem)
        gap = max(0.0, most - less_bother(best, before))
        best = dataclasses.replace(best, bound=best.worth + gap)
    return _in_time(best, seconds)


def less_bother(plan, before):
    """What a plan is worth, less what its changes cost. [GBP]"""
    told = sum(
        plan.has_planned(each.half_day) and before.has_planned(each.half_day)
        for each in changes(before, plan)
        if len(each.about) == 1
    )
    return plan.worth - told * BOTHER_GBP


def _at_most(problem):
    """If each job were done whole, when it wins most. [GBP]"""
    return sum(
        job.area * max(0.0, *job.gains(problem.half_days), 0.0) for job in problem.jobs
    )


def _in_time(plan, seconds):
    if plan is None:
        raise NoPlan(
            "No plan was found in {seconds:g} seconds, though to do nothing is one; "
            "fewer half-days should make it easier to find.",
            seconds=seconds,
        )
    return plan


def alike(people):
    """People in groups who may do the same, and are there at the same times.

    Who of them does what makes no odds to a plan from nothing, and to count them is far
    quicker than to name them.
    """
    groups = defaultdict(list)
    for person in people:
        groups[person.may, person.away].append(person)
    return [tuple(group) for group in groups.values()]


def _mills_an_are(problem):
    """What each job wins on each half-day, rounded up so that the bound is one."""
    return {
        (half_day.name, job.field, job.task): math.ceil(gain * MILLS / ARES)
        for job in problem.jobs
        for half_day, gain in zip(
            problem.half_days, job.gains(problem.half_days), strict=True
        )
    }


def _worth(problem, done):
    return sum(
        gain * done.get((half_day.name, job.field, job.task), 0.0)
        for job in problem.jobs
        for half_day, gain in zip(
            problem.half_days, job.gains(problem.half_days), strict=True
        )
    )


class _Model:
    """Groups of people are known by the first of them."""

    def __init__(self, problem, groups):
        # The solver is large, and most questions need none of it.
        from ortools.sat.python import cp_model

        self.cp, self.problem = cp_model, problem
        self.groups = {group[0].name: group for group in groups}
        self.model = cp_model.CpModel()
        self.farms = sorted({job.farm for job in problem.jobs})
        self.duty, self.at, self.ares, self.carting = {}, {}, {}, {}
        self.mills = _mills_an_are(problem)
        for half_day in problem.half_days:
            self._duties(half_day)
            self._areas(half_day)
            self._carts(half_day)
        for binder in problem.binders:
            self._binder(binder)
        for half_day in problem.half_days:
            for farm in self.farms:
                self._cutting(half_day, farm)
                self._carting(half_day, farm)
        self._whole_jobs()

    def _bool(self):
        return self.model.new_bool_var("")

    def _duties(self, half_day):
        for name, group in self.groups.items():
            if half_day.name in group[0].away:
                continue
            mine = []
            may = [task for task in half_day.tasks if task in group[0].may]
            for task in may:
                for farm in self.farms:
                    here = self.model.new_int_var(0, len(group), "")
                    self.duty[half_day.name, name, task, farm] = here
                    mine.append(here)
            self.model.add(sum(mine) <= len(group))

    def _areas(self, half_day):
        for job in self.problem.jobs:
            wins = self.mills[half_day.name, job.field, job.task] > 0
            most = wins * math.floor(job.area * ARES + 1e-6)
            self.ares[half_day.name, job.field, job.task] = self.model.new_int_var(
                0, most, ""
            )

    def _carts(self, half_day):
        for farm in self.farms:
            self.carting[half_day.name, farm] = self._bool()
        here = [self.carting[half_day.name, farm] for farm in self.farms]
        self.model.add(sum(here) <= self.problem.rates.carts)

    def _binder(self, binder):
        """Where it works, and where it stands after each half-day."""
        stood = {farm: int(farm == binder.farm) for farm in self.farms}
        for half_day in self.problem.half_days:
            at = {farm: self._bool() for farm in self.farms}
            ends = {farm: self._bool() for farm in self.farms}
            self.model.add_at_most_one(at.values())
            self.model.add(sum(ends.values()) <= 1)
            if half_day.name in binder.broken or BINDING not in half_day.tasks:
                self.model.add(sum(at.values()) == 0)
            for farm in self.farms:
                moved = self._bool()
                # It stands where it last worked.
                self.model.add(ends[farm] <= at[farm] + stood[farm])
                self.model.add(
                    ends[farm] >= stood[farm]
                    - sum(at[other] for other in self.farms if other != farm)
                )  # fmt: skip
                self.model.add(ends[farm] >= at[farm])
                self.model.add(moved >= at[farm] - stood[farm])
                self.at[half_day.name, binder.name, farm] = at[farm], moved
            stood = ends

    def _cutting(self, half_day, farm):
        rates, fit = self.problem.rates, half_day.cutting_hours
        cut = self._sum(half_day, farm, BINDING)
        binders = [
            self.at[half_day.name, each.name, farm] for each in self.problem.binders
        ]
        whole = math.floor(fit * rates.binder * ARES + 1e-6)
        short = math.floor(max(0.0, fit - rates.move) * rates.binder * ARES + 1e-6)
        self.model.add(
            cut <= sum(whole * at - (whole - short) * moved for at, moved in binders)
        )
        # Nobody goes out for nothing, were it to leave a plan as it was.
        for at, _ in binders:
            self.model.add(cut >= at)
        out = sum(at for at, _ in binders)
        hands = self._hands(half_day, farm, BINDING)
        self.model.add(hands == rates.binder_hands * out)
        minutes = math.ceil(rates.stooking * MINUTES)
        time = math.floor(half_day.hand_hours * MINUTES * ARES)
        behind = self._hands(half_day, farm, STOOKING)
        self.model.add(cut * minutes <= time * behind)
        # Nobody waits for a binder that does not come.
        self.model.add(behind <= len(self.problem.people) * out)

    def _carting(self, half_day, farm):
        rates, on = self.problem.rates, self.carting[half_day.name, farm]
        carted, hands = (
            self._sum(half_day, farm, CARTING),
            self._hands(half_day, farm, CARTING),
        )
        minutes = math.ceil(rates.carting * MINUTES)
        time = math.floor(half_day.carting_hours * MINUTES * ARES)
        self.model.add(carted * minutes <= time * hands)
        self.model.add(carted >= on)
        self.model.add(hands >= rates.carting_hands * on)
        self.model.add(hands <= len(self.problem.people) * on)

    def _whole_jobs(self):
        for job in self.problem.jobs:
            done = [
                self.ares[half_day.name, job.field, job.task]
                for half_day in self.problem.half_days
            ]
            self.model.add(sum(done) <= math.floor(job.area * ARES + 1e-6))

    def _sum(self, half_day, farm, task):
        return sum(
            self.ares[half_day.name, job.field, task]
            for job in self.problem.jobs
            if (job.farm, job.task) == (farm, task)
        )

    def _hands(self, half_day, farm, task):
        return sum(
            here
            for (when, _, what, where), here in self.duty.items()
            if (when, what, where) == (half_day.name, task, farm)
        )

    def _worth(self):
        """In mills."""
        return sum(self.mills[key] * ares for key, ares in self.ares.items())

    def aim_at_worth(self):
        self.model.maximize(self._worth() - self._sent_out())
        self.most_else = self._most_sent_out()

    def _sent_out(self):
        return A_DUTY * sum(self.duty.values())

    def _most_sent_out(self):
        return A_DUTY * len(self.problem.people) * len(self.problem.half_days)

    def aim_at_few_changes(self, before):
        """Each person and binder of each half-day that is not as it was counts one."""
        same = [
            here
            for (when, who, task, farm), here in self.duty.items()
            if before.duties.get((when, who)) == Duty(task, farm)
        ]
        same += [
            at
            for (when, name, farm), (at, _) in self.at.items()
            if before.binders.get((when, name)) == farm
        ]
        new = [
            here
            for (when, who, _, _), here in self.duty.items()
            if (when, who) not in before.duties and before.has_planned(when)
        ]
        new += [
            at
            for (when, name, _), (at, _) in self.at.items()
            if (when, name) not in before.binders and before.has_planned(when)
        ]
        self.model.maximize(
            self._worth() - self._sent_out() + BOTHER * (sum(same) - sum(new))
        )
        half_days = {each.name for each in self.problem.half_days}
        told = [key for key in (*before.duties, *before.binders) if key[0] in half_days]
        self.most_else = self._most_sent_out() - BOTHER * len(told)

    def hold(self, plan):
        """Leave every half-day as it was planned in which all can stay so."""
        moved = {
            when
            for (when, who), duty in plan.duties.items()
            if (when, who, *duty) not in self.duty
        }
        mended = {
            (each.name, binder.name)
            for each in self.problem.half_days
            for binder in self.problem.binders
            if each.name not in binder.broken
        }
        moved |= {when for when, name in plan.binders if (when, name) not in mended}
        moved |= {
            each.name
            for each in self.problem.half_days
            if not plan.has_planned(each.name)
        }
        for (when, who, *duty), here in self.duty.items():
            if when not in moved:
                self.model.add(here == (plan.duties.get((when, who)) == tuple(duty)))
        for (when, name, farm), (at, _) in self.at.items():
            if when not in moved:
                self.model.add(at == (plan.binders.get((when, name)) == farm))

    def hint(self, plan):
        for (when, who, task, farm), here in self.duty.items():
            self.model.add_hint(here, plan.duties.get((when, who)) == (task, farm))
        for (when, name, farm), (at, _) in self.at.items():
            self.model.add_hint(at, plan.binders.get((when, name)) == farm)
        for key, ares in self.ares.items():
            self.model.add_hint(ares, round(plan.done.get(key, 0.0) * ARES))

    def run(self, seconds):
        """The `Plan` found in the time, or None."""
        solver = self.cp.CpSolver()
        solver.parameters.max_time_in_seconds = seconds
        solver.parameters.relative_gap_limit = GAP
        # On two cores with other work one worker finds more than two do, and the same
        # each time. No repair_hint: OR-Tools 9.15 may end the process over it.
        solver.parameters.num_workers = 1
        solver.parameters.linearization_level = 2
        if solver.solve(self.model) not in (self.cp.OPTIMAL, self.cp.FEASIBLE):
            return None
        value = solver.value
        done = {
            key: value(ares) / ARES for key, ares in self.ares.items() if value(ares)
        }
        return Plan(
            duties=self._named(value),
            binders={
                (when, name): farm
                for (when, name, farm), (at, _) in self.at.items()
                if value(at)
            },
            done=done,
            worth=_worth(self.problem, done),
            bound=(solver.best_objective_bound + self.most_else) / MILLS,
            half_days=frozenset(each.name for each in self.problem.half_days),
        )

    def _named(self, value):
        """Duties by half-day and person; whoever can, stays at what they did."""
        duties, did = {}, {}
        for half_day in self.problem.half_days:
            for name, group in self.groups.items():
                asked = [
                    Duty(task, farm)
                    for (when, who, task, farm), here in self.duty.items()
                    if (when, who) == (half_day.name, name)
                    for _ in range(value(here))
                ]
                for person in sorted(group, key=lambda p: did.get(p.name) not in asked):
                    if asked:
                        stays = did.get(person.name) in asked
                        duty = did[person.name] if stays else asked[0]
                        asked.remove(duty)
                        duties[half_day.name, person.name] = did[person.name] = duty
        return duties
