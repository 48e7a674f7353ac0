"""Straw by nitrogen in one picture: the field, and where straw stays sound."""

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

HEIGHT = 230
"""[px]"""


def expected_yield_chart(answer, titled=True):
    """The chart of what one field may give.

    Parameters
    ----------
    answer : sheafwright.answers.expected_yield.ExpectedYield
    titled : bool
        Whether the answer stands above it; a page shows it already.
    """
    import altair as alt

    said = answer.to_json()
    band, line = _straw(said)
    layers = (_too_rich(said), band, line, _field(said))
    panel = alt.layer(*layers).properties(
        width=WIDTH,
        height=HEIGHT,
        title=heading(say("Straw in t/ha, by nitrogen (band: 8 chances in 10)")),
    )
    title = title_if(titled, said["sentence"])
    return styled(alt.vconcat(panel, **title))


def _x(said, name="nitrogen_kg_per_ha"):
    import altair as alt

    supplies = [each["nitrogen_kg_per_ha"] for each in said["straw_by_nitrogen"]]
    ends = min(supplies), max(*supplies, said["nitrogen_high_kg_per_ha"])
    return alt.X(
        f"{name}:Q",
        scale=alt.Scale(domain=ends, nice=False),
        axis=alt.Axis(title=say("nitrogen, kg/ha"), grid=False, tickCount=6),
    )


def _straw(said):
    """The band and the middle of what may be expected."""
    import altair as alt

    rows = [
        {"nitrogen_kg_per_ha": each["nitrogen_kg_per_ha"], **each["straw_t_per_ha"]}
        for each in said["straw_by_nitrogen"]
    ]
    base = alt.Chart(alt.Data(values=rows)).encode(x=_x(said))
    y = {"axis": alt.Axis(title=None, tickCount=5, domain=False)}
    return (
        base.mark_area(color=PALE_STRAW, opacity=0.7).encode(
            y=alt.Y("p10:Q", **y), y2="p90"
        ),
        base.mark_line(color=STRAW, strokeWidth=3).encode(y=alt.Y("p50:Q", **y)),
    )


def _too_rich(said):
    """Where straw no longer stays sound."""
    import altair as alt

    at = said["sound_up_to_kg_per_ha"]
    says = say("more: soft straw, lodging")
    base = alt.Chart(alt.Data(values=[{"at": at, "says": says}]))
    base = base.encode(x=_x(said, "at"))
    return alt.layer(
        base.mark_rule(color=FAINT, strokeDash=[6, 4]),
        base.mark_text(
            align="left", baseline="top", dx=6, dy=2, fontSize=SIZE - 1, color=INK
        ).encode(y=alt.value(0), text="says:N"),
    )


def _field(said):
    """The field's own supply, along the foot."""
    import altair as alt

    ends = {
        "low": said["nitrogen_low_kg_per_ha"],
        "high": said["nitrogen_high_kg_per_ha"],
        "says": say("this field"),
    }
    base = alt.Chart(alt.Data(values=[ends])).encode(
        x=_x(said, "high"), y=alt.value(HEIGHT - 6)
    )
    return alt.layer(
        base.mark_rule(color=INK, strokeWidth=5).encode(x2="low"),
        base.mark_text(
            align="right", baseline="bottom", dx=-4, dy=-6, fontSize=SIZE - 1, color=INK
        ).encode(text="says:N"),
    )
