"""The winter in one picture: days of each week fit for the comb, and their spoilers."""

from sheafwright.charts.days import short
from sheafwright.charts.theme import (
    FAINT,
    INK,
    PALE_RAIN,
    PALE_STRAW,
    RAIN,
    SIZE,
    STRAW,
    WIDTH,
    heading,
    styled,
    title_if,
)
from sheafwright.feeds.telling import mark, say

FIT_HEIGHT, SPOILED_HEIGHT = 150, 90
"""[px]"""
COLOURS = {"rain": RAIN, "damp": PALE_RAIN, "dry": PALE_STRAW, "frost": FAINT}
CALLED = {
    "rain": mark("rain"),
    "damp": mark("too damp"),
    "dry": mark("too dry"),
    "frost": mark("frost"),
}
EVERY = 4
"""Weeks from one label to the next."""


def comb_winter_chart(answer, titled=True):
    """The chart of a winter's fit days.

    Parameters
    ----------
    answer : sheafwright.answers.comb_winter.CombWinter
    titled : bool
        Whether the answer stands above it; a page shows it already.
    """
    import altair as alt

    said = answer.to_json()
    panels = (_fit(said), _spoiled(said))
    title = title_if(titled, said["sentence"])
    return styled(alt.vconcat(*panels, spacing=22, **title))


def _axis(said):
    """Weeks as names: a week is no moment on a line of time."""
    import altair as alt

    weeks = [short(each["begins"]) for each in said["weeks"]]
    axis = alt.Axis(
        title=None, labelAngle=0, values=weeks[::EVERY], grid=False, domain=False
    )
    return alt.X("week:N", sort=None, axis=axis, scale=alt.Scale(paddingInner=0.25))


def _fit(said):
    """Days likely fit, and between what they lie in 4 winters of 5."""
    import altair as alt

    weeks = [{**each, "week": short(each["begins"])} for each in said["weeks"]]
    base = alt.Chart(alt.Data(values=weeks)).encode(x=_axis(said))
    y = {
        "axis": alt.Axis(tickCount=5, title=None, domain=False, format="d"),
        "scale": alt.Scale(domain=[0, 7]),
    }
    band = base.mark_rule(color=INK, strokeWidth=2)
    return alt.layer(
        base.mark_bar(color=STRAW).encode(y=alt.Y("fit_d_mean:Q", **y)),
        band.encode(y=alt.Y("fit_d_p10:Q", **y), y2="fit_d_p90:Q"),
    ).properties(
        width=WIDTH,
        height=FIT_HEIGHT,
        title=heading(say("Fit days of each week (line: 4 winters in 5)")),
    )


def _spoiled(said):
    """Share of each week's days that each thing spoils."""
    import altair as alt

    shares = [
        {
            "week": short(each["begins"]),
            "what": say(CALLED[name]),
            "share": each[f"{name}_share"],
        }
        for each in said["weeks"]
        for name in COLOURS
    ]
    names = [say(CALLED[name]) for name in COLOURS]
    colour = alt.Color(
        "what:N",
        sort=None,
        scale=alt.Scale(domain=names, range=list(COLOURS.values())),
        legend=alt.Legend(
            title=None, orient="bottom", symbolType="square", labelFontSize=SIZE
        ),
    )
    y = alt.Y(
        "share:Q",
        stack=True,
        axis=alt.Axis(format="%", tickCount=3, title=None, domain=False),
    )
    return (
        alt.Chart(alt.Data(values=shares))
        .mark_bar()
        .encode(x=_axis(said), y=y, color=colour)
        .properties(
            width=WIDTH,
            height=SPOILED_HEIGHT,
            title=heading(say("Days that are spoiled, and by what")),
        )
    )
