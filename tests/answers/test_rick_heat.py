"""What a probe in the rick says, danger first, and when to look again."""

import datetime
import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.answers.rick_heat import CAUTION, rick_heat
from sheafwright.core.errors import OutOfRange

SCHEMAS = Path(__file__).parent / "schemas"
SCHEMA = json.loads((SCHEMAS / "rick_heat.json").read_text("utf-8"))
BUILT = datetime.date(2026, 8, 20)
NOW = datetime.datetime(2026, 9, 2, 9, 0, tzinfo=datetime.UTC)
HOUR = datetime.timedelta(hours=1)


def rick(*readings, now=NOW):
    """Ann's barn rick, from readings so many hours ago."""
    history = [(now - hours * HOUR, heat) for hours, heat in readings]
    return rick_heat("The barn rick", BUILT, history, now)


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


STEPS = [
    (
        38,
        "cool",
        24,
        "The barn rick is cool, 38 °C at most: probe it daily until 1 Oct",
    ),
    (52, "warm", 12, "The barn rick is warm, 52 °C: probe it twice a day."),
    (62, "hot", 4, "probe it every 4 hours, and ring the fire service before anyone"),
    (66.5, "dangerous", 2, "dangerously hot, 66.5 °C: tell the fire service now"),
]


@pytest.mark.parametrize(("heat", "level", "hours", "words"), STEPS)
def test_each_step_says_what_to_do_and_when_to_look_again(heat, level, hours, words):
    answer = rick((1, heat))
    assert (answer.level, answer.next_check) == (level, hours * HOUR)
    assert answer.due == NOW + (hours - 1) * HOUR
    assert words in valid(answer)["sentence"]


def test_from_70_degrees_the_fire_service_is_rung_and_nobody_goes_near():
    answer = rick((1, 70))
    assert answer.sentence == (
        "Ring the fire service now: The barn rick is at 70 °C and may catch fire. Keep "
        "everyone off, and do not open it without them."
    )
    assert (answer.danger, answer.next_check, answer.due) == (4, None, None)
    assert valid(answer)["next_check_h"] is None


@pytest.mark.parametrize(("heat", "first"), [(59.9, False), (60, True), (70, True)])
def test_the_fire_service_is_rung_before_anyone_opens_a_hot_stack(heat, first):
    answer = rick((1, heat))
    assert answer.fire_service_first is first
    assert ("fire service" in answer.sentence) is first


def test_a_rick_never_probed_is_to_be_probed_today():
    answer = rick()
    assert answer.due == NOW
    assert valid(answer)["hottest_c"] is None
    assert answer.sentence == (
        "The barn rick has not been probed: probe it today, and daily until 1 October."
    )


def test_after_six_weeks_a_cool_rick_is_probed_weekly():
    last_day = datetime.datetime(2026, 9, 30, 9, tzinfo=datetime.UTC)
    settled = last_day + datetime.timedelta(1)
    assert rick((1, 30), now=last_day).next_check == 24 * HOUR
    weekly = rick((1, 30), now=settled)
    assert weekly.next_check == 7 * 24 * HOUR
    assert weekly.sentence.endswith("probe it weekly.")


def test_a_settled_rick_that_heats_is_watched_like_a_new_one():
    later = datetime.datetime(2026, 12, 1, 9, tzinfo=datetime.UTC)
    assert rick((1, 62), now=later).next_check == 4 * HOUR


def test_a_rise_is_said_and_brings_the_next_look_forward():
    answer = rick((25, 50), (1, 57))
    assert answer.rise == pytest.approx(7)
    assert answer.next_check / HOUR == pytest.approx(24 * 3 / 7)
    assert "57 °C and rising by 7.0 °C a day" in answer.sentence
    assert "probe it within 10 hours of the last" in answer.sentence


def test_a_rick_below_the_first_step_is_not_called_cool_while_it_climbs():
    answer = rick((25, 40), (1, 46))
    assert answer.level == "cool"
    said = "The barn rick is warming, 46 °C and rising by 6.0 °C a day: probe it daily"
    assert answer.sentence.startswith(said)


def test_a_cooler_reading_does_not_hide_a_hot_one_of_the_same_days():
    answer = rick((20, 72), (1, 45))
    assert answer.level == "fire"
    assert "rising" not in answer.sentence
    assert "45" not in answer.sentence


def test_the_order_in_which_readings_arrive_does_not_matter():
    assert rick((1, 57), (25, 50)) == rick((25, 50), (1, 57))


def test_a_look_that_is_overdue_is_said_to_be():
    answer = rick((30, 52))
    assert answer.overdue
    assert "due on Tuesday 1 September at 15:00: probe it now." in answer.sentence
    assert not rick((11, 52)).overdue


def test_the_caution_goes_with_every_answer():
    assert valid(rick((1, 20)))["caution"] == CAUTION
    assert "Local codes and trained people first." in CAUTION


def test_the_working_names_the_texts_behind_the_steps():
    steps = rick((1, 62)).working
    assert steps[0].standing == "given"
    assert "probed every 4 hours" in " ".join(step.says for step in steps)
    assert [s.standing for s in steps if "70 °C" in s.says] == ["published"]


@pytest.mark.parametrize("heat", [float("nan"), float("inf"), -50, 1200])
def test_a_reading_no_probe_could_give_is_refused(heat):
    with pytest.raises(OutOfRange, match=r"The barn rick on .* should be from -40"):
        rick((1, heat))


@given(st.lists(st.tuples(st.floats(0, 2000), st.floats(-40, 1000)), max_size=8))
def test_whatever_the_readings_the_hottest_of_three_days_is_never_played_down(said):
    answer = rick(*said)
    last = min((hours for hours, _ in said), default=0)
    lately = [heat for hours, heat in said if hours <= last + 71]
    valid(answer)
    assert answer.danger >= sum(max(lately, default=0) >= at for at in (49, 60, 65, 70))
