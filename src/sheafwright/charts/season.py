"""A field's season in one picture: its year, what each day is worth, and the rain."""

import datetime

from sheafwright.charts.days import date_of, day_axis, short
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
from sheafwright.feeds.telling import mark, say

YEAR = {
    "ear_out": mark("in ear"),
    "flowering": mark("in flower"),
    "soft_dough": mark("soft dough"),
    "hard_dough": mark("hard dough"),
}
"""Stages of the field's year after sowing, and their short names."""
WORTH_HEIGHT, RAIN_HEIGHT, YEAR_HEIGHT = 220, 60, 60
"""[px]"""


def season_chart(outlooks, names=None, titled=True):
    """The chart of one field, or of some one below the other.

    Parameters
    ----------
    outlooks : iterable of sheafwright.answers.outlook.Outlook
    names : iterable of str, optional
        The fields' names.
    titled : bool
        Whether the answer and the year stand above it; a page shows them already.
    """
    import altair as alt

    answers = [answer.to_json() for answer in outlooks]
    named = zip(answers, names or [""] * len(answers), strict=True)
    fields = [_field(said, name, titled) for said, name in named]
    return styled(alt.vconcat(*fields, spacing=48))


def _field(said, name, titled):
    import altair as alt

    days = len(said["by_cutting_day"]) > 1
    panels = [_worth(said), _rain(said)] if days else []
    if titled or not days:
        panels.insert(0, _year(said))
    title = title_if(titled, said["sentence"], name)
    return alt.vconcat(*panels, spacing=22, **title)


def _year(said):
    """The field's year: a dot a stage, filled when it is past."""
    import altair as alt

    dots = [
        {"place": 0, "name": say("sown"), "when": short(said["sown"]), "past": True}
    ]
    for place, (stage, name) in enumerate(YEAR.items(), 1):
        dates = said["stages"][stage]
        past = bool(dates["p50"]) and dates["p50"] <= said["as_of"]
        dot = {"place": place, "name": say(name), "when": _when(dates), "past": past}
        dots.append(dot)
    reached = max(dot["place"] for dot in dots if dot["past"])
    x = alt.X("place:Q", axis=None, scale=alt.Scale(domain=[-0.35, len(YEAR) + 0.35]))
    base = alt.Chart(alt.Data(values=dots)).encode(x=x)
    past = alt.condition("datum.past", alt.value(STRAW), alt.value(PAPER))
    labels = {"baseline": "top", "fontSize": SIZE}
    return alt.layer(
        _line(x, reached, len(YEAR)).mark_rule(
            color=STRAW, strokeWidth=3, strokeDash=[2, 5], opacity=0.6
        ),
        _line(x, 0, reached).mark_rule(color=STRAW, strokeWidth=4),
        base.mark_point(size=130, filled=True, opacity=1, stroke=FAINT).encode(
            color=past
        ),
        base.mark_text(dy=14, color=INK, **labels).encode(text="name:N"),
        base.mark_text(dy=33, color=FAINT, **labels).encode(text="when:N"),
    ).properties(width=WIDTH, height=YEAR_HEIGHT)


def _line(x, first, last):
    import altair as alt

    ends = alt.Data(values=[{"place": first, "end": last}])
    return alt.Chart(ends).encode(x=x, x2="end:Q")


