"""A replay in one picture: every season by every policy, and chances against events."""

from sheafwright.charts.theme import (
    FAINT,
    INK,
    LINE,
    PALE_STRAW,
    RAIN,
    SIZE,
    STRAW,
    WIDTH,
    answered,
    heading,
    styled,
)
from sheafwright.feeds.telling import mark, say

NAMES = {
    "advice": mark("this advice"),
    "first_fit_day": mark("first fit day"),
    "wait_for_dry_days": mark("wait for dry days"),
    "ripeness_sign": mark("ripeness sign"),
    "fixed_date": mark("fixed date"),
    "foresight": mark("foresight"),
}
EVENTS = {
    "fit_week": mark("“The stooks come through a fit spell”"),
    "waiting_wins": mark("“Waiting brings more”"),
}
POLICIES_HEIGHT, CHANCES_HEIGHT = 190, 200
"""[px]"""


def replay_chart(answer):
    """The chart of a replay.

    Parameters
    ----------
    answer : sheafwright.answers.replay.Replay
    """
    import altair as alt

    said = answer.to_json()
    panels = [_policies(said), *(_chances(said, kind) for kind in EVENTS)]
    title = answered(said["sentence"])
    return styled(alt.vconcat(*panels, spacing=26, title=title))


def _policies(said):
    """A faint mark a season, and the mean."""
    import altair as alt

    names = {key: say(name) for key, name in NAMES.items()}
    seasons = [
        {"by": name, "worth": season["policies"][key]["worth"]}
        for season in said["seasons"]
        for key, name in names.items()
    ]
    means = [
        {"by": name, "worth": said["policies"][key]["mean"], "ours": key == "advice"}
        for key, name in names.items()
    ]
    y = alt.Y(
        "by:N",
        sort=list(names.values()),
        axis=alt.Axis(title=None, domain=False, ticks=False, labelLimit=200),
    )
    axis = alt.Axis(format="%", title=None, tickCount=5)
    x = alt.X("worth:Q", scale=alt.Scale(domain=[0, 1]), axis=axis)
    every = alt.Chart(alt.Data(values=seasons)).mark_tick(
        color=FAINT, opacity=0.22, thickness=2, size=16
    )
    mean = alt.Chart(alt.Data(values=means))
    colour = alt.condition("datum.ours", alt.value(STRAW), alt.value(INK))
    number = alt.Text("worth:Q", format=".0%")
    return alt.layer(
        every.encode(x=x, y=y),
        mean.mark_point(size=120, filled=True, opacity=1).encode(
            x=x, y=y, color=colour
        ),
        mean.mark_text(dy=-14, fontSize=SIZE - 1, color=INK).encode(
            x=x, y=y, text=number
        ),
    ).properties(
        width=WIDTH - 90,
        height=POLICIES_HEIGHT + 60,
        title=heading(say("Share of a perfect crop, season by season")),
    )


def _chances(said, kind):
    """Chances said against how often they came, in the band of 90 %."""
    import altair as alt

    bins = [each for each in said["reliability"] if each["of"] == kind]
    axis = alt.Axis(format="%", title=say("said"), tickCount=5, grid=False)
    x = alt.X("said:Q", scale=alt.Scale(domain=[0, 1]), axis=axis)
    up = {"scale": alt.Scale(domain=[0, 1])}
    up["axis"] = alt.Axis(format="%", title=say("came"), tickCount=5)
    base = alt.Chart(alt.Data(values=bins)).encode(x=x)
    level = alt.Data(values=[{"said": 0, "came": 0}, {"said": 1, "came": 1}])
    return alt.layer(
        alt.Chart(level)
        .mark_line(color=LINE, strokeWidth=2)
        .encode(x=x, y=alt.Y("came:Q", **up)),
        base.mark_rule(color=PALE_STRAW, strokeWidth=9).encode(
            y=alt.Y("low:Q", **up), y2="high:Q"
        ),
        base.mark_point(size=90, filled=True, opacity=1, color=RAIN).encode(
            y=alt.Y("came:Q", **up)
        ),
    ).properties(
        width=WIDTH - 60, height=CHANCES_HEIGHT, title=heading(say(EVENTS[kind]))
    )
