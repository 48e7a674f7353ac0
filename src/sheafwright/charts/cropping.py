"""A rotation drawn: fields down, years across, a crop in each."""

from sheafwright.answers.cropping_wording import SHORT
from sheafwright.charts.theme import (
    FAINT,
    INK,
    PALE_STRAW,
    PAPER,
    SIZE,
    STRAW,
    WIDTH,
    styled,
    title_if,
)
from sheafwright.feeds.telling import say, told

ROW_HEIGHT = 34
"""[px]"""
COLOURS = {
    "autumn_wheat": STRAW,
    "late_wheat": "#e0b95c",
    "oats": PALE_STRAW,
    "roots": "#d8c3b0",
    "ley": "#b9cba4",
    "grass": "#dbe3cf",
}
MOST_LETTERED = 6
"""Years up to which a crop is written out; more are lettered."""


def cropping_chart(answer, titled=True):
    """The chart of a plan.

    Parameters
    ----------
    answer : sheafwright.answers.cropping.CroppingAnswer
    titled : bool
        Whether the answer stands above it; a page shows it already.
    """
    import altair as alt

    said = answer.to_json()
    base = alt.Chart(alt.Data(values=list(_cells(said)))).encode(
        x=alt.X("year:O", axis=alt.Axis(title=None, orient="top", labelAngle=0)),
        y=alt.Y("field:N", sort=None, axis=alt.Axis(title=None, domain=False)),
    )
    kinds = list(COLOURS)
    colours = alt.Scale(domain=kinds, range=list(COLOURS.values()))
    squares = base.mark_rect(stroke=PAPER, strokeWidth=3).encode(
        color=alt.Color("crop:N", scale=colours, legend=None)
    )
    text = base.mark_text(color=INK, fontSize=SIZE - 4).encode(text="says:N")
    pinned = base.mark_rect(fill=None, stroke=INK, strokeWidth=2).transform_filter(
        "datum.pinned"
    )
    chart = alt.layer(squares, text, pinned).properties(
        width=WIDTH,
        height=ROW_HEIGHT * len(said["fields"]),
        title=alt.TitleParams(
            text=say("What grows where"),
            subtitle=say("outlined: pinned by you") if said["pins"] else "",
            subtitleColor=FAINT,
        ),
    )
    title = title_if(titled, said["sentence"])
    return styled(alt.vconcat(chart, **title))


def _cells(said):
    short = len(said["years"]) > MOST_LETTERED
    for field in said["fields"]:
        for year in field["years"]:
            says = told(SHORT[year["crop"]])
            yield {
                "field": field["field"],
                "year": year["year"],
                "crop": year["crop"],
                "pinned": year["pinned"],
                "says": says[0].upper() if short else says,
            }
