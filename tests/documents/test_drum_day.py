"""The drum's sheet: what can hurt, then the rick and what it should give."""

import dataclasses
from datetime import date

import pytest

from sheafwright.documents.drum_day import DrumDay, drum_day_pdf

DAY = DrumDay(
    holding="Marl Hollow",
    day="Friday 28 November 2025",
    made_on=date(2025, 11, 28),
    hands=("Tom", "Una: show them the drum first, and sign"),
    rick="Barn rick, 6.55 t: comb",
    why=("Its last load came on 20 August 2025.",),
    order="....",
    target=("Reed 42 to 50% of the sheaves' weight, by your own 12 runs.",),
    stop="Outside of that: stop, and look at the comb.",
    then=("Hill rick: not before 9 December, long straw.",),
    cautions=("Guards on every belt.", "Local codes and trained people first."),
)


@pytest.fixture(scope="module")
def printed(pages):
    [page] = pages(drum_day_pdf(DAY))
    return page


def test_what_can_hurt_comes_before_the_rick(printed):
    assert printed.index("Guards on every belt.") < printed.index("Barn rick, 6.55 t")


def test_who_comes_what_it_should_give_and_what_follows_are_told(printed):
    assert "Una: show them the drum first, and sign" in printed
    assert "Reed 42 to 50% of the sheaves' weight" in printed
    assert "Hill rick: not before 9 December" in printed


def test_there_is_room_for_what_is_weighed_and_a_name(printed):
    assert "Reed, straw, grain, tail or waste Lot Bundles Weight" in printed
    assert "Signed: ...." in printed


def test_a_long_day_s_sheet_stays_on_its_page(pages):
    crowded = dataclasses.replace(
        DAY, hands=("A name of some length",) * 6, cautions=("A sentence. " * 12,) * 6
    )
    assert len(pages(drum_day_pdf(crowded))) == 1
