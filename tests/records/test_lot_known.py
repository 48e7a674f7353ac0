"""Orders are weighed by what was measured of a lot, and by their buyer's own rule."""

import pytest

from records.trade_book import DAY, order_of, orla
from sheafwright.answers.asked_grades import GradeFor
from sheafwright.records.models import Lot
from sheafwright.records.selectors.allotment import allotment
from sheafwright.records.selectors.lot_known import known_before, lots_known
from sheafwright.records.services.grading import (
    grade_rule_set,
    hand_grade_record,
    stem_sample_record,
)

__all__ = ["order_of", "orla"]
FIRST, SECOND = GradeFor("coatwork", 1), GradeFor("coatwork", 2)
GOOD = [
    {"length_mm": 950 + 5 * n, "butt_mm": 4.0, "bends": 0, "damage": 0, "bundle": n}
    for n in range(1, 41)
]
"""Of 955 to 1150 mm, each from a bundle of its own."""


@pytest.fixture
def known(marl, reed):
    def look(*buyers):
        reed.refresh_from_db()
        return lots_known(holding=marl, lots=[reed], buyers=buyers)[reed.pk]

    return look


@pytest.fixture
def stems(writes, reed):
    writes(stem_sample_record, lot=reed, date=DAY, stems=GOOD)


@pytest.fixture
def only(marl):
    """What is told of the only order."""
    return lambda: allotment(holding=marl).answer.orders[0]


def written(reed, **said):
    Lot.objects.filter(pk=reed.pk).update(**said)


def test_what_was_written_counts_where_nobody_measured(reed, known):
    assert known().known.by == known().length_by == ""
    written(reed, grade="coat, best", length_cm=96)
    told = known()
    assert (told.known.by, told.length_by, told.length) == ("written", "written", 0.96)
    assert told.known.grades == {SECOND: 1.0, "best": 1.0}


def test_a_handful_counts_before_what_was_written(writes, reed, known):
    written(reed, grade="coatwork 1", length_cm=96)
    writes(hand_grade_record, lot=reed, date=DAY, twist="held", length_cm=88)
    told = known()
    assert (told.known.by, told.length_by, told.length) == ("handful", "handful", 0.88)
    assert told.known.grades[FIRST] == told.known.grades[SECOND] == 1.0
    writes(hand_grade_record, lot=reed, date=DAY, twist="held", colour="grey")
    assert FIRST not in known().known.grades


def test_stems_count_before_all_else(writes, reed, known, stems):
    written(reed, grade="ridge, best", length_cm=140)
    writes(hand_grade_record, lot=reed, date=DAY, twist="broke", length_cm=50)
    told = known()
    assert (told.known.by, told.known.count) == ("stems", 40)
    assert 0.9 < told.known.grades[FIRST] < told.known.grades[SECOND] < 1
    assert "best" in told.known.grades
    # A tenth of 40 stems 5 mm apart are below it.
    assert told.length == pytest.approx(0.9745)
    assert (told.length_by, told.length_stems) == ("stems", 40)


def test_a_buyers_own_rule_holds_for_her_alone(writes, known, stems):
    writes(
        grade_rule_set, use="coatwork", buyer_name="orla  QUINCE", length_least_cm=110
    )
    told = known("Orla Quince", "Nell Ash")
    assert list(told.known_for) == ["Orla Quince"]
    assert told.known_for["Orla Quince"].grades[SECOND] < 0.01
    assert told.known.grades[FIRST] > 0.9


def test_a_buyers_own_rule_stands_before_the_holdings(writes, known, stems):
    writes(grade_rule_set, use="coatwork", length_least_cm=110)
    writes(grade_rule_set, use="coatwork", buyer_name="Orla Quince", length_least_cm=60)
    told = known("Orla Quince")
    assert (
        told.known.grades[SECOND]
        < 0.01
        < 0.9
        < told.known_for["Orla Quince"].grades[FIRST]
    )


def test_an_order_gets_what_its_buyers_rule_lets_her_have(
    writes, order_of, only, stems
):
    order_of(grades="coatwork 1", least_length_cm=95)
    assert only().given == {"R-26-1": pytest.approx(2000)}
    assert only().why == (
        "By 40 stems R-26-1 is grade 1 for coatwork, with 99% confidence.",
        "Of R-26-1 9 stems in 10 are 97 cm or longer, by 40 measured.",
    )
    writes(
        grade_rule_set, use="coatwork", buyer_name="Orla Quince", length_least_cm=110
    )
    assert only().given == {}
    assert "it is graded below what is asked" not in only().why[0]
    assert "Lot R-26-1 does not suit: its grade is " in only().why[-1]


def test_stems_too_short_are_not_given_whatever_was_written(
    reed, order_of, only, stems
):
    written(reed, length_cm=140)
    order_of(least_length_cm=100)
    assert only().given == {}
    assert only().why[-1] == (
        "Lot R-26-1 does not suit: its stems are 97 cm, and 100 cm is asked."
    )


def test_lots_measured_tell_of_what_grade_the_next_should_be(marl, reed, stems):
    told, _own = known_before(holding=marl, kind="reed")
    assert (told.by, told.count) == ("past", 1)
    assert 0.6 < told.grades[FIRST] < 2 / 3
    assert known_before(holding=marl, kind="long_straw") == (None, {})
