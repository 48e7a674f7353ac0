"""The record book: every table, its units in the headings, nothing passed over."""

import dataclasses
from decimal import Decimal

import pytest

from sheafwright.documents.record_book import TABLES, Units, record_book_pdf, tables


@pytest.fixture(scope="module")
def printed(book, pages):
    return " ".join(pages(record_book_pdf(book)))


@pytest.mark.parametrize("title", [str(title) for title, _ in TABLES.values()])
def test_the_book_has_a_table_of(title, printed):
    assert title in printed


def test_every_line_given_is_printed(book, printed):
    assert "Long Meadow 3.20 organic 1 Mar 2018 1 Mar 2018 ley" in printed
    assert "5 Aug 2026 0192f7a8 sheaves standing crop stooks 6,400 31.5" in printed


def test_what_is_unexplained_has_its_own_line(printed):
    assert "Water 1,000 Unexplained −40" in printed


def test_nothing_unexplained_is_said_too(book, pages):
    none = dataclasses.replace(book, unexplained=Decimal(0), losses=())
    assert "Unexplained 0" in " ".join(pages(record_book_pdf(none)))


def test_an_empty_table_says_that_nothing_was_recorded(printed):
    assert "Complaints Nothing was recorded in this period." in printed


@pytest.mark.parametrize(
    ("in_scope", "says"),
    [(True, "Straw is in the certificate’s scope."), (False, "Straw is not in the")],
)
def test_the_book_says_whether_straw_is_certified(in_scope, says, book, pages):
    certificate = dataclasses.replace(book.certificate, straw_in_scope=in_scope)
    changed = dataclasses.replace(book, certificate=certificate)
    assert says in pages(record_book_pdf(changed))[0]


def test_headings_carry_the_readers_units(book):
    old = dataclasses.replace(book, units=Units(area="acres", weight="cwt"))
    shown = {table.name: table for table in tables(old)}
    assert shown["sowings"].headings[3:5] == ("Area, acres", "Seed, cwt")
    assert shown["sowings"].numbers == (3, 4)
