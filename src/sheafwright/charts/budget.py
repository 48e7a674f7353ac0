"""A crop's money drawn: what each use of the field leaves, and cash by the month."""

import numpy as np

from sheafwright.answers.bands import banded
from sheafwright.answers.budget_wording import SHORT_MONTHS, SHORT_USES
from sheafwright.answers.prices import ACRE
from sheafwright.charts.theme import (
    FAINT,
    INK,
    LINE,
    PALE_STRAW,
    RAIN,
    STRAW,
    WIDTH,
    heading,
    styled,
    title_if,
)
from sheafwright.feeds.telling import by_family, family, say

ROW_HEIGHT = 34
CASH_HEIGHT = 170
"""[px]"""
NAMES_WIDTH = 150
"""That the names of the uses take of the plot. [px]"""
EVERY = 6
"""Months between those that are named."""


def budget_chart(answer, titled=True):
    """The chart of a budget.

    Parameters
    ----------
    answer : sheafwright.answers.budget.Budget
    titled : bool
        Whether the answer stands above it; a page shows it already.
    """
    import altair as alt

    title = title_if(titled, answer.sentence)
    return styled(alt.vconcat(_uses(answer), _cash(answer), spacing=24, **title))


def _uses(answer):
    """Bands of what is left, a row a use."""
    import altair as alt

    rows = list(_rows(answer))
    base = alt.Chart(alt.Data(values=rows)).encode(
        y=alt.Y(
            "says:N",
            sort=None,
            axis=alt.Axis(
                title=None, domain=False, ticks=False, labelLimit=NAMES_WIDTH
            ),
        )
    )
    axis = alt.Axis(title=None, tickCount=5, domain=False)
    colour = alt.Color("colour:N", scale=None)
    band = base.mark_bar(height=16).encode(
        x=alt.X("p10:Q", axis=axis), x2="p90", color=colour
    )
    middle = base.mark_tick(color=INK, thickness=3, height=22).encode(x="p50:Q")
    nothing = alt.Chart(alt.Data(values=[{"at": 0}])).mark_rule(color=FAINT)
    return alt.layer(band, middle, nothing.encode(x="at:Q")).properties(
        width=WIDTH - NAMES_WIDTH,
        height=ROW_HEIGHT * len(rows),
        title=heading(
            by_family(
                say("Left in £/ha, 8 years in 10"),
                say("Left in £/acre, 8 years in 10"),
            )
        ),
    )


def _rows(answer):
    ours = answer.drawn.margin / answer.area
    named = [(say("tall wheat"), ours, STRAW)]
    named += [(say(SHORT_USES[x.name]), x.margins, PALE_STRAW) for x in answer.uses]
    by = 1 if family() == "metric" else ACRE
    for says, margins, colour in named:
        yield {"says": says, "colour": colour, **banded(by * np.asarray(margins))}


def _cash(answer):
    """What is in hand or out after each month."""
    import altair as alt

    rows = [
        {"at": at, "balance": each.balance, "says": _month(at, each)}
        for at, each in enumerate(answer.months)
    ]
    names = [row["says"] for row in rows]
    base = alt.Chart(alt.Data(values=rows)).encode(
        x=alt.X(
            "says:N",
            sort=names,
            axis=alt.Axis(
                title=None,
                labelAngle=0,
                ticks=False,
                domain=False,
                values=names[::EVERY],
            ),
        )
    )
    axis = alt.Axis(title=None, tickCount=5, domain=False)
    bars = base.mark_bar().encode(
        y=alt.Y("balance:Q", axis=axis),
        color=alt.condition("datum.balance < 0", alt.value(RAIN), alt.value(STRAW)),
    )
    nothing = alt.Chart(alt.Data(values=[{"at": 0}])).mark_rule(color=LINE)
    return alt.layer(nothing.encode(y="at:Q"), bars).properties(
        width=WIDTH - NAMES_WIDTH,
        height=CASH_HEIGHT,
        title=heading(say("Cash in £ after each month")),
    )


def _month(at, month):
    return say(SHORT_MONTHS[month.month - 1], year=f"{month.year % 100:02d}")
