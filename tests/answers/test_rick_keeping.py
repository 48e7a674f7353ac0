"""How long a rick keeps is said with the meter's doubt; heat and damp come first."""

import datetime
import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.answers.rick_keeping import CAUTION, rick_keeping
from sheafwright.core.errors import OutOfRange

SCHEMAS = Path(__file__).parent / "schemas"
SCHEMA = json.loads((SCHEMAS / "rick_keeping.json").read_text("utf-8"))
RICKED = datetime.date(2026, 8, 20)


def rick(grain, straw=None, days=31, readings=((0, 14),)):
    """Ann's barn rick, from readings so many days after ricking."""
    read = [(_day(day), heat) for day, heat in readings]
    return rick_keeping("The barn rick", RICKED, read, _day(days), grain, straw)


def _day(after):
    return RICKED + datetime.timedelta(after)


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def test_a_sound_rick_is_said_to_keep_with_the_meters_doubt():
    assert valid(rick(0.16, 0.15))["sentence"] == (
        "The barn rick keeps until 23 October: thresh it by then. One seed in twenty "
        "would be dead by 26 December; a meter's error either way makes that 20 "
        "October or 13 May 2027. Its straw is dry enough to keep. So far its grain has "
        "breathed away 0.03% of itself; with water and vermin, 1.0% of its weight may "
        "be gone."
    )


def test_the_days_are_those_of_the_equation():
    # 16 % at 15 °C: 113.5 days, from memory of Fraser and Muir 1981.
    answer = rick(0.16, days=0, readings=[(0, 15)])
    assert answer.life.end_after == pytest.approx(113.5, abs=0.05)
    assert answer.life.half_after == pytest.approx(113.5 / 2, abs=0.05)


@pytest.mark.parametrize(
    ("grain", "days", "level"),
    [
        (0.14, 31, "sound"),
        (0.17, 31, "sound"),
        (0.17, 45, "half_spent"),
        (0.17, 100, "spent"),
        (0.241, 0, "too_damp"),
    ],
)
def test_levels_follow_damp_and_time(grain, days, level):
    assert valid(rick(grain, days=days))["level"] == level


def test_dry_and_cool_grain_keeps_for_long():
    answer = rick(0.12, readings=[(0, 6)])
    assert answer.sentence == "The barn rick keeps for more than a year as it is."
    assert valid(answer)["life"]["thresh_by"] is None


def test_heat_comes_before_keeping_even_under_a_cooler_last_reading():
    answer = rick(0.15, days=10, readings=[(0, 20), (8, 55), (9, 30)])
    assert valid(answer)["level"] == "too_warm"
    assert answer.sentence.startswith("The barn rick is at 55 °C, too warm")


def test_heat_that_is_over_has_spent_the_seed():
    assert rick(0.15, days=20, readings=[(0, 20), (8, 55), (19, 30)]).level == "spent"


@pytest.mark.parametrize(
    ("straw", "keeps"),
    [(0.15, "long"), (0.151, "short"), (0.18, "short"), (0.19, "never"), (None, None)],
)
def test_straw_keeps_as_hay_does(straw, keeps):
    assert valid(rick(0.14, straw))["straw_keeps"] == keeps


def test_grain_that_has_had_its_time_is_threshed_and_tested():
    answer = rick(0.18, days=120)
    assert answer.sentence == (
        "The barn rick holds grain that has had its time: thresh it and dry it now, "
        "and test it before you sow it."
    )
    assert valid(answer)["dry_matter_lost_share"] is None


def test_the_caution_goes_with_every_answer():
    assert valid(rick(0.15))["caution"] == CAUTION
    assert "before anyone opens a hot one" in CAUTION


def test_the_working_says_that_the_equation_is_from_memory_and_maize_is_no_wheat():
    steps = rick(0.16, 0.15).working
    assert [s.standing for s in steps if "one seed in twenty" in s.says] == [
        "from memory"
    ]
    assert [s.standing for s in steps if "maize" in s.says] == ["assumed"]
    assert [s.standing for s in steps if "straw held" in s.says] == ["published"]


def test_readings_of_one_day_count_by_the_hottest_in_any_order():
    there, back = [(0, 10), (0, 20), (5, 15)], [(5, 15), (0, 20), (0, 10)]
    hottest = [(0, 20), (5, 15)]
    assert rick(0.16, readings=there) == rick(0.16, readings=back)
    assert rick(0.16, readings=there).life == rick(0.16, readings=hottest).life


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"grain": 0.7}, r"The grain in The barn rick can't hold 70% .* 5 to 60%"),
        ({"grain": 0.15, "straw": 0.9}, "The straw in The barn rick can't hold 90%"),
        ({"grain": 0.15, "days": -1}, "should be from 0 to 730"),
        ({"grain": 0.15, "readings": []}, "has not been probed"),
        ({"grain": 0.15, "readings": [(0, float("nan"))]}, "reads nan; it should be"),
    ],
)
def test_what_cannot_be_is_refused(wrong, says):
    with pytest.raises(OutOfRange, match=says):
        rick(**wrong)


moistures = st.floats(0.06, 0.5)
readings = st.lists(
    st.tuples(st.integers(0, 60), st.floats(-20, 80)), min_size=1, max_size=6
)


@given(moistures, st.none() | moistures, st.integers(0, 700), readings)
def test_whatever_is_said_it_is_answered_and_damper_never_keeps_longer(
    grain, straw, days, readings
):
    answer = rick(grain, straw, days, readings)
    valid(answer)
    ends = [each.end_after for each in (answer.damper, answer.life, answer.drier)]
    assert ends == sorted(ends)
