"""Lot labels: eight a sheet, every word on them, and a code that leads back."""

import dataclasses
import io
from datetime import date

import pytest
from pypdf import PdfReader

from sheafwright.documents.labels import Label, LabelSheet, labels_pdf, qr_svg

URL = "https://book.example/walk/0192f7a8-6c1e-7d2c-9a31-55aa10c0ffee"
LABEL = Label(
    lot="25-07",
    material="Combed wheat reed",
    grade="Coatwork, 104 cm",
    field="Long Meadow",
    variety="Maris Widgeon",
    harvest_year="2025",
    organic="GB-ORG-99",
    walk_back_url=URL,
)


def sheet(*labels):
    return labels_pdf(LabelSheet("Marl Hollow", date(2026, 1, 5), labels))


def alternatives(pdf):
    """What is said of each picture to those who can't see it."""
    reader = PdfReader(io.BytesIO(pdf))
    objects = (reader.get_object(n) for n in range(1, reader.trailer["/Size"]))
    return [o["/Alt"] for o in objects if isinstance(o, dict) and "/Alt" in o]


def test_eight_labels_fill_a_sheet_and_the_ninth_begins_another(pages):
    assert len(pages(sheet(*[LABEL] * 8))) == 1
    assert len(pages(sheet(*[LABEL] * 9))) == 2


@pytest.mark.parametrize(
    "words", ["Lot 25-07", *dataclasses.astuple(LABEL)[1:-1], "From Marl Hollow"]
)
def test_a_label_says(words, pages):
    assert words in pages(sheet(LABEL))[0]


def test_a_line_with_nothing_to_say_is_left_out(pages):
    assert "Organic" in pages(sheet(LABEL))[0]
    assert "Organic" not in pages(sheet(dataclasses.replace(LABEL, organic="")))[0]


def test_each_label_leads_to_its_own_lot():
    other = dataclasses.replace(LABEL, walk_back_url="https://book.example/walk/2")
    assert set(alternatives(sheet(LABEL, other))) == {
        f"QR code of {URL}",
        "QR code of https://book.example/walk/2",
    }
    assert qr_svg(URL) != qr_svg(other.walk_back_url)


def test_a_label_with_much_to_say_is_set_smaller_and_keeps_every_word(pages):
    long = "Squareheads Master and Red Lammas grown together in one strip"
    words = pages(sheet(dataclasses.replace(LABEL, variety=long, grade=long)))[0]
    assert words.count(long) == 2
    assert "From Marl Hollow" in words
