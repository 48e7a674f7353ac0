"""Which field grows what, this year and the next?"""

import dataclasses
from collections import defaultdict

from sheafwright.answers import cropping_wording as wording
from sheafwright.answers.cropping_problem import problem_of, status_of
from sheafwright.answers.cropping_working import cropping_steps, telling_steps
from sheafwright.answers.wording import date
from sheafwright.answers.working import steps_to_json
from sheafwright.core.errors import NoPlan
from sheafwright.core.inputs.cropping import Pin
from sheafwright.feeds.cropping import GRASS, CroppingQuestion
from sheafwright.feeds.telling import joined, say, told
from sheafwright.planning.cropping import worth
from sheafwright.planning.cropping.clash import clash, hindered, most_area
from sheafwright.planning.cropping.model import WEEKS
from sheafwright.planning.cropping.rotation import broken, grown
from sheafwright.planning.cropping.solve import (
    NEAR,
    Plan,
    even_hours,
    solve,
    solve_again,
    solve_within,
    to_change,
)

GAP_INSTEAD = 0.001
"""How exactly another crop is weighed, beside the whole plan's worth. [1]"""


@dataclasses.dataclass(frozen=True)
class Instead:
    """What another crop in one field and year would come to."""

    crop: str
    why: str
    loss_gbp: float | None = None
    """At most, over the whole plan, worth less risk; None where it can't be grown."""

    @property
    def is_blocked(self):
        """Whether it can't be grown."""
        return self.loss_gbp is None

    def to_json(self):
        """As it leaves Python, said to whoever reads now."""
        return {"crop": self.crop, "why": told(self.why), "loss_gbp": self.loss_gbp}


