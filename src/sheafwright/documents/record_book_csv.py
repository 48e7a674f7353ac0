"""The record book as one CSV a table, in a zip."""

import csv
import functools
import io
import zipfile
from datetime import date
from decimal import Decimal

from sheafwright.documents.record_book import tables

FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""A spreadsheet takes text that begins so for a formula, and would run it."""


def record_book_zip(book):
    """The zip of a record book; the same book gives the same bytes.

    Parameters
    ----------
    book : sheafwright.documents.record_book.RecordBook

    Returns
    -------
    bytes
    """
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as bundle:
        for table in tables(book):
            made = (book.made_on.year, book.made_on.month, book.made_on.day, 0, 0, 0)
            entry = zipfile.ZipInfo(f"{table.name}.csv", made)
            entry.compress_type = zipfile.ZIP_DEFLATED
            bundle.writestr(entry, as_csv(table))
    return packed.getvalue()


def as_csv(table):
    """A table as CSV in UTF-8, with the mark by which spreadsheets know that."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(cell(heading) for heading in table.headings)
    writer.writerows([cell(value) for value in row] for row in table.rows)
    return text.getvalue().encode("utf-8-sig", errors="replace")


@functools.singledispatch
def cell(value):
    """A value as a spreadsheet may safely read it."""
    raise TypeError(f"No table can hold {value!r}.")


@cell.register
def _(value: str):
    # A spreadsheet drops leading spaces before it looks for a formula.
    return f"'{value}" if value.lstrip(" ").startswith(FORMULA_SIGNS) else value


@cell.register
def _(value: date):
    return value.isoformat()


@cell.register
def _(value: Decimal):
    return f"{value:f}"


@cell.register
def _(value: None):
    return ""
