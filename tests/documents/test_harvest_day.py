"""The harvest-day sheet: cautions first, then each field with room for its counts."""

from datetime import date

import pytest

from sheafwright.documents.harvest_day import (
    CAUTIONS,
    FieldToCut,
    HarvestDay,
    harvest_day_pdf,
)


def field(name):
    return FieldToCut(
        name, "3.2 ha", "Cut today.", ("Ben", "Ann"), ("Nodes still green.",)
    )


def day(*names):
    fields = tuple(field(name) for name in names)
    return HarvestDay("Marl Hollow", "Wednesday 5 August", date(2026, 8, 5), fields)


@pytest.fixture(scope="module")
def printed(pages):
    return pages(harvest_day_pdf(day("Long Meadow", "Hanger")))


def test_every_caution_comes_before_the_first_field(printed):
    first = printed[0].index("Long Meadow")
    assert all(0 <= printed[0].find(str(caution)) < first for caution in CAUTIONS)


def test_two_fields_share_a_page_and_three_take_another(printed, pages):
    assert len(printed) == 1
    assert len(pages(harvest_day_pdf(day("Long Meadow", "Hanger", "Marl Piece")))) == 2


def test_each_field_says_who_cuts_and_what_to_look_for(printed):
    assert printed[0].count("Who Ben, Ann") == 2
    assert printed[0].count("Look for Nodes still green.") == 2


def test_each_field_has_columns_for_sheaves_stooks_and_moisture(printed):
    assert printed[0].count("Sheaves Stooks Moisture, %") == 2
