"""Sheets are data in a template: any words print, and the same way each time."""

import dataclasses
import io
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from sheafwright.core.errors import UnreadableInput
from sheafwright.documents.rick_card import RickCard, rick_card_pdf
from sheafwright.documents.typst import as_json, in_words, pdf

CARD = RickCard("Marl Hollow", "Barn rick", "", "", date(2026, 8, 5), (), (), (), ())


def test_the_same_sheet_gives_the_same_bytes():
    assert rick_card_pdf(CARD) == rick_card_pdf(dataclasses.replace(CARD))


def test_the_pdf_bears_the_date_of_the_sheet_and_its_title():
    said = PdfReader(io.BytesIO(rick_card_pdf(CARD))).metadata
    assert said.creation_date.date() == date(2026, 8, 5)
    assert said.title == "Marl Hollow: rick card, Barn rick"


@pytest.mark.parametrize(
    "words",
    [
        '#panic("no")',
        "*bold* $x^2$ <a> @b",
        '"]})',
        "// gone",
        "= A heading",
        "\\u{41}",
    ],
)
def test_words_that_look_like_a_template_are_printed_as_they_are(words, pages):
    [page] = pages(rick_card_pdf(dataclasses.replace(CARD, name=words)))
    assert words in page


@settings(max_examples=40, deadline=None)
@given(st.text(st.characters(exclude_categories=())))
def test_no_words_break_a_sheet(words):
    card = dataclasses.replace(CARD, name=words, about=words)
    assert rick_card_pdf(card).startswith(b"%PDF")


def test_a_word_without_end_stays_on_the_page(pages):
    card = dataclasses.replace(CARD, about="straw" * 80)
    assert len(PdfReader(io.BytesIO(rick_card_pdf(card))).pages) == 1
    [page] = pages(rick_card_pdf(card))
    assert "straw" * 80 in page.replace(" ", "").replace("\u200b", "")


def test_letters_that_our_faces_lack_are_printed_from_another(pages):
    [page] = pages(rick_card_pdf(dataclasses.replace(CARD, name="Cae Ŵyn, Łąka")))
    assert "Cae Ŵyn, Łąka" in page


@dataclass(frozen=True)
class Empty:
    made_on: date


def test_a_sheet_that_lacks_what_its_template_needs_is_refused_in_a_sentence():
    with pytest.raises(UnreadableInput, match="“rick_card” can't be made from these"):
        pdf("rick_card", Empty(date(2026, 8, 5)))


def test_numbers_and_dates_are_printed_as_readers_write_them():
    assert in_words(Decimal("-1240.50")) == "−1,240.50"
    assert in_words(date(2026, 8, 5)) == "5 Aug 2026"


def test_what_no_sheet_can_print_is_refused():
    with pytest.raises(TypeError, match="No sheet can hold"):
        as_json({"a": object()})
