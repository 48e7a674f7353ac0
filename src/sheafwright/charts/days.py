"""Days along a chart: their axis, and how a date is written there."""

import datetime

from sheafwright.feeds.telling import mark, say

MONTHS = (
    mark("Jan"),
    mark("Feb"),
    mark("Mar"),
    mark("Apr"),
    mark("May"),
    mark("Jun"),
    mark("Jul"),
    mark("Aug"),
    mark("Sep"),
    mark("Oct"),
    mark("Nov"),
    mark("Dec"),
)


def day_axis(days, axis):
    """The axis of days, with half a day's room at each end.

    Parameters
    ----------
    days : sequence of mapping
        Each with its ``date``; the first and the last are the ends.
    axis : altair.Axis or None
    """
    import altair as alt

    half = datetime.timedelta(hours=12)
    ends = [date_of(days[0]["date"]) - half, date_of(days[-1]["date"]) + half]
    # Text is read as local time, and local time is what is drawn.
    domain = [
        alt.DateTime(year=e.year, month=e.month, date=e.day, hours=e.hour) for e in ends
    ]
    return alt.X(
        "date:T", timeUnit="yearmonthdatehours", scale=alt.Scale(domain=domain),
        axis=axis,
    )  # fmt: skip


def date_of(text):
    """The date that a text such as 2025-08-07 is."""
    return datetime.datetime.fromisoformat(text)


def short(text):
    """A date of this season: 7 Aug."""
    date = date_of(text)
    return say("{day} {month}", day=date.day, month=say(MONTHS[date.month - 1]))
