"""A plain CSV of ensemble members, a line for each member's day.

Columns ``date``, ``member``, ``rain_mm`` and, both or neither, ``tmin_c`` and
``tmax_c``. Every member needs the same days, without a gap.
"""

import datetime
from collections import defaultdict

import numpy as np

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds import plain_csv
from sheafwright.feeds.forecast.daily import Forecast
from sheafwright.feeds.telling import say

NEEDED = ("date", "member", "rain_mm")
TEMPERATURES = ("tmin_c", "tmax_c")
ONE_DAY = datetime.timedelta(days=1)


def parse(content, where):
    """The forecast in a file's bytes; ``where`` is its name."""
    lines = plain_csv.rows(content, where, NEEDED, TEMPERATURES)
    if not lines:
        raise UnreadableInput(
            "{where} names its columns but holds no day.", where=where
        )
    warmth = [name for name in TEMPERATURES if name in lines[0].cells]
    if len(warmth) == 1:
        raise UnreadableInput(
            "{where}, line 1: tmin_c and tmax_c should come together, or neither.",
            where=where,
        )
    days, values = _by_member(_members(lines, warmth), where)
    rain, *temperatures = np.moveaxis(values, -1, 0)
    tmin, tmax = temperatures or (None, None)
    # Nothing in the file says when it was issued; its first day has a lead of one.
    return Forecast(days[0] - ONE_DAY, days[0], rain, tmin, tmax, where)


def _members(lines, warmth):
    """{member: {date: (rain[, tmin, tmax])}}."""
    members = defaultdict(dict)
    for line in lines:
        date = line.required("date", line.date("date"))
        days = members[line.required("member", line.text("member"))]
        if date in days:
            raise line.refusal("date", say("given once for each member"))
        days[date] = _values(line, warmth)
    return members


def _values(line, warmth):
    rain = line.required("rain_mm", line.rain())
    if not warmth:
        return (rain,)
    tmin, tmax = line.temperatures()
    return rain, line.required("tmin_c", tmin), line.required("tmax_c", tmax)


def _by_member(members, where):
    """The days in order, and an array of shape (member, lead_day, variable)."""
    days = sorted(set().union(*members.values()))
    whole = [days[0] + n * ONE_DAY for n in range(len(days))]
    for name, given in members.items():
        # Against the unbroken run, so that a gap shared by all is found too.
        absent = next((day for day in whole if day not in given), None)
        if absent:
            raise UnreadableInput(
                "{where}: member {name} lacks {absent}; every member should have the "
                "same days, without a gap.",
                where=where,
                name=repr(name[:40]),
                absent=str(absent),
            )
    return days, np.array([[given[day] for day in days] for given in members.values()])
