"""Should I grow it at all: odds, hours, money, what to buy, and reasons not to."""

import json
from pathlib import Path

import jsonschema
import pytest

from sheafwright.answers.should_grow import GrowQuestion, Seasons, should_grow
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.telling import Reader, again, read_by
from told import METRIC, loose

SCHEMA = json.loads(
    (Path(__file__).parent / "schemas" / "should_grow.json").read_text("utf-8")
)
ALL_THERE = {
    "machines": frozenset({"binder", "tractor", "drum"}),
    "buyer": "agreed",
    "standing": "organic",
    "has_seed": True,
    "reed_price": 1500,
}


def asked(area=2.0, hands=6, august_rain=70, **said):
    return should_grow(GrowQuestion(2027, area, hands, august_rain, **said))


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def test_without_a_buyer_it_is_not_yet():
    answer = asked(reed_price=1500)
    assert answer.verdict == "not_yet"
    assert valid(answer)["sentence"].startswith("Not yet: first find a thatcher")


def test_with_too_few_hands_it_is_not_yet():
    answer = asked(hands=2, **ALL_THERE)
    assert answer.verdict == "not_yet"
    assert answer.hands_wanted == 6
    assert "wants 6 pairs of hands at once, and you have 2." in answer.against[0]


def test_with_all_there_it_may_suit_and_reasons_are_told_still():
    answer = asked(area=1.0, **ALL_THERE)
    assert answer.verdict == "may_suit"
    assert {"waiting", "danger"} <= set(answer.reasons)
    assert not {"no_buyer", "few_hands", "lacks", "conversion"} & set(answer.reasons)


def test_where_it_lacks_it_is_for_love():
    answer = asked(**ALL_THERE | {"reed_price": 500})
    assert answer.verdict == "for_love"
    assert "lacks" in answer.reasons


@pytest.mark.parametrize(
    ("rain", "good"), [(40, 8.5), (20, 8.5), (70, 7.0), (100, 5.0), (200, 3.0)]
)
def test_the_wetter_august_is_the_fewer_years_are_good(rain, good):
    assert asked(august_rain=rain).good_years == pytest.approx(good)


def test_rich_and_open_ground_have_fewer_good_years():
    assert asked(ground="rich", lies="open").good_years == pytest.approx(5.0)
    assert "rich" in asked(ground="rich").reasons


def test_replayed_seasons_go_before_the_rain():
    answer = asked(august_rain=None, seasons=Seasons("Knoll", 30, 6))
    assert answer.good_years == pytest.approx(8)
    assert "Of 30 seasons replayed in the weather of Knoll" in answer.working[0].says


def test_hours_by_the_month_are_all_of_them():
    answer = asked()
    assert sum(x.hours for x in answer.months) == pytest.approx(answer.budget.hours)
    assert (answer.busiest.year, answer.busiest.month) in {(2027, 8), (2027, 7)}


def test_what_is_there_is_not_bought():
    bought = {x.what for x in asked().shopping}
    assert {"binder", "tractor", "seed", "hire"} <= bought
    there = {x.what for x in asked(**ALL_THERE).shopping}
    assert not {"binder", "tractor", "seed", "hire"} & there
    assert {"meter", "insurance"} <= there


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ({"area": 900}, "can't be right"),
        ({"hands": 0}, "0 hands can't be right"),
        ({"august_rain": 2}, "An August with 2 mm can't be right"),
        ({"august_rain": None}, "Nothing is known of the place"),
        ({"ground": "chalk"}, "ground is 'chalk'; it should be one of poor"),
        ({"reed_price": 9}, "can't be right"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(said, why):
    with pytest.raises(OutOfRange, match=why):
        asked(**said)


def test_it_is_told_in_other_words_and_units():
    answer = asked(hands=2, ground="rich", buyer="talked", reed_price=700)
    told = [answer.sentence, *answer.against, *answer.lessons]
    told += [step.says for step in answer.working]
    assert not list(loose(told, names={""}))
    with read_by(Reader("imperial")):
        assert not [each for each in told if METRIC.search(again(each))]
