"""The almanac: a page a field, the advice before the year, and the working."""

from datetime import date

import pytest

from sheafwright.documents.almanac import Almanac, FieldPage, Milestone, almanac_pdf

LONG_MEADOW = FieldPage(
    name="Long Meadow",
    about="3.2 ha of Maris Widgeon",
    year=(
        Milestone("sown", "12 Oct", known=True),
        Milestone("cut", "5 Aug ±3", known=False),
    ),
    sentence="Cut Long Meadow on Wednesday.",
    advice="7 chances in 10 that it is carted before rain spoils it.",
    working=("It flowered on 22 June.", "41 summers were drawn from."),
)
HANGER = FieldPage("Hanger", "1.1 ha", (), "Leave Hanger.", "9 chances in 10.", ())


@pytest.fixture(scope="module")
def printed(pages):
    fields = (LONG_MEADOW, HANGER)
    return pages(almanac_pdf(Almanac("Marl Hollow", "2026", date(2026, 8, 3), fields)))


def test_each_field_has_its_page(printed):
    assert ["Long Meadow" in page for page in printed] == [True, False]
    assert ["Hanger" in page for page in printed] == [False, True]


def test_the_advice_comes_with_its_odds_before_the_working(printed):
    sentence, odds, worked = (
        printed[0].index(words)
        for words in (LONG_MEADOW.sentence, LONG_MEADOW.advice, "It flowered on 22")
    )
    assert sentence < odds < worked


def test_known_and_expected_dates_are_told_apart(printed):
    assert "sown 12 Oct known" in printed[0]
    assert "cut 5 Aug ±3 expected" in printed[0]


def test_a_field_with_much_to_say_runs_on_and_loses_nothing(pages):
    working = tuple(f"Reason {n}." for n in range(90))
    field = FieldPage("Long Meadow", "", LONG_MEADOW.year, "Wait.", "", working)
    sheet = Almanac("Marl Hollow", "2026", date(2026, 8, 3), (field,))
    words = " ".join(pages(almanac_pdf(sheet)))
    assert all(reason in words for reason in working)
