"""Stooks are carted in an order that can be said, into cool ricks that have room."""

import dataclasses
import datetime
import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.answers.carting import carting
from sheafwright.answers.carting_question import CartingQuestion, StookSet, Store
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.telling import Reader, read_by
from told import FOREIGN, METRIC, loose

SCHEMAS = Path(__file__).parent / "schemas"
SCHEMA = json.loads((SCHEMAS / "carting.json").read_text("utf-8"))
TODAY = datetime.date(2026, 8, 5)
DRY, WET = (0.1,) * 4, (0.8,) * 4
MEADOW = StookSet(
    name="Long Meadow",
    sheaves=1000,
    cut=datetime.date(2026, 7, 20),
    fit=(0.8, 0.7, 0.6, 0.6),
    fit_by=(0.8, 0.85, 0.9, 0.9),
    rain_ahead=(0.2, 0.3, 0.5, 0.5),
    distance=1.2,
)
HANGER = dataclasses.replace(
    MEADOW,
    name="Hanger",
    sheaves=600,
    cut=datetime.date(2026, 7, 22),
    fit=(0.4, 0.7, 0.6, 0.6),
    fit_by=(0.4, 0.75, 0.9, 0.9),
    distance=None,
)
BARN, YARD = Store("Barn rick", 1160, 2120), Store("Yard rick", 700, 900)


def asked(*sets, stores=(BARN, YARD), **said):
    return carting(CartingQuestion(TODAY, sets, stores, **said))


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def names(answer):
    return [each.stook_set.name for each in answer.sets]


def test_the_first_load_has_its_day_its_hours_and_its_rick():
    assert valid(asked(MEADOW, HANGER))["sentence"] == (
        "Cart Long Meadow first, on Wednesday 5 August: 8 chances in 10 that it is fit "
        "by then. That is 4 to 6 loads, 5.5 hours with 2 carts and 5 hands. It fits "
        "Barn rick. Then Hanger, on Thursday 6 August. It fits Yard rick."
    )


def test_where_nothing_stands_there_is_nothing_to_cart():
    assert valid(asked())["sentence"] == "Nothing stands in the stook."


def test_no_day_is_made_up_where_none_is_likely():
    wet = dataclasses.replace(MEADOW, fit=WET[::-1], fit_by=(0.2, 0.3, 0.4, 0.64))
    answer = asked(wet)
    assert valid(answer)["sentence"] == "Nothing is likely fit to cart by 8 August."
    assert answer.sets[0].begins is None


# The order.


def test_the_likeliest_fit_goes_first():
    likelier = dataclasses.replace(HANGER, fit=(0.9,) * 4, fit_by=(0.9,) * 4)
    assert names(asked(MEADOW, likelier)) == ["Hanger", "Long Meadow"]


def test_of_those_alike_the_one_at_risk_goes_first():
    at_risk = dataclasses.replace(HANGER, fit=(0.8, 0.1, 0.1, 0.1), fit_by=(0.8,) * 4)
    assert names(asked(MEADOW, at_risk)) == ["Hanger", "Long Meadow"]


def test_of_those_alike_in_all_the_one_cut_first_goes_first():
    alike = dataclasses.replace(MEADOW, name="Hanger", cut=datetime.date(2026, 7, 18))
    assert names(asked(MEADOW, alike)) == ["Hanger", "Long Meadow"]


def test_what_is_begun_is_finished_before_another_is():
    big = dataclasses.replace(MEADOW, sheaves=1800)
    later = dataclasses.replace(HANGER, fit=(0.6, 0.95, 0.95, 0.95))
    first, then = asked(big, later).sets
    assert first.begins == TODAY
    assert then.begins >= first.ends == TODAY + datetime.timedelta(1)


def test_a_set_without_a_day_comes_last():
    wet = dataclasses.replace(HANGER, fit_by=(0.1,) * 4)
    last = asked(wet, MEADOW).sets[-1]
    assert (last.stook_set.name, last.begins, last.ends) == ("Hanger", None, None)


def test_a_set_that_no_day_ahead_finishes_has_no_end():
    huge = dataclasses.replace(MEADOW, sheaves=20_000)
    assert asked(huge).sets[0].ends is None


# Loads and hours.


def test_a_single_cart_takes_longer():
    assert asked(MEADOW, carts=1).sets[0].hours > asked(MEADOW).sets[0].hours


def test_few_hands_take_longer_with_the_same_loads():
    few, crew = asked(MEADOW, hands=2).sets[0], asked(MEADOW).sets[0]
    assert few.cartage.loads == crew.cartage.loads
    assert few.hours.low > crew.hours.low


def test_a_farther_rick_takes_longer():
    far = dataclasses.replace(MEADOW, distance=6.0)
    assert asked(far).sets[0].hours.high > asked(MEADOW).sets[0].hours.high


# Where it goes.


def test_it_goes_to_the_smallest_rick_in_which_it_surely_fits():
    assert asked(HANGER).sets[0].stored.store == "Yard rick"
    assert asked(MEADOW).sets[0].stored.store == "Barn rick"


