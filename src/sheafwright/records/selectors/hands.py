"""Who there is, what they may do, and on which half-days they can come."""

import dataclasses
import datetime
from typing import NamedTuple

from sheafwright.records.clock import today
from sheafwright.records.models import Briefing, Coming, Hand, HandTasks
from sheafwright.records.models.hands import Half

WEEK = 7
BINDING, STOOKING, CARTING, THRESHING = "binding", "stooking", "carting", "threshing"
FLAGS = {
    BINDING: "may_bind",
    STOOKING: "may_stook",
    CARTING: "may_cart",
    THRESHING: "may_thresh",
}
"""Name of a task, as the plan of a crew knows it, to what allows it."""


class HalfDay(NamedTuple):
    """A morning or an afternoon of one day; they sort as they come."""

    date: datetime.date
    half: str
    """One of `Half`."""

    @property
    def name(self):
        return f"{self.date:%Y-%m-%d} {self.half}"

    @property
    def label(self):
        return Half(self.half).label


@dataclasses.dataclass(frozen=True)
class HandNow:
    """A hand, and the tasks that they may be given."""

    hand: Hand
    may: frozenset[str]
    """Keys of `FLAGS`."""

    @property
    def name(self):
        return self.hand.name

    @property
    def flags(self):
        """Names of the fields that say so."""
        return [flag for task, flag in FLAGS.items() if task in self.may]

    @property
    def farm(self):
        return self.hand.farm


@dataclasses.dataclass(frozen=True)
class WhoComes:
    """One half-day, and what each hand said of it."""

    half_day: HalfDay
    comes: tuple[HandNow, ...]
    away: tuple[HandNow, ...]
    unsaid: tuple[HandNow, ...]
    """Those who said nothing of it."""

    def who_may(self, task):
        return tuple(each for each in self.comes if task in each.may)


def hands_now(*, holding, day=None):
    """Those who still come, by name, with what they may do on a day."""
    day, told = day or today(holding), {}
    for each in HandTasks.objects.filter(holding=holding, since__lte=day):
        told[each.hand_id] = each
    return tuple(
        HandNow(hand, _may(told.get(hand.pk, hand)))
        for hand in Hand.objects.filter(holding=holding)
        if not getattr(told.get(hand.pk), "gone", False)
    )


def half_days(begins, days=WEEK):
    """The half-days of so many days, in order."""
    dates = (begins + datetime.timedelta(days=n) for n in range(days))
    # By name a morning would come after an afternoon.
    return tuple(HalfDay(date, half) for date in dates for half in Half.values)


def who_comes(*, holding, begins=None, days=WEEK):
    """`WhoComes` of each half-day from a day on, today if none is named."""
    begins = begins or today(holding)
    hands, said = hands_now(holding=holding), _said(holding, begins, days)
    return tuple(
        WhoComes(
            half_day,
            *(
                tuple(h for h in hands if said.get((half_day, h.hand.pk)) is can)
                for can in (True, False, None)
            ),
        )
        for half_day in half_days(begins, days)
    )


def briefed(*, holding, year=None):
    """Pairs of hand and machine, by key, with a briefing signed in a year."""
    year = year or today(holding).year
    found = Briefing.objects.filter(holding=holding, signed=True, date__year=year)
    return frozenset(found.values_list("hand_id", "machine_id"))


def _may(told):
    return frozenset(task for task, flag in FLAGS.items() if getattr(told, flag))


def _said(holding, begins, days):
    """Half-day and hand to whether they can come: of two words the later counts."""
    said, asked = {}, half_days(begins, days)
    ends = begins + datetime.timedelta(days=days)
    for word in Coming.objects.filter(holding=holding, date__lt=ends):
        last = word.until or word.date
        for half_day in asked:
            of_it = word.when in (Coming.When.DAY, half_day.half)
            if of_it and word.date <= half_day.date <= last:
                said[half_day, word.hand_id] = word.can_come
    return said
