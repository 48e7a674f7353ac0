"""The rick card: danger first, then what is in it and how warm it has been."""

from datetime import date

import pytest

from sheafwright.documents.rick_card import (
    Contact,
    HeatStep,
    Load,
    Reading,
    RickCard,
    rick_card_pdf,
)

CARD = RickCard(
    holding="Marl Hollow",
    name="Barn rick",
    about="Under the Dutch barn",
    capacity="holds about 12 t",
    made_on=date(2026, 8, 18),
    loads=(Load("Long Meadow", "Maris Widgeon", "14 Aug", "210 stooks"),),
    readings=(Reading("17 Aug, 18:00", "north side, 1 m", "31", "Ben"),),
    heat_steps=(HeatStep("from 60 °C", "Ring first. Nobody opens it."),),
    contacts=(Contact("Fire service", "999"),),
)


@pytest.fixture(scope="module")
def printed(pages):
    [page] = pages(rick_card_pdf(CARD))
    return page


def test_heat_and_whom_to_ring_come_before_everything_else(printed):
    danger = printed.index("from 60 °C Ring first. Nobody opens it.")
    ring = printed.index("Fire service 999")
    assert danger < ring < printed.index("What is in it")


def test_the_card_says_what_was_carted_in(printed):
    assert "Long Meadow Maris Widgeon 14 Aug 210 stooks" in printed


def test_readings_stand_above_the_empty_rows(printed):
    assert "17 Aug, 18:00 north side, 1 m 31 Ben" in printed


def test_the_capacity_is_said_beside_the_name(printed):
    assert "Under the Dutch barn; holds about 12 t" in printed