@dataclasses.dataclass(frozen=True)
class CroppingAnswer:
    """The answer."""

    question: CroppingQuestion
    plan: Plan
    instead: dict[tuple[str, int], tuple[Instead, ...]]
    """By field and year, for the years that were gone into: every other crop, the
    next best first."""
    hours: dict[int, float]
    """By week, counted on from the first week of the first harvest's year. [h]"""

    @property
    def years(self):
        """Harvests."""
        return self.plan.problem.years

    @property
    def worths(self):
        """By year: worth by kind of season. [GBP]"""
        problem = self.plan.problem
        return tuple(
            worth.season_worths(
                (
                    (self.plan.grown[field.name][place], field.area)
                    for field in problem.fields
                ),
                self.plan.plots[place] if self.plan.plots else 0.0,
                problem,
            )
            for place in range(len(self.years))
        )

    @property
    def worth(self):
        """The mean of all seasons, over all years. [GBP]"""
        seasons = self.plan.problem.seasons
        return sum(worth.mean(each, seasons) for each in self.worths)

    @property
    def worst(self):
        """The mean of the worst seasons, over all years. [GBP]"""
        seasons = self.plan.problem.seasons
        return sum(worth.worst_mean(each, seasons) for each in self.worths)

    @property
    def sentence(self):
        """The answer in a few sentences."""
        short = self.plan.bound - self.plan.score
        return joined(
            wording.this_year(self.years[0], self._sown(0)),
            wording.worth(len(self.years), self.worth, self.worst, short),
            say(wording.ASSUMED),
        )

    def crops(self, name):
        """A field's crops by year, ``GRASS`` where it is kept in it."""
        if name in self.plan.grown:
            return self.plan.crops(name)
        return (GRASS,) * len(self.years)

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return cropping_steps(self)

    @property
    def telling(self):
        """The few of those steps on which the plan turns."""
        return telling_steps(self)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "holding": self.question.holding,
            "years": list(self.years),
            "worth_gbp": round(self.worth),
            "risk_gbp": round(self.worth - self.worst),
            "worth_less_risk_gbp": round(self.plan.score),
            "gap_share": round(self.plan.gap, 5),
            "pins": [pin._asdict() for pin in sorted(self.plan.pins)],
            "fields": [self._field(field) for field in self.question.fields],
            "totals": [self._total(place) for place in range(len(self.years))],
            "working": steps_to_json(self.working),
        }

    def _says(self, crop):
        return wording.crop_says(crop, self.plan.problem)

    def _sown(self, place):
        """Each crop of one year in words, with its fields and hectares."""
        rows = defaultdict(list)
        for field in self.question.fields:
            rows[self.crops(field.name)[place]].append(field)
        for crop in (*self.plan.problem.crops, GRASS):
            fields = rows[crop]
            area = sum(field.area_ha for field in fields)
            yield self._says(crop), [field.name for field in fields], area

    def _field(self, field):
        kept = field.name not in self.plan.grown
        return {
            "field": field.name,
            "area_ha": field.area_ha,
            "kept_in_grass": kept,
            "years": self._grass() if kept else list(self._rows(field)),
        }

    def _grass(self):
        row = {"crop": GRASS, "reason": say(wording.KEPT_IN_GRASS)}
        row |= {"pinned": False, "sold_as": None, "next_best": None, "blocked": []}
        return [{"year": year} | row for year in self.years]

    def _rows(self, asked):
        problem = self.plan.problem
        field = next(each for each in problem.fields if each.name == asked.name)
        state, pinned = field.state, {(pin.field, pin.year) for pin in self.plan.pins}
        for place, growing in enumerate(self.plan.grown[field.name]):
            year, crop = problem.years[place], problem.crops[growing.crop]
            status = status_of(asked, crop, year)
            instead = self.instead.get((field.name, year), ())
            yield {
                "year": year,
                "crop": growing.crop,
                "reason": self._reason(field, place, state, status),
                "pinned": (field.name, year) in pinned,
                "sold_as": status.status if any(crop.grain_gbp_per_t) else None,
                "next_best": next(
                    (each.to_json() for each in instead if not each.is_blocked), None
                ),
                "blocked": [
                    {"crop": each.crop, "why": told(each.why)}
                    for each in instead
                    if each.is_blocked
                ],
            }
            state = grown(state, crop.kind, problem.rotation)

    def _reason(self, field, place, state, status):
        problem, growing = self.plan.problem, self.plan.grown[field.name][place]
        crop = problem.crops[growing.crop]
        may = [
            each
            for each in field.choices[place]
            if not broken(state, problem.crops[each.crop].kind, problem.rotation)
        ]
        stands = wording.reason(state, crop.kind, problem.rotation, len(may) == 1)
        if not growing.status or not any(crop.grain_gbp_per_t):
            return stands
        organic_from = status.organic_from and date(status.organic_from)
        sold = wording.not_organic(status.status, organic_from)
        return joined(stands, sold, by="; ")

    def _total(self, place):
        problem, seasons = self.plan.problem, self.plan.problem.seasons
        year, worths = self.years[place], self.worths[place]
        rows = [(self.plan.grown[f.name][place], f.area) for f in problem.fields]
        straw = sum(
            ha * worth.mean(worth.straw_t(growing, problem), seasons)
            for growing, ha in rows
        )
        return {
            "year": year,
            "area_ha": {
                crop: round(area, 3)
                for crop, (_, _, area) in zip(
                    (*problem.crops, GRASS), self._sown(place), strict=True
                )
            },
            "straw_t": round(straw, 1),
            "worth_gbp": round(worth.mean(worths, seasons)),
            "worst_season_gbp": round(worth.worst_mean(worths, seasons)),
            **self._busiest(place),
            "seed_plots": list(self._seed_plots(place)),
        }

    def _busiest(self, place):
        """The week with the least hours to spare."""
        there_are = self.plan.problem.hours
        weeks = {
            week: self.hours.get(WEEKS * place + week, 0.0)
            for week in range(1, WEEKS + 1)
        }
        week = max(weeks, key=lambda each: weeks[each] / max(1e-9, there_are[each - 1]))
        return {
            "busiest_week": week,
            "busiest_week_h": round(weeks[week], 1),
            "busiest_week_there_are_h": there_are[week - 1],
        }

    def _seed_plots(self, place):
        """Where the scarce seed goes: into first wheats, the largest first."""
        left = self.plan.plots[place] if self.plan.plots else 0.0
        for field in sorted(self.plan.problem.fields, key=_by_area):
            growing = self.plan.grown[field.name][place]
            area = (
                min(left, field.area) if growing.harvest and not growing.second else 0
            )
            if area > 0.0005:
                yield {"field": field.name, "area_ha": round(area, 3)}
                left -= area