def test_what_went_before_takes_its_room():
    # After 1,000 sheaves the barn rick holds 160 to 1,120 more.
    _first, then = asked(MEADOW, HANGER, stores=(BARN,)).sets
    assert (then.stored.verdict, then.stored.over) == ("perhaps", (440, 440))
    assert then.stored.left == (0, 520)


def test_a_rick_too_small_says_how_many_go_elsewhere():
    (only,) = asked(MEADOW, stores=(YARD,)).sets
    assert only.stored.sentence == (
        "Yard rick is too small: 100 to 300 sheaves must go elsewhere."
    )


def test_no_load_goes_to_a_hot_rick():
    hot = dataclasses.replace(BARN, hot=True)
    assert asked(MEADOW, stores=(hot,)).sets[0].stored.verdict == "nowhere"
    assert "No rick stands" in valid(asked(MEADOW, stores=(hot,)))["sentence"]


def test_a_rick_that_nobody_measured_serves_where_none_else_fits():
    unsaid = Store("Old rick", None, None)
    assert asked(HANGER, stores=(unsaid, YARD)).sets[0].stored.store == "Yard rick"
    (only,) = asked(MEADOW, stores=(unsaid, YARD)).sets
    assert (only.stored.verdict, only.stored.left) == ("unknown", None)


# After rain.


def after(**said):
    wet = dataclasses.replace(HANGER, rain=(20.0, 0.0, 4.0, 9.0), **said)
    return asked(wet).sets[0].after_rain


def test_after_rain_stooks_are_set_up_opened_moved_and_looked_at():
    assert after(grain=0.28).sentence == (
        "Go round and set up what has fallen: 13 mm fell in 3 days. Open and turn them "
        "on Wednesday 5 August, once their outsides are dry. Set them on fresh ground "
        "as you do: they have stood for 14 days. Look into the ears for sprouts: the "
        "grain is at about 28%."
    )


def test_they_are_opened_on_the_first_dry_day():
    later = after(rain_ahead=(0.9, 0.5, 0.2, 0.9))
    assert later.dry_day == TODAY + datetime.timedelta(2)
    assert "on the first dry day" in after(rain_ahead=WET).sentence


def test_new_stooks_of_dry_grain_are_neither_moved_nor_looked_into():
    assert after(cut=datetime.date(2026, 8, 1), grain=0.18).wants == (
        "set_up",
        "open_up",
    )


def test_without_rain_they_want_nothing():
    assert asked(HANGER).sets[0].after_rain.sentence == ""


def test_what_is_carted_today_is_left_alone():
    wet = dataclasses.replace(MEADOW, rain=(20.0, 20.0, 20.0))
    assert asked(wet).sets[0].after_rain.wants == ()


# What it is asked, and how it is told.


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"sheaves": 0}, "0 sheaves can't be right"),
        ({"distance": 300.0}, "A rick 300 km away can't be right"),
        ({"fit": (0.5,)}, "Long Meadow has chances of 1, 4 and 4 days"),
    ],
)
def test_what_cannot_be_is_refused(changes, says):
    with pytest.raises(OutOfRange, match=says):
        dataclasses.replace(MEADOW, **changes)


def test_two_sets_of_a_name_are_refused():
    with pytest.raises(OutOfRange, match="called Long Meadow"):
        asked(MEADOW, MEADOW)


def test_every_word_is_told_in_each_language_and_unit():
    wet = dataclasses.replace(HANGER, rain=(20.0,), grain=0.3)
    answer = asked(MEADOW, wet, stores=(BARN, Store("Old rick", None, None)))
    named = {"Long Meadow", "Hanger", "Barn rick", "Old rick"}
    with read_by(FOREIGN):
        said = [step.says for step in answer.working]
        said += [each.stored.sentence for each in answer.sets]
        said += [each.after_rain.sentence for each in answer.sets]
        assert not list(loose([answer.sentence, *said], named))
    with read_by(Reader("imperial")):
        said = answer.to_json()
    told = [step["says"] for step in said["working"]]
    assert not METRIC.search(" ".join([said["sentence"], *told]))


CHANCES = st.lists(st.floats(0, 1), min_size=4, max_size=4)


@given(
    sets=st.lists(st.tuples(st.integers(1, 5000), CHANCES), min_size=1, max_size=5),
    rooms=st.lists(st.integers(0, 5000), max_size=3),
)
def test_no_sheaf_is_lost_and_none_goes_where_there_is_no_room(sets, rooms):
    stooks = [
        dataclasses.replace(
            MEADOW, name=f"F{n}", sheaves=sheaves, fit=tuple(chances), fit_by=(0.9,) * 4
        )
        for n, (sheaves, chances) in enumerate(sets)
    ]
    stores = [Store(f"R{n}", low, 2 * low) for n, low in enumerate(rooms)]
    answer = asked(*stooks, stores=tuple(stores))
    valid(answer)
    assert sorted(names(answer)) == sorted(each.name for each in stooks)
    for store in stores:
        here = [e for e in answer.sets if e.stored.store == store.name]
        held = sum(e.stook_set.sheaves - e.stored.over.high for e in here)
        assert held <= store.low
