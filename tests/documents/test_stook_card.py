"""The stook card: caution first, then each rule with its standing, on one page."""

from datetime import date

import pytest

from sheafwright.documents.stook_card import Rule, StookCard, stook_card_pdf

CARD = StookCard(
    holding="Marl Hollow",
    made_on=date(2026, 8, 5),
    rules=(
        Rule("Butts hard down, ears together.", "Common practice"),
        Rule("Let the row run north.", "Published: an old book"),
    ),
    cautions=("Keep away from the binder.", "Trained people first."),
    pairs=4,
)


@pytest.fixture(scope="module")
def printed(pages):
    [page] = pages(stook_card_pdf(CARD))
    return page


def test_what_can_hurt_comes_before_how_it_is_done(printed):
    first, last = printed.index("Keep away from"), printed.index("Trained people")
    assert first < last < printed.index("Butts hard down")


def test_each_rule_has_its_number_and_its_standing(printed):
    assert "1 Butts hard down, ears together. Common practice" in printed
    assert "2 Let the row run north. Published: an old book" in printed


def test_the_drawing_names_ears_butts_wind_and_north(printed):
    seen = printed[printed.index("Seen from its end") : printed.index("1 Butts")]
    assert all(f" {word} " in seen for word in ("ears", "butts", "wind", "N"))
