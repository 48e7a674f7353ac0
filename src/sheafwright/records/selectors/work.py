"""Hours worked, and who owes whom."""

import collections
import dataclasses

from django.db.models import Q, Sum

from sheafwright.records.models import Hand, Labour
from sheafwright.records.selectors.names import name_key


@dataclasses.dataclass(frozen=True)
class HoursOwed:
    """Between this holding and one neighbour, when all is set against all."""

    who: str
    hours: float
    """That they owe us; less than nothing if we owe them."""


def hours_owed(*, holding):
    """The neighbours with whom it is not even, by name."""
    owed = (
        Labour.objects.filter(holding=holding)
        .values_list("who")
        .annotate(
            to_us=Sum("hours", filter=Q(owed=Labour.Owed.TO_US), default=0.0),
            to_them=Sum("hours", filter=Q(owed=Labour.Owed.TO_THEM), default=0.0),
        )
    )
    net = collections.Counter()
    shown = {}
    for who, to_us, to_them in owed.order_by("who"):
        shown.setdefault(name_key(who), " ".join(who.split()))
        net[name_key(who)] += to_us - to_them
    return tuple(
        HoursOwed(shown[key], round(hours, 2))
        for key, hours in sorted(net.items())
        if round(hours, 2)
    )


@dataclasses.dataclass(frozen=True)
class OwedBothWays:
    """Between this holding and one neighbour's farm, each way by itself. [h]"""

    who: str
    to_us: float
    to_them: float


def owed_both_ways(*, holding):
    """Hours worked for each other, by neighbour: those of one farm are put together."""
    farms = {
        name_key(hand.name): hand.farm
        for hand in Hand.objects.filter(holding=holding).exclude(farm="")
    }
    hours, shown = collections.defaultdict(collections.Counter), {}
    owed = Labour.objects.filter(holding=holding).exclude(owed=Labour.Owed.NONE)
    for each in owed.order_by("who"):
        who = farms.get(name_key(each.who), " ".join(each.who.split()))
        shown.setdefault(name_key(who), who)
        hours[name_key(who)][each.owed] += each.hours
    return tuple(
        OwedBothWays(
            shown[key], hours[key][Labour.Owed.TO_US], hours[key][Labour.Owed.TO_THEM]
        )
        for key in sorted(hours)
    )