def cropping(question, before=None, compared_years=1):
    """The `CroppingAnswer` to a `CroppingQuestion`, or `NoPlan` with what clashes.

    Parameters
    ----------
    question : CroppingQuestion
    before : CroppingAnswer, optional
        To the same question with other pins: then it takes a few seconds at most.
    compared_years : int
        Years from the first for which every other crop is tried in every field.
    """
    problem = problem_of(question)
    if before and before.plan.problem == problem:
        plan = solve_again(before.plan, question.pins)
    else:
        plan = solve(problem, question.pins)
    if plan is None:
        raise NoPlan(_clash(problem, question.pins))
    return with_others(question, plan, compared_years)


def with_others(question, plan, years=1):
    """The `CroppingAnswer` of a plan, every other crop tried in every field.

    Parameters
    ----------
    question : CroppingQuestion
    plan : Plan
    years : int
        From the first, for which they are tried.
    """
    instead = {
        (field.name, year): others(plan, field, year)
        for field in plan.problem.fields
        for year in plan.problem.years[:years]
    }
    return CroppingAnswer(question, plan, instead, even_hours(plan))


def others(plan, field, year):
    """`Instead` for every other crop in one field and year, the next best first.

    The other fields are left as planned; where that can't be, those nearest in area
    may change too. So a loss is the most that the change need cost.
    """
    problem, place = plan.problem, plan.problem.years.index(year)
    state = field.state
    for growing in plan.grown[field.name][:place]:
        kind = problem.crops[growing.crop].kind
        state = grown(state, kind, problem.rotation)
    found = [
        _instead(plan, field, Pin(field.name, year, choice.crop), state)
        for choice in field.choices[place]
        if choice.crop != plan.grown[field.name][place].crop
    ]
    return tuple(sorted(found, key=lambda each: (each.is_blocked, each.loss_gbp)))


def _instead(plan, field, pin, state):
    problem = plan.problem
    crop = problem.crops[pin.crop]
    if rules := broken(state, crop.kind, problem.rotation):
        return Instead(pin.crop, wording.why_not(rules[0], state, problem.rotation))
    pins = {each for each in plan.pins if each[:2] != pin[:2]} | {pin}
    as_they_are = _in_time(plan, pins, {field.name})
    other = as_they_are or _in_time(plan, pins, to_change(plan, pins, NEAR[-1]))
    if not other:
        return Instead(pin.crop, wording.NOTHING_ELSE)
    loss, moved = max(0.0, plan.score - other.score), not as_they_are
    said = wording.crop_says(pin.crop, problem)
    why = wording.next_best(said, loss, field.area, pin.year, moved)
    return Instead(pin.crop, why, round(loss, 2))


def _in_time(plan, pins, free):
    """The plan with only some fields free; None where none is possible, or found."""
    try:
        return free and solve_within(plan, pins, free, gap=GAP_INSTEAD)
    except NoPlan:
        return None


def _clash(problem, pins):
    rules = clash(problem, pins)
    wanted = [rule for rule in rules if rule.kind == "wanted"]
    if len(wanted) != 1:
        return wording.clash(rules, problem, None, {})
    rest, asked = [rule for rule in rules if rule not in wanted], wanted[0].about[1]
    by_rules = defaultdict(list)
    for field, why in hindered(problem, rest, asked):
        by_rules[why].append(field)
    return wording.clash(rules, problem, most_area(problem, rest, asked), by_rules)


def _by_area(field):
    return -field.area, field.name
