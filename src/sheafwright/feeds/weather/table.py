"""Rows of cells under a heading: columns of numbers, and days."""

import csv
import dataclasses
import itertools
import math
from collections.abc import Sequence

import numpy as np

from sheafwright.feeds.weather.calendar import to_days
from sheafwright.feeds.weather.text import Text, shown

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
            raise self.text.refusal(
                f"two columns are named {shown(name)}; each should have its own name."
            )
        return self.cells[self.heading.index(name) :: len(self.heading)]

    def numbers(self, name, missing=()):
        """A column as numbers, NaN where blank or a code for missing: (row,)."""
        cells, meaning = self.column(name), Numbers(missing)
        try:
            return np.fromiter(map(meaning.__getitem__, cells), float, len(cells))
        except ValueError:
            row = next(n for n, cell in enumerate(cells) if not meaning.has(cell))
        raise self.refusal(row, name, "a number with a decimal point, or blank")

    def days(self, name, date_format):
        """A column of dates as days: (row,) of datetime64[D]."""
        days, wrong = to_days(self.column(name), date_format)
        if wrong is None:
            return days
        raise self.refusal(wrong, name, f"a date of the calendar, as {date_format}")

    def only(self, name):
        """The one value that all rows share, such as their station."""
        values = {cell.strip() for cell in self.column(name)}
        if len(values) > 1:
            few = ", ".join(shown(value) for value in sorted(values)[:3])
            raise self.text.refusal(
                f"it holds {len(values)} stations ({few}); it should hold one."
            )
        return values.pop()

    def refusal(self, row, name, wanted):
        """The sentence that says what a cell should be."""
        says = f"{name} {shown(self.column(name)[row])} should be {wanted}."
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
            raise text.refusal(
                f"{width} columns where the heading has {len(heading)}; "
                f"the line looks cut off or run together.",
                table.line_of(row),
            )
    return table


def _check_count(text, count):
    if not count:
        raise text.refusal("there are no days below the heading.")
    if count > MOST_ROWS:
        raise text.refusal(
            f"{count:,} rows are more than five centuries of days; "
            f"it should hold one station, a row a day."
        )


def _split(text, rows, delimiter):
    """All cells, one row after another, and the number of them in each row."""
    # One split of the whole is twice as fast as csv.reader, but knows no quotes.
    if not any('"' in row for row in rows):
        widths = [row.count(delimiter) + 1 for row in rows]
        return delimiter.join(rows).split(delimiter), widths
    try:
        parted = list(csv.reader(rows, delimiter=delimiter, strict=True))
    except csv.Error as error:
        raise text.refusal(f"the quotation marks don't pair up ({error}).") from None
    return list(itertools.chain.from_iterable(parted)), list(map(len, parted))
