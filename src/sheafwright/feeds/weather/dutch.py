"""Daily text of the Dutch institute, with one heading line or a long preamble.

Values are whole tenths; -1 for rain and sunshine stands for "less than 0.05".
"""

import re

from sheafwright.feeds.telling import say
from sheafwright.feeds.weather.mapping import column_values
from sheafwright.feeds.weather.reading import Reading, rows_as_series
from sheafwright.feeds.weather.table import read_table

COLUMNS = {
    "TN": ("tmin", "0.1 degC"),
    "TX": ("tmax", "0.1 degC"),
    "TG": ("tmean", "0.1 degC"),
    "RH": ("rain", "0.1 mm"),
    "FG": ("wind", "0.1 m/s"),
    "FXX": ("gust", "0.1 m/s"),
    "SQ": ("sunshine", "0.1 h"),
    "Q": ("radiation", "J/cm2"),
    "UG": ("humidity", "%"),
    "UN": ("humidity_min", "%"),
    "UX": ("humidity_max", "%"),
    "PG": ("pressure", "0.1 hPa"),
    "EV24": ("pe", "0.1 mm"),
}
TRACE = {"RH": -1, "SQ": -1}
HEADING = re.compile(r"#?\s*STN,\s*YYYYMMDD,")
PREAMBLE_LINES = 200
# "# 260   5.180   52.100   1.90   De Bilt", in the newer preambles.
PLACE = re.compile(
    r"#?\s*(\d+):?\s+(-?\d+\.\d+)\s+(-?\d+\.\d+)\s+(-?\d+\.\d+)\s+(\S.*)"
)


def first_line(text):
    """Where the heading stands, counting from 1, or None if this is another layout."""
    lines = enumerate(text.lines[:PREAMBLE_LINES], 1)
    return next((n for n, line in lines if HEADING.match(line)), None)


def read(text, line):
    """The reading of a file whose heading stands on ``line``."""
    table = read_table(text, line)
    station = table.only("STN")
    days = table.days("YYYYMMDD", "%Y%m%d")
    return Reading(
        layout=say("Dutch daily, with preamble") if line > 1 else say("Dutch daily"),
        series=rows_as_series(days, column_values(table, COLUMNS, trace=TRACE)),
        **_place(text.lines[: line - 1], station),
    )


def _place(preamble, station):
    """What the preamble tells of the station, if it does."""
    for match in filter(None, map(PLACE.match, preamble)):
        number, longitude, latitude, altitude, name = match.groups()
        if number == station:
            return {
                "station": name.strip(),
                "latitude": float(latitude),
                "longitude": float(longitude),
                "altitude": float(altitude),
            }
    return {"station": say("station {number}", number=station)}
