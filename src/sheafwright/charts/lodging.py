"""Will it stand, in one picture: what lies by each day, and what would change it."""

from sheafwright.charts.days import day_axis
from sheafwright.charts.theme import (
    FAINT,
    INK,
    PALE_STRAW,
    SIZE,
    STRAW,
    WIDTH,
    heading,
    styled,
    title_if,
)
from sheafwright.feeds.telling import say

SHARE_HEIGHT, BAR_STEP, BAR, LIFT = 180, 40, 8, -6
"""[px]"""


def lodging_chart(answer, titled=True):
    """The chart of one crop.

    Parameters
    ----------
    answer : sheafwright.answers.lodging.LodgingAnswer
    titled : bool
        Whether the answer stands above it; a page shows it already.
    """
    import altair as alt

    said = answer.to_json()
    title = title_if(titled, said["sentence"])
    return styled(alt.vconcat(_shares(said), _changes(said), spacing=26, **title))


def _shares(said):
    """Share that lies by each day with its band, and its mean."""
    import altair as alt

    days = said["by_date"]
    x = day_axis(
        days, axis=alt.Axis(format="%-d %b", title=None, grid=False, tickCount=5)
    )
    y = {
        "scale": alt.Scale(domain=[0, 1]),
        "axis": alt.Axis(format="%", values=[0, 0.5, 1], title=None, domain=False),
    }
    base = alt.Chart(alt.Data(values=days)).encode(x=x)
    band = base.mark_area(color=PALE_STRAW, opacity=0.7)
    line = base.mark_line(color=STRAW, strokeWidth=3)
    return alt.layer(
        band.encode(y=alt.Y("share_lodged_p10:Q", **y), y2="share_lodged_p90:Q"),
        line.encode(y=alt.Y("share_lodged_mean:Q", **y)),
    ).properties(
        width=WIDTH,
        height=SHARE_HEIGHT,
        title=heading(say("Lies by then: on average, and 8 chances in 10")),
    )


def _changes(said):
    """Chance that more than a tenth lies, as asked and changed."""
    import altair as alt

    from sheafwright.answers.lodging_working import change_named

    beside = said["against_reference"]
    settled = [each for each in said["changes"] if each["settled"]]
    bars = [said | {"name": say("as asked")}, beside | {"name": beside["called"]}]
    bars += [each | {"name": change_named(each)} for each in settled]
    rows = [{n: bar[n] for n in ("name", "chance_over_tenth")} for bar in bars]
    rows[0]["asked"] = True
    names = [row["name"] for row in rows]
    base = alt.Chart(alt.Data(values=rows)).encode(
        # Names stand above the bars: beside them a phone has no room.
        y=alt.Y("name:N", sort=names, axis=None),
        x=alt.X(
            "chance_over_tenth:Q",
            scale=alt.Scale(domain=[0, 1]),
            axis=alt.Axis(format="%", values=[0, 0.5, 1], title=None, domain=False),
        ),
    )
    colour = alt.condition("datum.asked", alt.value(STRAW), alt.value(PALE_STRAW))
    label = base.mark_text(align="left", dy=LIFT, fontSize=SIZE, color=INK)
    chance = base.mark_text(align="right", dy=LIFT, fontSize=SIZE, color=FAINT)
    return alt.layer(
        base.mark_bar(height=BAR, yOffset=BAR).encode(color=colour),
        label.encode(x=alt.value(0), text="name:N"),
        chance.encode(
            x=alt.value(WIDTH), text=alt.Text("chance_over_tenth:Q", format=".0%")
        ),
    ).properties(
        width=WIDTH,
        height=BAR_STEP * len(rows),
        title=heading(say("Chance that more than a tenth lies by cutting")),
    )
