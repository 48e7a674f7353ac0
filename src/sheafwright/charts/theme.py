"""How our charts look: ink on paper, straw for ours, blue for rain."""

import textwrap

from sheafwright.feeds.telling import first_sentence

INK, FAINT, PAPER = "#1d1b16", "#6b6557", "#fbf8f1"
STRAW, PALE_STRAW = "#c8962a", "#ecd9ae"
RAIN, PALE_RAIN = "#2f6690", "#a3bac8"
LINE = "#d9d2c0"
# Where a reader has none of the first faces, the last are always there.
SERIF = "'Source Serif 4', Georgia, 'Times New Roman', serif"
PLAIN = "'Atkinson Hyperlegible Next', Verdana, 'DejaVu Sans', Arial, sans-serif"
WIDTH = 400
"""Of the plot: on a phone 360 px wide the letters are still over 10 px. [px]"""
SIZE = 15
"""Of letters. [px]"""
TITLE_LETTERS, SUBTITLE_LETTERS = 37, 48
"""Letters on a line."""


def styled(chart):
    """A whole chart in our style."""
    return (
        chart.configure(background=PAPER, padding=18, font=PLAIN)
        .configure_view(stroke=None)
        .configure_title(
            font=SERIF,
            fontSize=21,
            fontWeight="normal",
            color=INK,
            anchor="start",
            frame="group",
            offset=14,
            subtitleFont=SERIF,
            subtitleFontSize=16,
            subtitleColor=FAINT,
            subtitlePadding=8,
        )
        .configure_axis(
            labelFontSize=SIZE,
            titleFontSize=SIZE,
            titleFontWeight="normal",
            labelColor=FAINT,
            titleColor=FAINT,
            domainColor=INK,
            gridColor=LINE,
            tickColor=INK,
        )
        .configure_legend(
            labelFontSize=SIZE, labelColor=INK, titleFontSize=SIZE, titleColor=INK
        )
        .configure_concat(spacing=10)
    )


def heading(text):
    """The heading of one panel."""
    import altair as alt

    return alt.TitleParams(text=text, fontSize=SIZE + 1, fontWeight="bold", offset=8)


def sentences(first, rest):
    """The title of a whole chart: what comes first, and the rest below it."""
    import altair as alt

    return alt.TitleParams(
        text=textwrap.wrap(first, TITLE_LETTERS),
        subtitle=textwrap.wrap(rest, SUBTITLE_LETTERS) or "",
    )


def answered(sentence, name=""):
    """The title of a whole chart: an answer, with its field's name where it has one."""
    first, rest = first_sentence(sentence)
    return sentences(f"{name}: {first}" if name else first, rest)


def title_if(titled, sentence, name=""):
    """What puts an answer above its chart, where a page does not show it already."""
    return {"title": answered(sentence, name)} if titled else {}
