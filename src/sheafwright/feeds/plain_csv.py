"""Small CSV files that a person keeps: named columns, ISO dates, plain numbers.

Every refusal names the file, the line and the column.
"""

import csv
import dataclasses
import datetime
import io
import math
from pathlib import Path

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds import tables
from sheafwright.feeds.telling import say

FIRST_YEAR, LAST_YEAR = 1700, 2200


@dataclasses.dataclass(frozen=True)
class Row:
    """One line of a file, by column."""

    where: str
    cells: dict[str, str]

    def text(self, column):
        """What stands in a cell; a blank one, or no such column, is ''."""
        return self.cells.get(column, "").strip()

    def date(self, column):
        """A date, or None where blank."""
        text = self.text(column)
        if not text:
            return None
        try:
            date = datetime.datetime.strptime(text, "%Y-%m-%d").date()
        except ValueError:
            raise self.refusal(column, say("a date such as 2026-08-05")) from None
        if not FIRST_YEAR <= date.year <= LAST_YEAR:
            years = {"first": FIRST_YEAR, "last": LAST_YEAR}
            raise self.refusal(column, say("a year from {first} to {last}", **years))
        return date

    def number(self, column, possible):
        """A number within these limits, or NaN where blank."""
        text = self.text(column)
        if not text:
            return math.nan
        lowest, highest = possible
        wanted = say(
            "a number from {lowest:g} to {highest:g}, with a decimal point",
            lowest=lowest,
            highest=highest,
        )
        try:
            # float() would take 1_5 for 15.
            number = float(text.replace("_", "?"))
        except ValueError:
            raise self.refusal(column, wanted) from None
        if not lowest <= number <= highest:
            raise self.refusal(column, wanted)
        return number

    def rain(self):
        """Rain of the day. [mm d⁻¹]"""
        return self.number("rain_mm", limits("rain"))

    def temperatures(self):
        """Lowest and highest temperature of the day, in that order. [°C]"""
        tmin = self.number("tmin_c", limits("tmin"))
        tmax = self.number("tmax_c", limits("tmax"))
        if tmin > tmax:
            wanted = say("no more than tmax_c, {tmax:g}", tmax=tmax)
            raise self.refusal("tmin_c", wanted)
        return tmin, tmax

    def required(self, column, value):
        """The value read from a cell that may not be blank."""
        if not self.text(column):
            raise self.refusal(column, say("filled in"))
        return value

    def refusal(self, column, wanted):
        """The sentence that says what a cell should be; ``wanted`` is said."""
        return UnreadableInput(
            "{where}, column {column}: {found} should be {wanted}.",
            where=self.where,
            column=column,
            found=repr(self.text(column)[:40]),
            wanted=wanted,
        )


def limits(name):
    """Lowest and highest value that a day of weather can have, in our unit."""
    return tables.shipped("weather_checks")["range"][name].value


def file_bytes(path):
    """What a file holds."""
    try:
        return Path(path).read_bytes()
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise UnreadableInput(
            "{path} cannot be read ({reason}).", path=str(path), reason=str(reason)
        ) from None


def text_of(content, where):
    """A file's bytes as text."""
    # A spreadsheet puts a byte-order mark before its UTF-8.
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise UnreadableInput(
            "{where}, byte {byte}: the file should be UTF-8 text.",
            where=where,
            byte=error.start,
        ) from None


def rows(content, where, needed, optional=()):
    """The lines of a CSV file, given as bytes, as a list of rows."""
    text = text_of(content, where)
    lines = csv.reader(io.StringIO(text, newline=""), strict=True)
    try:
        header = [name.strip() for name in next(lines, [])]
        _check_header(header, where, needed, optional)
        return [_row(cells, header, where, lines.line_num) for cells in lines if cells]
    except csv.Error as error:
        raise UnreadableInput(
            "{where}, line {line}: not a line of CSV ({error}).",
            where=where,
            line=lines.line_num,
            error=str(error),
        ) from None


def _check_header(header, where, needed, optional):
    unknown = [name[:40] for name in header if name not in (*needed, *optional)]
    missing = [name for name in needed if name not in header]
    if unknown or missing or len(set(header)) < len(header):
        raise UnreadableInput(
            "{where}, line 1: the columns should be {columns}, each once and parted by "
            "commas; found {found}.",
            where=where,
            columns=_columns(needed, optional),
            found=repr(", ".join(header)[:80]),
        )


def _columns(needed, optional):
    needed, optional = ", ".join(needed), ", ".join(optional)
    if not optional:
        return needed
    return say("{needed}, and may have {optional}", needed=needed, optional=optional)


def _row(cells, header, where, line):
    if len(cells) != len(header):
        raise UnreadableInput(
            "{where}, line {line}: {cells} cells where the first line names {columns} "
            "columns.",
            where=where,
            line=line,
            cells=len(cells),
            columns=len(header),
        )
    at = say("{where}, line {line}", where=where, line=line)
    return Row(at, dict(zip(header, cells, strict=True)))
