"""GHCN-Daily's by-station CSV without a heading: a row an element of a day."""

import re

import numpy as np

from sheafwright.feeds.telling import say
from sheafwright.feeds.weather.calendar import to_days
from sheafwright.feeds.weather.ghcn import ELEMENTS, Elements, matches, only_station

ROW = re.compile(
    r"(?P<station>[A-Z]{2}[\w-]{9}),(?P<date>\d{8}),(?P<element>[A-Z]\w{3}),"
    r"(?P<value>-?\d{1,6}),[^,]?,(?P<flag>[^,]?),[^,]?(?:,\d*)?\s*",
    re.ASCII,
)
MOST_ROWS = 2_000_000
"""A dozen elements for four and a half centuries."""


def first_line(text):
    """Where the first row stands, if this is the layout, else None.

    Newer files have a heading above it.
    """
    lines = enumerate(text.lines[:2], 1)
    return next((n for n, line in lines if ROW.fullmatch(line)), None)


def read(text, line):
    """The reading of a file that begins on ``line``."""
    if len(text.lines) > MOST_ROWS:
        says = say(
            "{rows:,} rows are more than any station has measured; it should hold one "
            "station.",
            rows=len(text.lines),
        )
        raise text.refusal(says)
    stations, by_element = set(), {element: [] for element in ELEMENTS}
    for number, row in matches(text, ROW, line):
        stations.add(row["station"])
        if row["element"] in by_element:
            cells = (number, row["date"], float(row["value"]), row["flag"] != "")
            by_element[row["element"]].append(cells)
    layout = say("GHCN-Daily CSV, by element")
    elements = Elements(layout, only_station(text, stations))
    for element, rows in by_element.items():
        if rows:
            elements.add(element, *_days(text, rows))
    return elements.reading()


def _days(text, rows):
    """Days, numbers and flags of one element, each (row,)."""
    lines, dates, numbers, flagged = zip(*rows, strict=True)
    days, wrong = to_days(dates, "%Y%m%d")
    if wrong is not None:
        says = say(
            "{date} should be a date of the calendar, as {example}.",
            date=dates[wrong],
            example="20240229",
        )
        raise text.refusal(says, lines[wrong])
    return days, np.array(numbers), np.array(flagged)
