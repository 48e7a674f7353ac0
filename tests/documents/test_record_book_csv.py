"""The record book as CSV: all tables, plain numbers, no formula that could run."""

import csv
import dataclasses
import io
import zipfile

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.documents.record_book import TABLES, Units
from sheafwright.documents.record_book_csv import FORMULA_SIGNS, cell, record_book_zip


def unpacked(book):
    with zipfile.ZipFile(io.BytesIO(record_book_zip(book))) as bundle:
        return {
            name: list(csv.reader(io.StringIO(bundle.read(name).decode("utf-8-sig"))))
            for name in bundle.namelist()
        }


@pytest.fixture(scope="module")
def files(book):
    return unpacked(book)


def test_each_table_is_one_file(files):
    assert list(files) == [f"{name}.csv" for name in TABLES]


def test_dates_are_iso_and_numbers_are_plain(files):
    assert files["movements.csv"] == [
        ["Day", "Entry", "Material", "Lot", "Taken from", "Given to", "Weight, kg",
         "Moisture, %, wet basis"],
        ["2026-08-05", "0192f7a8", "sheaves", "", "standing crop", "stooks", "6400",
         "31.5"],
    ]  # fmt: skip


def test_what_is_unexplained_has_its_own_row_and_may_be_less_than_nought(files):
    assert files["losses.csv"][1:] == [["Water", "1000"], ["Unexplained", "-40"]]


def test_headings_carry_the_readers_units(book):
    old = dataclasses.replace(book, units=Units(area="acres", weight="cwt"))
    assert unpacked(old)["fields.csv"][0][1] == "Area, acres"


def test_text_that_a_spreadsheet_would_run_is_defused(files):
    [line] = files["inputs.csv"][1:]
    assert line[2:] == ["'=HYPERLINK(1)", "8 t", "'+44", "'-own"]


@given(st.text(" ="), st.sampled_from(FORMULA_SIGNS), st.text())
def test_no_text_reaches_a_spreadsheet_as_a_formula(before, sign, after):
    assert cell(before + sign + after).startswith("'")


@given(st.from_regex(r"\A[A-Za-z0-9][^\x00]*\Z"))
def test_other_text_is_kept_as_it_is(words):
    assert cell(words) == words


def test_the_same_book_gives_the_same_bytes(book):
    assert record_book_zip(book) == record_book_zip(dataclasses.replace(book))


def test_what_no_table_can_hold_is_refused():
    with pytest.raises(TypeError, match="No table can hold"):
        cell(object())
