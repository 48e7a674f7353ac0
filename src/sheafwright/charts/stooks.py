"""Drying stooks in one picture: moisture, the chance that they are fit, the rain."""

from sheafwright.charts.days import day_axis
from sheafwright.charts.theme import (
    FAINT,
    INK,
    PALE_RAIN,
    PALE_STRAW,
    PAPER,
    RAIN,
    SIZE,
    STRAW,
    WIDTH,
    heading,
    styled,
    title_if,
)
from sheafwright.feeds.telling import family, mark, say
from sheafwright.feeds.units import in_unit

MOISTURE_HEIGHT, CHANCE_HEIGHT, RAIN_HEIGHT = 150, 80, 60
"""[px]"""
MOISTURE = {
    "grain": mark("Moisture of the grain (band: 8 chances in 10)"),
    "straw": mark("Moisture of the straw (band: 8 chances in 10)"),
}
RAIN_IN = {
    "metric": ("mm", mark("Rain in mm; paler: to be expected")),
    "imperial": ("in", mark("Rain in inches; paler: to be expected")),
}
"""Unit by family, and what stands above it."""


def stooks_chart(answer, titled=True):
    """The chart of one field's stooks.

    Parameters
    ----------
    answer : sheafwright.answers.stooks.StooksAnswer
    titled : bool
        Whether the answer stands above it; a page shows it already.
    """
    import altair as alt

    said = answer.to_json()
    panels = [_moisture(said, "grain"), _moisture(said, "straw")]
    panels += [_chance(said), _rain(said)]
    title = title_if(titled, said["sentence"])
    return styled(alt.vconcat(*panels, spacing=22, **title))


def _moisture(said, what):
    """Moisture with its band, the readings, and the limit to carry."""
    import altair as alt

    days, column = said["moisture_by_day"], f"{what}_moisture_{{}}_share"
    x, y = day_axis(days, axis=None), _share_axis(said, what)
    base = alt.Chart(alt.Data(values=days)).encode(x=x)
    low, middle, high = (f"{column.format(at)}:Q" for at in ("p10", "p50", "p90"))
    band = base.mark_area(color=PALE_STRAW, opacity=0.7)
    line = base.mark_line(color=STRAW, strokeWidth=3)
    return alt.layer(
        band.encode(y=alt.Y(low, **y), y2=high),
        _limit(said, what, y),
        line.encode(y=alt.Y(middle, **y)),
        *_today(said),
        *_readings(said, what, x, y),
    ).properties(
        width=WIDTH,
        height=MOISTURE_HEIGHT,
        title=heading(say(MOISTURE[what])),
    )


def _share_axis(said, what):
    """One scale for both, so that grain and straw can be held side by side."""
    import altair as alt

    names = [f"{each}_moisture_p90_share" for each in ("grain", "straw")]
    highest = [day[name] for day in said["moisture_by_day"] for name in names]
    read = [reading[f"{what}_moisture_share"] or 0 for reading in said["readings"]]
    return {
        "scale": alt.Scale(domain=[0.1, max(*highest, *read, 0.3)], nice=False),
        "axis": alt.Axis(format="%", tickCount=4, title=None, domain=False),
    }


def _limit(said, what, y):
    """The moisture at which it may be carried."""
    import altair as alt

    limit = said["limit_moisture_share"][what]
    says = say("carry at {limit:.0%}", limit=limit)
    data = alt.Data(values=[{"limit": limit, "says": says}])
    base = alt.Chart(data).encode(y=alt.Y("limit:Q", **y))
    return alt.layer(
        base.mark_rule(color=INK, strokeDash=[6, 4]),
        base.mark_text(
            align="left", baseline="top", dx=4, dy=5, fontSize=SIZE - 1, color=INK
        ).encode(x=alt.value(0), text="says:N"),
    )


def _readings(said, what, x, y):
    """What the meter found."""
    import altair as alt

    column = f"{what}_moisture_share"
    read = [each for each in said["readings"] if each[column] is not None]
    if not read:
        return []
    points = alt.Chart(alt.Data(values=read)).mark_point(
        size=90, filled=True, color=INK, opacity=1, stroke=PAPER
    )
    return [points.encode(x=x, y=alt.Y(f"{column}:Q", **y))]


def _today(said):
    """Where what is known ends."""
    import altair as alt

    if said["as_of"] == said["cut"]:
        return []
    data = alt.Data(values=[{"date": said["as_of"], "says": say("today")}])
    base = alt.Chart(data).encode(x=day_axis(said["moisture_by_day"], axis=None))
    return [
        base.mark_rule(color=FAINT, strokeDash=[2, 4]),
        base.mark_text(
            align="left", baseline="top", dx=5, dy=2, fontSize=SIZE - 1, color=FAINT
        ).encode(y=alt.value(0), text="says:N"),
    ]


def _chance(said):
    """Chance of having been fit by each day, and of being fit on it."""
    import altair as alt

    base = alt.Chart(alt.Data(values=said["carting_by_day"])).encode(
        x=day_axis(said["moisture_by_day"], axis=None)
    )
    y = {"axis": alt.Axis(format="%", values=[0, 0.5, 1], title=None, domain=False)}
    y["scale"] = alt.Scale(domain=[0, 1])
    return alt.layer(
        base.mark_bar(color=PALE_STRAW, width=_bar(said)).encode(
            y=alt.Y("chance_fit:Q", **y)
        ),
        base.mark_line(color=STRAW, strokeWidth=3).encode(
            y=alt.Y("chance_fit_by:Q", **y)
        ),
    ).properties(
        width=WIDTH,
        height=CHANCE_HEIGHT,
        title=heading(say("Chance fit to cart: by then, and that day (bars)")),
    )


def _rain(said):
    """Rain that fell, and paler what may be expected of possible summers."""
    import altair as alt

    unit, title = RAIN_IN[family()]
    days = [
        {**day, "rain": in_unit(day["rain_mm"], "depth", unit)}
        for day in said["moisture_by_day"]
    ]
    return (
        alt.Chart(alt.Data(values=days))
        .mark_bar(width=_bar(said))
        .encode(
            x=day_axis(
                days,
                axis=alt.Axis(format="%-d %b", title=None, grid=False, tickCount=6),
            ),
            y=alt.Y("rain:Q", axis=alt.Axis(tickCount=2, title=None, grid=False)),
            color=alt.condition("datum.known", alt.value(RAIN), alt.value(PALE_RAIN)),
        )
        .properties(
            width=WIDTH,
            height=RAIN_HEIGHT,
            title=heading(say(title)),
        )
    )


def _bar(said):
    return WIDTH / len(said["moisture_by_day"]) * 0.7
