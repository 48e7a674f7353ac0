"""Any CSV, through a grower's own small file that says what its columns are.

::

    station = "Long Meadow"             # this, and the place, may be left out
    latitude_deg = 52.1
    longitude_deg = -2.3
    altitude_m = 40
    delimiter = ","
    missing = ["NA", "-99"]             # beside a blank
    date = { column = "Day", format = "%d/%m/%Y" }

    [columns]
    rain = { column = "Gauge", unit = "inch" }
    tmin = { column = "Low", unit = "degF" }
"""

import dataclasses
import tomllib
from collections.abc import Mapping

from sheafwright.feeds.telling import say
from sheafwright.feeds.weather.calendar import DIRECTIVES, date_pattern
from sheafwright.feeds.weather.mapping import column_values
from sheafwright.feeds.weather.reading import Reading, rows_as_series
from sheafwright.feeds.weather.table import read_table
from sheafwright.feeds.weather.text import COLUMNS_FILE, read_text
from sheafwright.feeds.weather.variables import VARIABLES

PLACE = {
    "latitude_deg": "latitude",
    "longitude_deg": "longitude",
    "altitude_m": "altitude",
}
KNOWN = ("station", *PLACE, "delimiter", "missing", "date", "columns")
PREAMBLE_LINES = 100
LARGEST_NUMBER = 1e6


@dataclasses.dataclass(frozen=True)
class ColumnsFile:
    """What a grower's file says of another file's columns."""

    date: str
    date_format: str
    columns: Mapping[str, tuple[str, str]]
    """The file's name to our variable and the unit it is in."""
    delimiter: str
    missing: tuple[str, ...]
    station: str | None
    place: Mapping[str, float]


def read_columns(path):
    """A columns file, every entry of it checked."""
    text = read_text(path, COLUMNS_FILE)
    try:
        entries = tomllib.loads("\n".join(text.lines))
    except (ValueError, RecursionError) as error:
        # Beside its own error tomllib lets through too long a number, too deep a nest.
        says = say("this is not TOML: {error}.", error=str(error)[:80])
        raise text.refusal(says) from None
    if unknown := sorted(entries.keys() - set(KNOWN)):
        says = say(
            "it has {name}; it may have {known}.",
            name=repr(unknown[0][:30]),
            known=", ".join(KNOWN),
        )
        raise text.refusal(says)
    date, date_format = _named(text, "date", "format", entries.get("date"))
    if date_pattern(date_format) is None:
        says = say(
            "date: format {format} should have a day, a month and a year of "
            "{directives}, each once.",
            format=repr(date_format[:30]),
            directives=", ".join(DIRECTIVES),
        )
        raise text.refusal(says)
    delimiter = _of_kind(text, entries, "delimiter", str, ",")
    if len(delimiter) != 1 or delimiter in '"\r\n':
        says = say("delimiter should be one character, such as ',' or ';'.")
        raise text.refusal(says)
    return ColumnsFile(
        date=date,
        date_format=date_format,
        columns=_columns(text, entries.get("columns")),
        delimiter=delimiter,
        missing=tuple(map(str, _of_kind(text, entries, "missing", list, []))),
        station=_of_kind(text, entries, "station", str, None),
        place={
            ours: _number(text, name, entries[name])
            for name, ours in PLACE.items()
            if name in entries
        },
    )


def _of_kind(text, entries, name, kind, default):
    """An entry of the right kind, or its default where it is left out."""
    value = entries.get(name, default)
    if value is default or isinstance(value, kind):
        return value
    wanted = {str: say("a text in quotes"), list: say("a list")}[kind]
    raise text.refusal(say("{name} should be {wanted}.", name=name, wanted=wanted))


def _number(text, name, value):
    # TOML's whole numbers have no end, and true is a whole number to Python.
    if type(value) not in (int, float) or not abs(value) < LARGEST_NUMBER:
        raise text.refusal(say("{name} should be a number.", name=name))
    return float(value)


def _named(text, name, second, entry):
    """The column that an entry names, and the second thing it says of it."""
    keys = {"column", second}
    texts = isinstance(entry, dict) and all(isinstance(v, str) for v in entry.values())
    if not texts or entry.keys() != keys:
        says = say(
            '{name} should be {{ column = "...", {second} = "..." }}.',
            name=name[:30],
            second=second,
        )
        raise text.refusal(says)
    return entry["column"], entry[second]


def _columns(text, entries):
    """The file's column names to our variable and the declared unit."""
    if not isinstance(entries, dict) or not entries:
        says = say("a section [columns] should say which column is what.")
        raise text.refusal(says)
    columns = {}
    for name, entry in entries.items():
        if name not in VARIABLES:
            says = say(
                "{name} is not a name of ours; it should be one of {names}.",
                name=repr(name[:30]),
                names=", ".join(VARIABLES),
            )
            raise text.refusal(says)
        column, unit = _named(text, name, "unit", entry)
        if column in columns:
            shown = repr(column[:30])
            says = say("{column} should be one variable, not two.", column=shown)
            raise text.refusal(says)
        columns[column] = (name, unit)
    return columns


def read(text, columns):
    """The reading of a CSV through a columns file."""
    wanted = {columns.date, *columns.columns}
    table = read_table(
        text, _heading_line(text, columns.delimiter, wanted), columns.delimiter
    )
    days = table.days(columns.date, columns.date_format)
    return Reading(
        station=columns.station or text.stem,
        layout=say("CSV by columns file"),
        series=rows_as_series(
            days, column_values(table, columns.columns, columns.missing)
        ),
        **columns.place,
    )


def _heading_line(text, delimiter, wanted):
    """The first line that names every wanted column, counting from 1."""
    lacking = wanted
    for number, line in enumerate(text.lines[:PREAMBLE_LINES], 1):
        names = {name.strip(' \t#"') for name in line.split(delimiter)}
        if wanted <= names:
            return number
        lacking = min(lacking, wanted - names, key=len)
    says = say(
        "no heading names the column {column} that the columns file asks for; names "
        "and delimiter should agree.",
        column=repr(sorted(lacking)[0][:30]),
    )
    raise text.refusal(says)
