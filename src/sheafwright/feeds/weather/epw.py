"""EPW, the hourly weather file of building engineers, made daily.

A typical year is put together from months of different years; it is laid on 2001.
"""

import numpy as np

from sheafwright.feeds.telling import say
from sheafwright.feeds.weather.calendar import calendar_days
from sheafwright.feeds.weather.reading import Reading, rows_as_series
from sheafwright.feeds.weather.table import read_table
from sheafwright.feeds.weather.variables import inside

HEADING_LINES = 8
NAMES = {
    0: "year",
    1: "month",
    2: "day",
    3: "hour",
    6: "dry_bulb",
    7: "dewpoint",
    8: "humidity",
    13: "global_horizontal",
    21: "wind_speed",
    33: "rain",
}
FEWEST_COLUMNS, MOST_COLUMNS = 32, 35
"""Older files end before albedo and rain."""
MISSING = {
    "dry_bulb": 99.9,
    "dewpoint": 99.9,
    "humidity": 999,
    "global_horizontal": 9999,
    "wind_speed": 999,
    "rain": 999,
}
# How a day is made of its hours: our name, the file's, its unit, and what of it.
DAILY = (
    ("tmin", "dry_bulb", "degC", np.min),
    ("tmax", "dry_bulb", "degC", np.max),
    ("tmean", "dry_bulb", "degC", np.mean),
    ("dewpoint", "dewpoint", "degC", np.mean),
    ("humidity", "humidity", "%", np.mean),
    ("humidity_min", "humidity", "%", np.min),
    ("humidity_max", "humidity", "%", np.max),
    ("radiation", "global_horizontal", "Wh/m2", np.sum),
    ("wind", "wind_speed", "m/s", np.mean),
    ("rain", "rain", "mm", np.sum),
)
TYPICAL_YEAR, TYPICAL_LEAP_YEAR = 2001, 2004
LARGEST_YEAR = 9999
HOURS = 24


def first_line(text):
    """Where the hours begin, if this is the layout, else None."""
    is_epw = text.lines[0].upper().startswith("LOCATION,")
    return HEADING_LINES + 1 if is_epw else None


def read(text, line):
    """The reading of a file whose hours begin on ``line``."""
    if len(text.lines) < line:
        says = say(
            "it should have {lines} heading lines, then hours.", lines=HEADING_LINES
        )
        raise text.refusal(says)
    width = text.lines[line - 1].count(",") + 1
    if not FEWEST_COLUMNS <= width <= MOST_COLUMNS:
        says = say(
            "an hour should have {fewest} to {most} columns.",
            fewest=FEWEST_COLUMNS,
            most=MOST_COLUMNS,
        )
        raise text.refusal(says, line)
    heading = [NAMES.get(column, f"column_{column + 1}") for column in range(width)]
    table = read_table(text, line, heading=heading)
    days, typical = _days(table)
    dates, at = _hours(table, days)
    values = {
        name: of_day(
            inside(name, unit, _laid_out(table, column, at), text.name), axis=1
        )
        for name, column, unit, of_day in DAILY
        if column in table.heading
    }
    return Reading(
        layout=say("EPW hourly, typical year") if typical else say("EPW hourly"),
        series=rows_as_series(dates, values),
        **_place(text),
    )


def _days(table):
    """The day of each hour, and whether the year is put together from several."""
    year, month, day = (_whole(table, name) for name in ("year", "month", "day"))
    # A record of real years goes back to January wherever the year changes.
    typical = bool(np.ptp(year) > 0 and np.all(np.diff(month) >= 0))
    if typical:
        leap = np.any((month == 2) & (day == 29))
        year = np.full_like(year, TYPICAL_LEAP_YEAR if leap else TYPICAL_YEAR)
    days, wrong = calendar_days(year, month, day)
    if wrong is not None:
        raise table.refusal(wrong, "day", say("a day of its month"))
    return days, typical


def _hours(table, days):
    """Every day, and where each hour stands among them: (day,), (2, row)."""
    hour = _whole(table, "hour")
    outside = (hour < 1) | (hour > HOURS)
    if outside.any():
        wanted = say("from 1 to {hours}", hours=HOURS)
        raise table.refusal(int(np.argmax(outside)), "hour", wanted)
    dates, day = np.unique(days, return_inverse=True)
    at = np.stack([day, hour - 1])
    _, firsts = np.unique(at, axis=1, return_index=True)
    if len(firsts) < len(hour):
        again = int(np.setdiff1d(np.arange(len(hour)), firsts)[0])
        raise table.refusal(again, "hour", say("given once a day"))
    return dates, at


def _whole(table, name):
    """A column of whole numbers."""
    numbers = table.numbers(name)
    broken = ~(np.abs(numbers) < LARGEST_YEAR) | (numbers % 1 != 0)
    if broken.any():
        raise table.refusal(int(np.argmax(broken)), name, say("a whole number"))
    return numbers.astype(int)


def _laid_out(table, column, at):
    """A column by day and hour, NaN where missing: (day, hour)."""
    numbers = table.numbers(column)
    laid = np.full((at[0].max() + 1, HOURS), np.nan)
    laid[tuple(at)] = np.where(numbers >= MISSING[column], np.nan, numbers)
    return laid


def _place(text):
    """What the first line tells of the station."""
    fields = [field.strip() for field in text.lines[0].split(",")]
    try:
        latitude, longitude, _, altitude = map(float, fields[6:10])
    except ValueError:
        says = say(
            "LOCATION should end with latitude, longitude, time zone and height."
        )
        raise text.refusal(says, 1) from None
    return {
        "station": fields[1] or text.stem,
        "latitude": latitude,
        "longitude": longitude,
        "altitude": altitude,
    }
