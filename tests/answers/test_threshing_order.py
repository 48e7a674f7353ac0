"""The rick that heats comes first or not at all; orders come before rats and rain."""

import datetime
import json
from pathlib import Path

import jsonschema
import pytest

from sheafwright.answers.threshing_order import RickAsked, threshing_order
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.telling import Reader, again, read_by
from told import loose

SCHEMA = json.loads(
    (Path(__file__).parent / "schemas" / "threshing_order.json").read_text("utf-8")
)
TODAY = datetime.date(2024, 11, 20)
AUGUST = datetime.date(2024, 8, 20)
LATELY = datetime.date(2024, 11, 1)


def rick(name, carted=AUGUST, kg=14_000.0, **said):
    return RickAsked(name, carted, kg, **{"probe_due": False} | said)


def asked(*ricks):
    return threshing_order(ricks, TODAY)


def names(answer):
    return [each.asked.name for each in answer.turns]


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def test_no_rick_is_said_so():
    assert valid(asked())["sentence"] == "No rick stands to be threshed."


def test_the_next_rick_is_named_with_its_reason():
    answer = asked(rick("Barn rick", height=1.3, lodged=0.05))
    assert valid(answer)["sentence"] == (
        "Barn rick goes to the drum next: comb it. Its last load came on 20 August "
        "2024."
    )
    assert answer.turns[0].why_so == ("It has about 1.08 m of straw and 5% of it lay.",)


def test_a_hot_rick_is_barred_and_said_first():
    answer = asked(rick("Barn rick"), rick("Hill rick", level="hot"))
    assert answer.sentence.startswith(
        "Hill rick is not opened before the fire service has been rung and agrees."
    )
    assert answer.next.asked.name == "Barn rick"


@pytest.mark.parametrize("level", ["hot", "dangerous", "fire"])
def test_no_order_opens_a_hot_rick(level):
    answer = asked(rick("Hill rick", level=level, ordered_for=TODAY))
    assert valid(answer)["next"] is None
    assert answer.turns[0].verdict == "barred"


def test_a_warm_rick_waits_for_no_sweat():
    answer = asked(rick("Barn rick"), rick("New rick", LATELY, level="warm"))
    assert names(answer)[0] == "New rick"
    assert "probe it before it is opened" in answer.sentence


def test_a_rick_that_heats_up_comes_first_and_is_told_so():
    rises = {"level": "cool", "heat": 46.0, "rise": 6.4, "probe_due": True}
    answer = asked(rick("Barn rick"), rick("New rick", LATELY, **rises))
    assert valid(answer)["sentence"] == (
        "New rick goes to the drum next, once it has been probed and is not hot: comb "
        "it. It heats, 46 °C and rising by 6.4 °C a day: take it first, and probe it "
        "before it is opened."
    )


def test_a_rick_not_probed_of_late_is_probed_first():
    turn = asked(rick("Barn rick", probe_due=True)).turns[0]
    assert turn.probe_first
    assert turn.sentence == (
        "Barn rick: comb it, once it has been probed and is not hot."
    )
    assert "at 60 °C or more nobody opens it" in str(turn.why)


def test_a_damp_rick_and_one_whose_time_is_spent_come_first():
    damp = rick("Damp rick", LATELY, straw=0.2)
    spent = rick("Spent rick", LATELY, keeps_until=TODAY)
    assert set(names(asked(rick("Barn rick"), damp, spent))[:2]) == {
        "Damp rick",
        "Spent rick",
    }


def test_a_sound_rick_sweats_six_weeks():
    answer = asked(rick("New rick", LATELY))
    assert valid(answer)["sentence"] == (
        "New rick: not before 13 December, comb it. It was carted on 1 November and "
        "sweats until 13 December."
    )
    assert answer.turns[0].from_day == LATELY + datetime.timedelta(42)


def test_orders_go_before_rats_rats_before_rain_and_rain_before_age():
    ricks = (
        rick("Old", AUGUST - datetime.timedelta(9)),
        rick("Open", is_open=True),
        rick("Rats", vermin=TODAY),
        rick("Later", ordered_for=TODAY + datetime.timedelta(60)),
        rick("Sooner", ordered_for=TODAY + datetime.timedelta(20)),
    )
    assert names(asked(*ricks)) == ["Sooner", "Later", "Rats", "Open", "Old"]


def test_rats_of_last_spring_are_forgotten():
    assert "Rats" not in str(asked(rick("A", vermin=AUGUST)).turns[0].why)


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ({"fit_to_comb": False}, "not fit to comb"),
        ({"height": 0.95}, "shorter than 0.76 m"),
        ({"lodged": 0.4}, "kinked"),
    ],
)
def test_straw_that_can_t_be_combed_is_long_straw(said, why):
    turn = asked(rick("Barn rick", **said)).turns[0]
    assert not turn.combed
    assert why in str(turn.why_so)


def test_straw_of_just_the_least_length_is_combed():
    # 0.76 m above a stubble of 0.12 m and below an ear of 0.10 m.
    assert asked(rick("Barn rick", height=0.9801)).turns[0].combed
    assert not asked(rick("Barn rick", height=0.9799)).turns[0].combed


def test_an_unmeasured_crop_is_to_be_measured_first():
    assert "measure a few sheaves" in str(asked(rick("Barn rick")).turns[0].why_so)


def test_where_no_order_is_written_down_the_working_says_so():
    says = [step.says for step in asked(rick("A")).working]
    assert "No order is written down." in says
    says = [step.says for step in asked(rick("A", ordered_for=TODAY)).working]
    assert "No order is written down." not in says


@pytest.mark.parametrize("said", [{"kg": -1}, {"kg": float("nan")}, {"straw": 0.99}])
def test_what_no_rick_can_be_is_refused(said):
    with pytest.raises(OutOfRange, match="it should be"):
        rick("Barn rick", **said)


def test_it_is_told_in_other_words_and_units():
    ricks = (
        rick("Barn", height=1.3, lodged=0.05),
        rick("Low", LATELY, height=0.9, is_open=True, vermin=TODAY),
        rick("Hot", level="hot", ordered_for=TODAY),
        rick("Damp", straw=0.2),
    )
    answer = asked(*ricks)
    told = [answer.sentence, [each.to_json() for each in answer.turns]]
    told += [step["says"] for step in answer.to_json()["working"]]
    skip = {"barred", "now", "not_yet", "Barn", "Low", "Hot", "Damp"}
    assert not list(loose(told, skip))
    with read_by(Reader("imperial")):
        assert "0.76 m" not in json.dumps(again(told))
