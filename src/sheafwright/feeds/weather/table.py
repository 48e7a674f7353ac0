"""Rows of cells under a heading: columns of numbers, and days."""

import csv
import dataclasses
import itertools
import math
from collections.abc import Sequence

import numpy as np

from sheafwright.feeds.telling import say
from sheafwright.feeds.weather.calendar import to_days
from sheafwright.feeds.weather.text import Text, several_stations, shown

MOST_ROWS = 200_000
"""Five centuries of days."""
LARGEST_NUMBER = 1e9


class Numbers(dict):
    """What a cell means; each distinct text is understood once."""

    def __init__(self, missing):
        self.missing_codes = {*missing, ""}

    def __missing__(self, cell):
        text = cell.strip()
        number = math.nan if text in self.missing_codes else _number(text)
        self[cell] = number
        return number

    def has(self, cell):
        """Whether a cell means a number, or missing."""
        try:
            self[cell]
        except ValueError:
            return False
        return True


def _number(text):
    # float() would take 1_5 for 15.
    number = float(text.replace("_", "?"))
    # Neither infinity nor what would become it in another unit.
    if not abs(number) < LARGEST_NUMBER:
        raise ValueError
    return number


@dataclasses.dataclass(frozen=True)
class Table:
    """The cells of a file, row after row."""

    text: Text
    heading: Sequence[str]
    first_line: int
    """Where the first row stands in the file, counting from 1."""
    cells: list[str]

    def column(self, name):
        """The cells of the column so named."""
        if self.heading.count(name) > 1:
            says = say(
                "two columns are named {name}; each should have its own name.",
                name=shown(name),
            )
            raise self.text.refusal(says)
        return self.cells[self.heading.index(name) :: len(self.heading)]

    def numbers(self, name, missing=()):
        """A column as numbers, NaN where blank or a code for missing: (row,)."""
        cells, meaning = self.column(name), Numbers(missing)
        try:
            return np.fromiter(map(meaning.__getitem__, cells), float, len(cells))
        except ValueError:
            row = next(n for n, cell in enumerate(cells) if not meaning.has(cell))
        wanted = say("a number with a decimal point, or blank")
        raise self.refusal(row, name, wanted)

    def days(self, name, date_format):
        """A column of dates as days: (row,) of datetime64[D]."""
        days, wrong = to_days(self.column(name), date_format)
        if wrong is None:
            return days
        wanted = say("a date of the calendar, as {format}", format=date_format)
        raise self.refusal(wrong, name, wanted)

    def only(self, name):
        """The one value that all rows share, such as their station."""
        values = {cell.strip() for cell in self.column(name)}
        if len(values) > 1:
            raise several_stations(self.text, list(map(shown, sorted(values))))
        return values.pop()

    def refusal(self, row, name, wanted):
        """The sentence that says what a cell should be; ``wanted`` is said."""
        says = say(
            "{column} {cell} should be {wanted}.",
            column=name,
            cell=shown(self.column(name)[row]),
            wanted=wanted,
        )
        return self.text.refusal(says, self.line_of(row))

    def line_of(self, row):
        """The line of the file, counting from 1, that holds a row."""
        lines = enumerate(self.text.lines[self.first_line - 1 :], self.first_line)
        return next(
            itertools.islice((n for n, line in lines if line.strip()), row, None)
        )


def read_table(text, line, delimiter=",", heading=None):
    """The table that begins on a line of the text, counting from 1.

    It begins with its heading, or with its first row where ``heading`` is given.
    """
    if heading is None:
        heading, _ = _split(text, text.lines[line - 1 : line], delimiter)
        heading = [name.strip(" \t#") for name in heading]
        line += 1
    rows = list(filter(str.strip, text.lines[line - 1 :]))
    _check_count(text, len(rows))
    cells, widths = _split(text, rows, delimiter)
    table = Table(text, heading, line, cells)
    for row, width in enumerate(widths):
        if width != len(heading):
            says = say(
                "{found} columns where the heading has {columns}; the line looks cut "
                "off or run together.",
                found=width,
                columns=len(heading),
            )
            raise text.refusal(says, table.line_of(row))
    return table


def _check_count(text, count):
    if not count:
        raise text.refusal(say("there are no days below the heading."))
    if count > MOST_ROWS:
        says = say(
            "{rows:,} rows are more than five centuries of days; it should hold one "
            "station, a row a day.",
            rows=count,
        )
        raise text.refusal(says)


def _split(text, rows, delimiter):
    """All cells, one row after another, and the number of them in each row."""
    # One split of the whole is twice as fast as csv.reader, but knows no quotes.
    if not any('"' in row for row in rows):
        widths = [row.count(delimiter) + 1 for row in rows]
        return delimiter.join(rows).split(delimiter), widths
    try:
        parted = list(csv.reader(rows, delimiter=delimiter, strict=True))
    except csv.Error as error:
        says = say("the quotation marks don't pair up ({error}).", error=str(error))
        raise text.refusal(says) from None
    return list(itertools.chain.from_iterable(parted)), list(map(len, parted))
