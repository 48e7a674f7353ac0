"""What a germination test says to the one who counted it."""

import json
from pathlib import Path

import jsonschema
import pytest

from sheafwright.answers.germination import germination
from sheafwright.core.errors import OutOfRange

SCHEMAS = Path(__file__).parent / "schemas"
SCHEMA = json.loads((SCHEMAS / "germination.json").read_text("utf-8"))


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def test_four_trays_that_agree_are_summed_up_in_a_sentence():
    said = valid(germination([92, 90, 94, 91]))
    assert said["sentence"] == (
        "92 in 100 came up; between 89 and 94, at 95 in 100; the 4 trays agree."
    )
    assert said["trays_agree"] is True


def test_seed_below_the_least_for_sale_is_said_to_be():
    answer = germination([86, 84, 81, 85])
    assert answer.sentence == (
        "84 in 100 came up; between 80 and 87, at 95 in 100; the 4 trays agree. That "
        "is below the 85 in 100 that wheat sold as seed must reach."
    )
    assert valid(answer)["below_least_for_sale"] is True


def test_seed_just_above_the_least_is_not_called_sure():
    answer = germination([88, 86, 87, 87])
    assert not answer.below_least
    assert "so few seeds can't say for sure" in answer.sentence


def test_trays_too_far_apart_are_to_be_tested_again():
    answer = germination([98, 95, 84, 92])
    assert answer.sentence == (
        "The trays differ by more than chance allows: test again. They lie 14 seeds "
        "apart, where 11 is the most at 92 in 100."
    )
    assert valid(answer)["trays_agree"] is False


@pytest.mark.parametrize(("lowest", "agree"), [(84, True), (83, False)])
def test_the_last_seed_of_the_range_decides(lowest, agree):
    # A mean of 91 allows 11: 95 less 84.
    assert germination([95, 92, 92, lowest]).agree is agree


def test_three_trays_are_not_judged_by_a_table_of_four():
    answer = germination([90, 91, 92])
    assert valid(answer)["trays_agree"] is None
    assert "no table says" in answer.sentence


def test_trays_of_fifty_are_not_judged_by_a_table_of_a_hundred():
    assert germination([45, 46, 44, 45], seeds_in_tray=50).agree is None


def test_one_tray_says_nothing_of_evenness():
    assert "one tray tells nothing" in germination([90]).sentence


@pytest.mark.parametrize("tray", [0, 100])
def test_none_or_all_may_come_up(tray):
    said = valid(germination([tray] * 4))
    assert said["trays_agree"] is True
    assert said["came_up_in_100"] == tray


def test_the_working_says_what_rests_on_a_text_and_what_on_memory():
    high, low = germination([92, 90, 94, 91]), germination([60, 62, 58, 61])
    assert [step.standing for step in high.working] == [
        "given",
        "common practice",
        "published",
        "from memory",
    ]
    assert low.working[2].standing == "from memory"


REFUSED = {
    (101, 90): "Tray 1 has 101 come up; it should be from 0 to the 100 laid",
    (90, -1): "Tray 2 has -1 come up",
    (): "0 trays of 100 seeds are no test",
    (50,) * 21: "21 trays",
}


@pytest.mark.parametrize(("came_up", "words"), REFUSED.items(), ids=str)
def test_what_no_test_could_count_is_refused(came_up, words):
    with pytest.raises(OutOfRange) as refusal:
        germination(came_up)
    assert words in str(refusal.value)
