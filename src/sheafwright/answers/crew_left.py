"""What is not done in the next half-days, and why."""

from typing import NamedTuple

from sheafwright.answers import crew_wording as wording
from sheafwright.answers.advice import TOO_LATE
from sheafwright.answers.crew_problem import carting_wins, cutting_wins
from sheafwright.feeds.crew_day import BINDING, CARTING
from sheafwright.feeds.telling import say
from sheafwright.feeds.work import work_rates


class Left(NamedTuple):
    """A field, or a part of it."""

    field: str
    task: str
    area: float
    """[ha]"""
    why: str
    is_ready: bool
    """Whether it would win something, and only hours, hands or machines are wanting."""

    def to_json(self):
        return {
            "field": self.field,
            "task": self.task,
            "area_ha": round(self.area, 2),
            "why": self.why,
            "is_ready": self.is_ready,
        }


def left_undone(question, problem, plan):
    """Every `Left`: fields to cut, then stooks."""
    rates = work_rates()
    asked = [(field.name, BINDING, field, cutting_wins) for field in question.fields]
    asked += [(each.field, CARTING, each, carting_wins) for each in question.stooks]
    for_task = {BINDING: _why_not_cut, CARTING: _why_not_carted}
    left = []
    for name, task, what, wins in asked:
        done = [area for (_, *of), area in plan.done.items() if of == [name, task]]
        area = what.area_ha - sum(done)
        if area >= wording.ABOUT:
            won = wins(what, question, rates)
            own = for_task[task](what, won, question)
            why = own or _why_no_hours(task, won, problem)
            left.append(Left(name, task, area, why, own is None))
    return tuple(left)


def _why_not_cut(field, won, question):
    """What the crop itself says against it; None if nothing."""
    if field.action == TOO_LATE:
        return say(wording.TOO_LATE)
    if not any(won.can):
        last = question.half_days[-1].day
        later = field.ripe if field.ripe and field.ripe > last else None
        return wording.too_green(later)
    if max(won.by_half_day) > 0:
        return None
    return say(wording.WAITING_WINS)


def _why_not_carted(stooked, won, question):
    if not any(won.can):
        chances = (stooked.fit_chance.get(each.day, 0.0) for each in question.half_days)
        return wording.not_fit(max(chances))
    return None if max(won.by_half_day) > 0 else say(wording.NOTHING_WON)


def _why_no_hours(task, won, problem):
    """Which of hours, machines and hands is wanting, where the crop is ready."""
    ready = [
        half
        for half, gain in zip(problem.half_days, won.by_half_day, strict=True)
        if gain > 0 and task in half.tasks
    ]
    if not ready:
        return say(wording.TOO_LIKELY_WET)
    if task == BINDING and not any(_has_binder(half, problem) for half in ready):
        return say(wording.NO_BINDER)
    rates = problem.rates
    least = rates.binder_hands if task == BINDING else rates.carting_hands
    if max(_hands(half, task, problem) for half in ready) < least:
        return wording.too_few_hands(task, least)
    return say(wording.ELSEWHERE)


def _has_binder(half, problem):
    return any(half.name not in binder.broken for binder in problem.binders)


def _hands(half, task, problem):
    return sum(
        task in person.may and half.name not in person.away for person in problem.people
    )
