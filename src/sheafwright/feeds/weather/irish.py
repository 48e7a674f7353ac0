"""Daily CSV of the Irish service, with and without its preamble.

Traps: the column ``ind`` comes before most values, each time under that name; wind is
in knots; a single space stands for missing; the short layout has years of two digits.
"""

import re

from sheafwright.core.weather.evapotranspiration import air_pressure
from sheafwright.feeds.telling import say
from sheafwright.feeds.weather.mapping import column_values
from sheafwright.feeds.weather.reading import Reading, check_place, rows_as_series
from sheafwright.feeds.weather.table import read_table

COLUMNS = {
    "maxtp": ("tmax", "degC"),
    "mintp": ("tmin", "degC"),
    "rain": ("rain", "mm"),
    "cbl": ("pressure", "hPa"),
    "wdsp": ("wind", "knots"),
    "hg": ("gust", "knots"),
    "sun": ("sunshine", "h"),
    "g_rad": ("radiation", "J/cm2"),
    "glorad": ("radiation", "J/cm2"),
    "soil": ("soil_temperature", "degC"),
    "pe": ("pe", "mm"),
}
HEADING = re.compile(r"date,(?=.*\bmaxtp\b)(?=.*\bmintp\b)")
PREAMBLE_LINES = 60
NUMBER = r"(-?\d+(?:\.\d+)?)"
FACTS = {
    "altitude": "Station Height",
    "latitude": "Latitude",
    "longitude": "Longitude",
}
NAME = re.compile(r"Station Name:\s*(\S.*?)\s*$", re.MULTILINE)
SEA_LEVEL = 0.0


def first_line(text):
    """Where the heading stands, counting from 1, or None if this is another layout."""
    lines = enumerate(text.lines[:PREAMBLE_LINES], 1)
    return next((n for n, line in lines if HEADING.match(line)), None)


def read(text, line):
    """The reading of a file whose heading stands on ``line``."""
    table = read_table(text, line)
    preamble = "\n".join(text.lines[: line - 1])
    name = NAME.search(preamble)
    place = _place(preamble)
    check_place(text, **place)
    values = column_values(table, COLUMNS)
    if "altitude" in place and "pressure" in values:
        # The service prints the pressure at the station's own height.
        values["pressure"] *= air_pressure(SEA_LEVEL) / air_pressure(place["altitude"])
    long_years = len(table.column("date")[0].strip()) > len("01-jan-42")
    days = table.days("date", "%d-%b-%Y" if long_years else "%d-%b-%y")
    return Reading(
        station=name[1].title() if name else text.stem,
        layout=say("Irish daily, with preamble") if preamble else say("Irish daily"),
        series=rows_as_series(days, values),
        **place,
    )


def _place(preamble):
    """Latitude, longitude and altitude, as far as the preamble tells them."""
    found = {
        name: re.search(rf"{title}:\s*{NUMBER}", preamble)
        for name, title in FACTS.items()
    }
    return {name: float(match[1]) for name, match in found.items() if match}