def _worth(said):
    """Worth by the day aimed for, with its band, the best day and where luck begins."""
    import altair as alt

    whole, written, title = _measure(said)
    days = [_in(whole, day) for day in said["by_cutting_day"]]
    y = {"axis": alt.Axis(**written, tickCount=4, title=None, domain=False)}
    y["scale"] = alt.Scale(domain=[0, whole])
    base = alt.Chart(alt.Data(values=days)).encode(x=day_axis(days, axis=None))
    band = base.mark_area(color=PALE_STRAW, opacity=0.7).encode(
        y=alt.Y("worth_p10:Q", **y), y2="worth_p90:Q"
    )
    middle = base.mark_line(color=STRAW, strokeWidth=3).encode(
        y=alt.Y("worth_mean:Q", **y)
    )
    marked = _in(whole, _marked(said))
    best = alt.Chart(alt.Data(values=[marked])).encode(
        x=day_axis(days, axis=None), y=alt.Y("worth_mean:Q", **y)
    )
    late = marked["date"] > days[len(days) // 2]["date"]
    label = best.mark_text(
        align="right" if late else "left",
        dx=-12 if late else 12,
        dy=-14,
        fontSize=SIZE + 1,
        fontWeight="bold",
        color=INK,
    ).encode(text="says:N")
    return alt.layer(
        band, middle, *_divide(said), best.mark_point(
            size=120, filled=True, color=INK, opacity=1
        ), label,
    ).properties(
        width=WIDTH,
        height=WORTH_HEIGHT,
        title=heading(title),
    )  # fmt: skip


def _measure(said):
    """What a perfect crop is worth, how that is written, and what it is called."""
    if said["perfect_crop_gbp"] is None:
        title = say("Share of a perfect crop, by the day aimed for")
        return 1, {"format": "%"}, title
    pounds = {"labelExpr": "'£' + format(datum.value, ',.0f')"}
    title = say("What it may bring, by the day aimed for")
    return said["perfect_crop_gbp"], pounds, title


def _in(whole, day):
    """A day with its worth said of the whole."""
    return {k: v * whole if k.startswith("worth") else v for k, v in day.items()}


def _marked(said):
    """The day to mark: today if that is the advice, or the best to aim for."""
    days = said["by_cutting_day"]
    if said["advice"]["action"] == "cut":
        best, says = days[0], mark("{day}: cut today")
    else:
        best = max(days, key=lambda day: day["worth_mean"])
        says = mark("{day}: best day to aim for")
    return best | {"says": say(says, day=short(best["date"]))}


def _divide(said):
    """Where the forecast ends and other summers begin."""
    import altair as alt

    days, last = said["by_cutting_day"], _foretold_to(said)
    if not (said["forecast_days"] and days[0]["date"] <= last < days[-1]["date"]):
        return []
    says = say("past the forecast: other summers")
    data = alt.Data(values=[{"date": last, "says": says}])
    base = alt.Chart(data).encode(x=day_axis(days, axis=None))
    return [
        base.mark_rule(color=FAINT, strokeDash=[2, 4]),
        base.mark_text(
            align="left", baseline="bottom", dx=6, fontSize=SIZE - 1, color=FAINT
        ).encode(y=alt.value(WORTH_HEIGHT - 6), text="says:N"),
    ]


def _foretold_to(said):
    """The last day that a forecast covers; today without one."""
    last = date_of(said["as_of"]) + datetime.timedelta(said["forecast_days"])
    return last.date().isoformat()


def _rain(said):
    """Chance that it is too wet to cut; paler beyond the forecast."""
    import altair as alt

    days = said["by_cutting_day"]
    bars = [day | {"foretold": day["date"] <= _foretold_to(said)} for day in days]
    colour = alt.condition("datum.foretold", alt.value(RAIN), alt.value(PALE_RAIN))
    return (
        alt.Chart(alt.Data(values=bars))
        .mark_bar(width=WIDTH / len(days) * 0.7)
        .encode(
            x=day_axis(
                days,
                axis=alt.Axis(format="%-d %b", title=None, grid=False, tickCount=6),
            ),
            y=alt.Y(
                "chance_of_rain:Q",
                scale=alt.Scale(domain=[0, 1]),
                axis=alt.Axis(format="%", values=[0, 1], title=None, grid=False),
            ),
            color=colour,
        )
        .properties(
            width=WIDTH,
            height=RAIN_HEIGHT,
            title=heading(say("Chance of a day too wet to cut")),
        )
    )


def _when(dates):
    """A stage's date, and the days it may lie to each side."""
    if not dates["p50"]:
        return say("not this year")
    likely = short(dates["p50"])
    if not dates["p10"] or not dates["p90"]:
        return say("{day} or later", day=likely)
    spread = (date_of(dates["p90"]) - date_of(dates["p10"])).days / 2
    if spread < 0.5:
        return likely
    return say("{day} ±{days:.0f}", day=likely, days=spread)
