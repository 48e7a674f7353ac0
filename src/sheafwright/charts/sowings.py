"""Sowings side by side in one picture: when ripe, how they stand, what they bring."""

from sheafwright.charts.days import short
from sheafwright.charts.theme import (
    FAINT,
    INK,
    PALE_STRAW,
    RAIN,
    SIZE,
    STRAW,
    WIDTH,
    heading,
    styled,
    title_if,
)
from sheafwright.feeds.telling import by_family, family, mark, say
from sheafwright.feeds.units import from_unit

ROW = 24
"""Height that each date takes. [px]"""
LABELS = 90
"""Width that their names take. [px]"""
COLOURS = (STRAW, INK, RAIN, FAINT, PALE_STRAW)
"""Of the densities; the sixth takes the first again."""
COLD = {
    "safe": (mark("safe"), STRAW),
    "marginal": (mark("marginal"), RAIN),
    "at_risk": (mark("at risk"), INK),
}
"""What each status is called, and its colour."""


def sowings_chart(answer, titled=True):
    """The chart of sowings set side by side.

    Parameters
    ----------
    answer : sheafwright.answers.sowing_dates.SowingDates
    titled : bool
        Whether the answer stands above it; a page shows it already.
    """
    import altair as alt

    said = answer.to_json()
    rows = [row | {"date": _named(row["sown"])} for row in said["by_sowing"]]
    panels = [_ripe(rows), _share_of_years(rows, said["seasons"])]
    if said["lodging_known"]:
        panels.append(_by_density(rows, "lodged_share", "%", say("Share that lies")))
    panels.append(_by_density(_bringing(rows), "gbp", ",.0f", _brings()))
    title = title_if(titled, said["sentence"])
    made = alt.vconcat(*panels, spacing=26, **title)
    return styled(made.resolve_scale(color="independent"))


def _brings():
    return by_family(say("£ a hectare, over its seed"), say("£ an acre, over its seed"))


def _bringing(rows):
    """With what each brings of the reader's unit of area."""
    share = 1 if family() == "metric" else from_unit(1, "area", "acre")
    return [row | {"gbp": {"mean": row["gbp_per_ha"]["mean"] * share}} for row in rows]


def _named(sown):
    """A date of any year: 10 Oct."""
    return short(f"2000-{sown}")


def _down(rows):
    """The dates of sowing, one below another."""
    import altair as alt

    dates = list(dict.fromkeys(row["date"] for row in rows))
    axis = alt.Axis(title=None, domain=False, ticks=False)
    return alt.Y("date:N", scale=alt.Scale(domain=dates), axis=axis)


def _once(rows):
    """One row of each date: that of its first density."""
    return list({row["date"]: row for row in reversed(rows)}.values())


def _sized(chart, rows, title):
    height = ROW * len(_once(rows))
    return chart.properties(width=WIDTH - LABELS, height=height, title=heading(title))


def _ripe(rows):
    """When each is ripe, coloured by its cold."""
    import altair as alt

    ripe = [
        {
            "date": row["date"],
            "cold": say(COLD[row["vernalisation"]["status"]][0]),
            **{at: day and f"2001-{day}" for at, day in row["ripe_date"].items()},
        }
        for row in _once(rows)
        if row["ripe_date"]["p50"]
    ]
    # A crop that often never ripens has no late date: its band ends with the season.
    last = max(
        (day[at] for day in ripe for at in ("p50", "p90") if day[at]), default=""
    )
    ripe = [day | {"p90": day["p90"] or last} for day in ripe]
    names, colours = zip(*COLD.values(), strict=True)
    colour = alt.Color(
        "cold:N",
        scale=alt.Scale(domain=[say(name) for name in names], range=colours),
        legend=_legend(say("cold")),
    )
    axis = alt.Axis(format="%-d %b", title=None, tickCount=5)
    x = {"scale": alt.Scale(zero=False), "axis": axis}
    base = alt.Chart(alt.Data(values=ripe)).encode(y=_down(rows), color=colour)
    chart = alt.layer(
        _never(rows),
        base.mark_rule(strokeWidth=5, opacity=0.45).encode(
            x=alt.X("p10:T", **x), x2="p90:T"
        ),
        base.mark_point(size=90, filled=True, opacity=1).encode(x=alt.X("p50:T", **x)),
    )
    return _sized(chart, rows, say("Ripe (band: 8 years in 10)"))


def _never(rows):
    """Dates whose crop is likelier than not never ripe."""
    import altair as alt

    never = [{"date": r["date"]} for r in _once(rows) if not r["ripe_date"]["p50"]]
    base = alt.Chart(alt.Data(values=never)).encode(x=alt.value(0), y=_down(rows))
    return base.mark_text(
        text=say("likely never"), align="left", dx=5, fontSize=SIZE, color=INK
    )


def _legend(title):
    import altair as alt

    sizes = {"labelFontSize": SIZE, "titleFontSize": SIZE, "titleFontWeight": "normal"}
    colours = {"labelColor": INK, "titleColor": INK}
    return alt.Legend(
        title=title, orient="top", symbolOpacity=1, offset=4, **sizes, **colours
    )


def _share_of_years(rows, n_seasons):
    """In how many years the stooks had a fit week."""
    import altair as alt

    axis = alt.Axis(title=None, tickCount=4, tickMinStep=1)
    base = alt.Chart(alt.Data(values=_once(rows))).encode(
        x=alt.X(
            "fit_week_seasons:Q", scale=alt.Scale(domain=[0, n_seasons]), axis=axis
        ),
        y=_down(rows),
    )
    chart = alt.layer(
        base.mark_bar(color=PALE_STRAW),
        base.mark_text(align="left", dx=5, fontSize=SIZE, color=INK).encode(
            text="fit_week_seasons:Q"
        ),
    )
    title = say("Years of {seasons} with a fit week for the stooks", seasons=n_seasons)
    return _sized(chart, rows, title)


def _by_density(rows, column, number, title):
    """Means by date, a point to each density."""
    import altair as alt

    values = [
        {
            "date": row["date"],
            "plants": f"{row['plants_per_m2']:g}",
            "mean": row[column]["mean"],
        }
        for row in rows
    ]
    plants = list(dict.fromkeys(each["plants"] for each in values))
    colours = [COLOURS[n % len(COLOURS)] for n in range(len(plants))]
    colour = alt.Color(
        "plants:N",
        scale=alt.Scale(domain=plants, range=colours),
        legend=_legend(say("plants/m²")),
    )
    axis = alt.Axis(format=number, title=None, tickCount=5)
    chart = (
        alt.Chart(alt.Data(values=values))
        .mark_point(size=80, filled=True, opacity=0.9)
        .encode(
            x=alt.X("mean:Q", scale=alt.Scale(zero=False, nice=True), axis=axis),
            y=_down(rows),
            color=colour,
        )
    )
    return _sized(chart, rows, title)
