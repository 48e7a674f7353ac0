"""What a tray test says to the one who sets the drill."""

import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.answers.drill import (
    DrillQuestion,
    TrayTest,
    drill_calibration,
    wheel_distance,
)
from sheafwright.core.errors import OutOfRange

SCHEMA = json.loads((Path(__file__).parent / "schemas/drill.json").read_text("utf-8"))
EVEN, UNEVEN = (1.80, 1.81, 1.82), (1.80, 1.86, 1.78, 1.83)


def calibrate(wanted, *tests, distance=50, width=3):
    tests = tuple(TrayTest(*test) for test in tests)
    return drill_calibration(DrillQuestion(wanted, distance, width, tests))


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def test_one_setting_is_corrected_in_proportion():
    said = valid(calibrate(110, (40, UNEVEN)))
    assert said["sentence"] == (
        "Set the drill to 36.3 for 110\u00a0kg/ha, and catch again there. At 40 it "
        "gave 121\u00a0kg/ha, between 117\u00a0kg/ha and 125\u00a0kg/ha at 95 in 100. "
        "3 more catches would narrow it to ±2%."
    )
    assert said["setting"] == pytest.approx(
        40 * 110 / said["tested"][0]["rate_kg_per_ha"], abs=1e-3
    )


def test_between_two_settings_a_straight_line_is_drawn():
    answer = calibrate(110, (40, (1.8,)), (30, (1.425,)))
    assert answer.setting == pytest.approx(36)
    assert not answer.beyond
    assert "catch again" not in answer.sentence


def test_beyond_both_settings_it_is_to_be_caught_again():
    answer = calibrate(150, (40, EVEN), (30, (1.42, 1.43, 1.44)))
    assert valid(answer)["setting_beyond_tested"] is True
    assert "and catch again there" in answer.sentence


def test_one_catch_is_said_to_tell_nothing_of_the_spread():
    said = valid(calibrate(110, (40, (1.8,))))
    assert "One catch tells nothing of how evenly it sows" in said["sentence"]
    assert said["tested"][0]["rate_low_kg_per_ha"] is None
    assert said["tested"][0]["more_catches"] is None


def test_a_setting_that_can_not_be_told_from_right_is_left():
    assert valid(calibrate(121, (40, EVEN)))["tested_setting_right"] is True
    assert calibrate(121, (40, EVEN)).sentence.startswith("Leave the drill at 40: it")
    assert "Leave the drill at 40 for now" in calibrate(121, (40, UNEVEN)).sentence


def test_as_many_more_catches_narrow_it_if_they_scatter_alike():
    asked = calibrate(110, (40, UNEVEN)).tested[0]
    more = UNEVEN + (1.80, 1.86, 1.80)[: asked.more]
    low, high = calibrate(110, (40, more)).tested[0].interval
    assert (high - low) / 2 <= 0.02 * (high + low) / 2


def test_no_drill_is_said_to_sow_less_than_nothing():
    answer = calibrate(80, (40, (0.1, 2.0)))
    assert answer.tested[0].interval.low == 0
    assert "too unevenly" in valid(answer)["sentence"]


def test_the_caution_is_part_of_the_answer():
    assert "Stop the drive" in valid(calibrate(110, (40, EVEN)))["caution"]


def test_turns_of_the_wheel_are_metres():
    assert wheel_distance(2.2, 25) == pytest.approx(55)


@settings(deadline=None)
@given(
    st.floats(),
    st.lists(st.tuples(st.floats(), st.lists(st.floats(), max_size=4)), max_size=3),
    st.floats(1, 100),
)
def test_whatever_is_caught_is_answered_or_refused_in_one_sentence(
    wanted, tests, distance
):
    try:
        answer = calibrate(wanted, *tests, distance=distance)
    except OutOfRange as refusal:
        assert str(refusal).endswith(".")
        assert "\n" not in str(refusal)
    else:
        valid(answer)


@settings(deadline=None)
@given(
    st.floats(20, 400),
    st.lists(
        st.tuples(
            st.integers(1, 90),
            st.lists(st.floats(0.05, 8), min_size=1, max_size=6).map(tuple),
        ),
        min_size=1,
        max_size=2,
        unique_by=lambda test: test[0],
    ),
)
def test_every_likely_test_keeps_the_schema(wanted, tests):
    try:
        valid(calibrate(wanted, *tests))
    except OutOfRange as refusal:
        assert "settings" in str(refusal)


REFUSED = [
    ((110,), "0 settings were tested"),
    ((110, (40, ())), "0 catches are no test"),
    ((110, (40, (1.8,)), (40, (1.9,))), "Setting 40 is given twice"),
    ((110, (40, (1.8,)), (50, (1.8,))), "Both settings gave the same"),
    ((10, (40, (1.8,)), (30, (1.7,))), "below 0"),
    ((5000, (40, (1.8,))), "A rate of 5,000 kg/ha can't be right"),
    ((110, (0, (1.8,))), "A setting of 0 can't be right"),
    ((110, (40, (-1,))), "A catch of -1 kg can't be right"),
]


@pytest.mark.parametrize(("asked", "words"), REFUSED, ids=[each[1] for each in REFUSED])
def test_what_no_test_could_be_is_refused(asked, words):
    with pytest.raises(OutOfRange) as refusal:
        calibrate(*asked)
    assert words in str(refusal.value)


@pytest.mark.parametrize(("girth", "turns"), [(0, 25), (2, 0), (2, float("nan"))])
def test_a_wheel_that_is_none_is_refused(girth, turns):
    with pytest.raises(OutOfRange, match="can't be right"):
        wheel_distance(girth, turns)
