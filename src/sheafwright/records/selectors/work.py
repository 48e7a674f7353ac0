"""Hours worked, and who owes whom."""

import collections
import dataclasses

from django.db.models import Q, Sum

from sheafwright.records.models import Labour


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
    # A name is one name however its letters and spaces were typed.
    shown = {}
    for who, to_us, to_them in owed.order_by("who"):
        name = " ".join(who.split())
        shown.setdefault(name.casefold(), name)
        net[name.casefold()] += to_us - to_them
    return tuple(
        HoursOwed(shown[key], round(hours, 2))
        for key, hours in sorted(net.items())
        if round(hours, 2)
    )
