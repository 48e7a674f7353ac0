"""How many hours of hands does the next season take, week by week?

Hours of one's own book where there are some, else the tables'; on the tables' days,
but for sowing that was done or is told by the plan.
"""

import dataclasses
import datetime
import math

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.cartage import Band
from sheafwright.answers.limits import Limit
from sheafwright.answers.work_day import WorkQuestion, work_day
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows, steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.core.work.calendar import by_week
from sheafwright.feeds import outturns
from sheafwright.feeds.labour import TASKS, hours_per_hectare, task_days
from sheafwright.feeds.sheaves import sheaves
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import (
    capital,
    joined,
    mark,
    measured,
    say,
    say_n,
)
from sheafwright.feeds.threshing import threshing
from sheafwright.feeds.units import in_unit
from sheafwright.feeds.work import work_rates

CALLED = {
    "sowing": mark("sowing"),
    "weeding": mark("weeding"),
    "cutting": mark("cutting and stooking"),
    "carting": mark("carting"),
    "threshing": mark("threshing and combing"),
}
AREA = Limit(mark("{measure} of wheat"), 0.01, 2000, "ha")
DISTANCE = 0.5
"""From field to rick, where nobody says. [km]"""
WEEK = datetime.timedelta(7)
DAY = datetime.timedelta(1)
MOST_HOURS = 5000
"""No hectare takes more of one task. [h/ha]"""


@dataclasses.dataclass(frozen=True)
class Sown:
    """Wheat for one harvest, sown together."""

    area: float
    """[ha]"""
    day: datetime.date | None = None
    """On which it was sown; None if it wasn't yet, or nobody said."""


@dataclasses.dataclass(frozen=True)
class NeedQuestion:
    """The wheat of one harvest."""

    harvest_year: int
    crops: tuple[Sown, ...]
    own: dict[str, tuple[float, ...]] = dataclasses.field(default_factory=dict)
    """Task to its hours an hectare in each harvest of one's own book. [h/ha]"""
    cut_from: datetime.date | None = None
    """When it is likely fit to cut."""

    @property
    def area(self):
        """[ha]"""
        return sum(crop.area for crop in self.crops)


@dataclasses.dataclass(frozen=True)
class TaskNeed:
    """One task of the season."""

    task: str
    hours: Band
    """Of all hands, fewest and most. [h]"""
    likely: float
    """[h]"""
    begins: datetime.date
    ends: datetime.date
    """Its last day."""
    harvests: int
    """Of one's own that it was taken from; 0 for the tables'."""


