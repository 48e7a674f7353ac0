"""What is said of clover and weeds, and when."""

import datetime
import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.answers.clean_crop import CleanQuestion, clean_crop
from sheafwright.core.errors import OutOfRange

SCHEMA = json.loads(
    (Path(__file__).parent / "schemas" / "clean_crop.json").read_text("utf-8")
)
MAY, JUNE = datetime.date(2026, 5, 10), datetime.date(2026, 6, 11)


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def test_low_clover_stays_in_the_stubble():
    said = valid(clean_crop(CleanQuestion(MAY, clover=6)))
    assert said["sentence"] == (
        "The clover, 6 cm high, stays under a stubble of 12 cm."
    )
    assert (said["green_butts"], said["more_watch_days"]) == (False, 0)


def test_high_clover_makes_green_butts_and_a_longer_watch():
    said = valid(clean_crop(CleanQuestion(MAY, clover=18)))
    assert said["sentence"] == (
        "The clover, 18 cm high, comes into the butts at a stubble of 12 cm. Green "
        "butts dry slowly and heat: cut at 23 cm, or leave the sheaves out longer and "
        "probe their rick for 14 days more."
    )


def test_in_june_odd_plants_are_pulled():
    said = valid(clean_crop(CleanQuestion(JUNE)))
    assert said["sentence"].startswith("Pull docks, thistles and odd plants by 15 July")


def test_what_was_pulled_is_not_asked_for_again():
    assert valid(clean_crop(CleanQuestion(JUNE, rogued=True)))["job"] is None


def test_where_nobody_looked_and_nothing_is_due_nothing_is_said():
    assert valid(clean_crop(CleanQuestion(MAY)))["sentence"] == ""


@pytest.mark.parametrize(
    ("month", "day", "job"),
    [
        (2, 28, None),
        (3, 1, "harrowing"),
        (4, 20, "harrowing"),
        (4, 21, None),
        (6, 1, "rogueing"),
        (7, 15, "rogueing"),
        (7, 16, None),
    ],
)
def test_each_job_has_its_days(month, day, job):
    answer = clean_crop(CleanQuestion(datetime.date(2026, month, day)))
    assert valid(answer)["job"] == job


@given(st.floats(0, 150), st.floats(2, 40))
def test_a_cut_above_the_clover_is_clean(clover, stubble):
    answer = clean_crop(CleanQuestion(MAY, clover, stubble))
    valid(answer)
    assert answer.clean_cut > clover
    assert answer.green_butts == (answer.clean_cut > stubble)
    if answer.clean_cut <= 40:
        again = CleanQuestion(MAY, clover, max(answer.clean_cut, 2))
        assert not clean_crop(again).green_butts


@pytest.mark.parametrize("wrong", [{"clover": 151}, {"clover": 5, "stubble": 50}])
def test_what_cannot_be_is_refused(wrong):
    with pytest.raises(OutOfRange, match="should be"):
        CleanQuestion(MAY, **wrong)
