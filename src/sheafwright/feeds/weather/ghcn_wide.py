"""GHCN-Daily's by-station CSV with a heading: a row a day."""

import re

import numpy as np

from sheafwright.feeds.telling import say
from sheafwright.feeds.weather.ghcn import ELEMENTS, Elements
from sheafwright.feeds.weather.table import read_table

HEADING = re.compile(r'"?STATION"?,.*\bDATE\b.*\b(TMIN|TMAX|PRCP)\b')


def first_line(text):
    """1 if this is the layout, else None."""
    return 1 if HEADING.match(text.lines[0]) else None


def read(text, line):
    """The reading of a file whose heading stands on ``line``."""
    table = read_table(text, line)
    days = table.days("DATE", "%Y-%m-%d")
    station = table.only("STATION")
    elements = Elements(
        say("GHCN-Daily CSV, by day"),
        table.column("NAME")[0].title() if "NAME" in table.heading else station,
        latitude=_first(table, "LATITUDE"),
        longitude=_first(table, "LONGITUDE"),
        altitude=_first(table, "ELEVATION"),
    )
    for element in filter(table.heading.__contains__, ELEMENTS):
        if any("." in cell for cell in table.column(element)):
            # The same archive also hands out millimetres, inches and Fahrenheit.
            says = say(
                "{element} has decimals where GHCN-Daily has whole tenths; its unit "
                "should be declared in a columns file.",
                element=element,
            )
            raise text.refusal(says)
        elements.add(element, days, table.numbers(element), _flags(table, element))
    return elements.reading()


def _flags(table, element):
    """Which rows have a quality flag, the second of the element's attributes."""
    name = f"{element}_ATTRIBUTES"
    cells = table.column(name) if name in table.heading else table.column(element)
    return np.array([cell.split(",")[1:2] not in ([], [""], [" "]) for cell in cells])


def _first(table, name):
    """The number in the first row of a column, if there is one."""
    number = table.numbers(name)[0] if name in table.heading else np.nan
    return None if np.isnan(number) else float(number)