@dataclasses.dataclass(frozen=True)
class LabourNeed:
    """The answer."""

    question: NeedQuestion
    tasks: tuple[TaskNeed, ...]
    """In the order of ``feeds.labour.TASKS``; sowing that was done is left out."""
    first_week: datetime.date
    """A Monday."""
    weeks: np.ndarray
    """Likely hours, (task, week). [h]"""

    @property
    def likely(self):
        """Hours in all. [h]"""
        return sum(each.likely for each in self.tasks)

    @property
    def busiest(self):
        """The first day of the week with most hours, and those hours. [h]"""
        hours = self.weeks.sum(axis=0)
        at = int(hours.argmax())
        return self.first_week + at * WEEK, float(hours[at])

    @property
    def sentence(self):
        """The answer in a few sentences."""
        area, week = self.question.area, self.busiest
        low, high = (sum(each.hours[end] for each in self.tasks) for end in (0, 1))
        return joined(
            say(
                "The harvest of {year}, {area} of wheat, takes about {likely:,.0f} "
                "hours of hands ({low:,.0f} to {high:,.0f}), {each:,.0f} an acre.",
                year=self.question.harvest_year,
                area=measured(area, "ha", ".3g"),
                likely=self.likely,
                low=low,
                high=high,
                each=self.likely / in_unit(area, "area", "acre"),
            ),
            say(
                "The busiest week begins on {day}: {hours:,.0f} hours, {hands} at work "
                "all week.",
                day=wording.date(week[0]),
                hours=week[1],
                hands=_hands(week[1]),
            ),
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        for each in self.tasks:
            if each.harvests:
                yield Step(_own(each), YOU, GIVEN)
            else:
                yield _of_tables(each, self.question.area)
        known = shipped("work_rates")["known"]["hand_hours_per_ha"]
        says = joined(
            say(
                "Others counted {hours:g} hours of hands an hectare for the harvest by "
                "the usual way.",
                hours=known.value,
            ),
            say(
                "They don't say whether the drum is in it, nor how heavy the crop was: "
                "the tables have {field:.0f} without the drum and {drum:.0f} at it, "
                "for {reed} of reed.",
                field=_likely_by_tables("cutting", "carting"),
                drum=_likely_by_tables("threshing"),
                reed=measured(_reed(1.0), "t/ha", ".1f"),
            ),
        )
        yield step_from_rows(says, known)
        days = shipped("labour")["days"]
        says = say("Each task's hours are laid evenly over its days.")
        yield step_from_rows(says, *(days[each.task] for each in self.tasks))

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        busiest, hours = self.busiest
        return {
            "sentence": self.sentence,
            "harvest_year": self.question.harvest_year,
            "area_ha": round(self.question.area, 4),
            "hours_h": round(self.likely, 1),
            "hours_h_per_ha": round(self.likely / self.question.area, 2),
            "busiest_week": busiest.isoformat(),
            "busiest_week_h": round(hours, 1),
            "tasks": [_task(each) for each in self.tasks],
            "weeks": list(self._weeks()),
            "working": steps_to_json(self.working),
        }

    def _weeks(self):
        for at, hours in enumerate(self.weeks.T):
            yield {
                "begins": (self.first_week + at * WEEK).isoformat(),
                "hours_h": round(float(hours.sum()), 1),
                **{
                    f"{each.task}_h": round(float(n), 1)
                    for each, n in zip(self.tasks, hours, strict=True)
                },
            }


def labour_need(question):
    """The `LabourNeed` of a `NeedQuestion`."""
    _check(question)
    tasks = tuple(_tasks(question))
    first = min(each.begins for each in tasks)
    first -= first.weekday() * DAY
    last = max(each.ends for each in tasks)
    weeks = by_week(
        [each.likely for each in tasks],
        [(each.begins - first).days for each in tasks],
        [(each.ends + DAY - first).days for each in tasks],
        math.ceil(((last - first).days + 1) / 7),
    )
    return LabourNeed(question, tasks, first, weeks)


def _check(question):
    AREA.check(question.area)
    for task, harvests in question.own.items():
        for hours in harvests:
            # Written so that NaN is refused too.
            if not 0 <= hours <= MOST_HOURS:
                raise OutOfRange(
                    "{hours:g} hours an hectare of {task} can't be right; it should be "
                    "from 0 to {most:,}.",
                    hours=hours,
                    task=say(CALLED[task]),
                    most=MOST_HOURS,
                )


def _tasks(question):
    for task in TASKS:
        area, days = question.area, _days(task, question)
        if task == "sowing":
            area = sum(crop.area for crop in question.crops if crop.day is None)
        if not area:
            continue
        hours, harvests = _hours(task, area, question.own.get(task, ()))
        yield TaskNeed(
            task, hours, _likely(hours, harvests, area), *days, len(harvests)
        )


def _hours(task, area, own):
    """Fewest and most hours of a task, and one's own harvests that told them."""
    own = tuple(each for each in own if each > 0)
    if own:
        return Band(area * min(own), area * max(own)), own
    return _by_tables(task, area), ()


def _likely(hours, own, area):
    if own:
        return area * sum(own) / len(own)
    return sum(hours) / 2


def _by_tables(task, area):
    if task in ("sowing", "weeding"):
        return Band(*(area * each for each in getattr(hours_per_hectare(), task)))
    if task == "threshing":
        return _drum(area)
    hands = work_rates().binder.hands
    day = work_day(WorkQuestion(area, hands, DISTANCE))
    if task == "cutting":
        at_binder = day.field.binder_hours * day.binder.hands
        return Band(*(at_binder + each for each in day.field.stook_hours))
    cart = day.cartage
    return Band(*(h * n for h, n in zip(cart.hours, cart.crew, strict=True)))


def _drum(area):
    day, hours = threshing().drum_day, work_rates().day.hand_hours
    tonnes = _reed(area)
    # The more hands, the more reed a day: few at a quick drum are no crew at all.
    ends = (crew / reed for crew, reed in zip(day.crew, day.reed_a_day, strict=True))
    return Band(*sorted(tonnes * each * hours for each in ends))


def _reed(area):
    """That the tables' crop gives. [t]"""
    reed = float(np.mean(outturns.usual_shares(combed=True)["reed"]))
    return area * sheaves().crop_kg_per_ha / 1000 * reed


def _likely_by_tables(*tasks):
    """[h/ha]"""
    return sum(_likely(_by_tables(task, 1.0), (), 1.0) for task in tasks)


def _days(task, question):
    """First and last day of a task."""
    month, day, last_month, last_day = getattr(task_days(), task)
    year = question.harvest_year - (task == "sowing")
    begins = datetime.date(year, month, day)
    # What begins in autumn ends after New Year.
    ends = datetime.date(year + (last_month < month), last_month, last_day)
    if question.cut_from and task in ("cutting", "carting"):
        moved = question.cut_from - _days("cutting", _unmoved(question))[0]
        return begins + moved, ends + moved
    return begins, ends


def _unmoved(question):
    return dataclasses.replace(question, cut_from=None)


def _hands(hours):
    """Of a week's hours, at six days of work."""
    n = math.ceil(hours / (6 * work_rates().day.hand_hours))
    return say_n("{n} hand", "{n} hands", n)


def _own(need):
    low, high = need.hours
    return say_n(
        "{task}: {likely:,.0f} hours ({low:,.0f} to {high:,.0f}), as in {n} harvest of "
        "your own.",
        "{task}: {likely:,.0f} hours ({low:,.0f} to {high:,.0f}), as in {n} harvests "
        "of your own.",
        need.harvests,
        task=capital(say(CALLED[need.task])),
        likely=need.likely,
        low=low,
        high=high,
    )


def _of_tables(need, area):
    low, high = need.hours
    says = say(
        "{task}: {low:,.0f} to {high:,.0f} hours, by the tables.",
        task=capital(say(CALLED[need.task])),
        low=low,
        high=high,
    )
    return step_from_rows(says, *_rows(need.task))


def _rows(task):
    rates = shipped("work_rates")
    if task in ("sowing", "weeding"):
        return (shipped("labour")["hours"][task],)
    if task == "threshing":
        drum, crop = shipped("threshing")["drum_day"], shipped("sheaves")["sheaves"]
        return drum["reed_a_day"], drum["crew"], crop["crop_kg_per_ha"]
    if task == "cutting":
        return rates["binder"]["speed"], rates["stooking"]["area_a_day"]
    return rates["carting"]["sheaves_an_hour"], rates["carting"]["pitchers"]


def _task(need):
    low, high = need.hours
    return {
        "task": need.task,
        "hours_h": round(need.likely, 1),
        "hours_h_low": round(low, 1),
        "hours_h_high": round(high, 1),
        "begins": need.begins.isoformat(),
        "ends": need.ends.isoformat(),
        "own_harvests": need.harvests,
    }
