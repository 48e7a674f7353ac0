"""Reads a PDF back as a person would: its words, page by page."""

import io
from datetime import date
from decimal import Decimal

import pytest
from pypdf import PdfReader

from sheafwright.documents.record_book import (
    Certificate,
    FieldLine,
    InputLine,
    LossLine,
    MovementLine,
    RecordBook,
    SowingLine,
)


@pytest.fixture(scope="session")
def pages():
    """The words of each page of a PDF."""

    def read(pdf):
        drawn = PdfReader(io.BytesIO(pdf)).pages
        return [" ".join(page.extract_text().split()) for page in drawn]

    return read


@pytest.fixture(scope="session")
def book():
    """Ann's record of one year."""
    ley, sown, cut = date(2018, 3, 1), date(2025, 10, 12), date(2026, 8, 5)
    ends = date(2026, 12, 31)
    scope = ("winter wheat", "thatching straw")
    return RecordBook(
        holding="Marl Hollow",
        begins=date(2025, 9, 1),
        ends=date(2026, 8, 31),
        made_on=date(2026, 9, 3),
        certificate=Certificate(
            "Invented Certifiers", "GB-ORG-99", "IC-1234", ends, scope, True
        ),
        unexplained=Decimal("-40"),
        fields=(FieldLine("Long Meadow", Decimal("3.20"), "organic", ley, ley, "ley"),),
        sowings=(
            SowingLine(
                sown, "Long Meadow", "Maris Widgeon", Decimal("3.20"), Decimal("400"),
                "S-24-1", "own", "organic",
            ),
        ),
        inputs=(InputLine(sown, "Long Meadow", "=HYPERLINK(1)", "8 t", "+44", "-own"),),
        movements=(
            MovementLine(
                cut, "0192f7a8", "sheaves", "", "standing crop", "stooks",
                Decimal("6400"), Decimal("31.5"),
            ),
        ),
        losses=(LossLine("Water", Decimal("1000")),),
    )  # fmt: skip
