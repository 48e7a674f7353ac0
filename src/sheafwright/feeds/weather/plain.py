"""A CSV whose columns carry our own names: ``date``, ``rain_mm``, ``tmin_c`` ..."""

from sheafwright.feeds.telling import say
from sheafwright.feeds.weather.mapping import column_values
from sheafwright.feeds.weather.reading import Reading, rows_as_series
from sheafwright.feeds.weather.table import read_table
from sheafwright.feeds.weather.variables import VARIABLES

COLUMNS = {
    variable.outside: (name, next(iter(variable.units)))
    for name, variable in VARIABLES.items()
}


def first_line(text):
    """1 if this is the layout, else None."""
    names = [name.strip() for name in text.lines[0].split(",")]
    return 1 if "date" in names and COLUMNS.keys() & set(names) else None


def read(text, line):
    """The reading of a file whose heading stands on ``line``."""
    table = read_table(text, line)
    unknown = sorted(set(table.heading) - {"date", *COLUMNS})
    if unknown:
        says = say(
            "{unknown} is no column of ours; they should be date, {columns}.",
            unknown=", ".join(unknown)[:50],
            columns=", ".join(COLUMNS),
        )
        raise text.refusal(says)
    days = table.days("date", "%Y-%m-%d")
    return Reading(
        station=text.stem,
        layout=say("plain daily CSV"),
        series=rows_as_series(days, column_values(table, COLUMNS)),
    )
