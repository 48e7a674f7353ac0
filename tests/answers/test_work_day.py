"""How long a crop's harvest takes is said in half days, with the hands that come."""

import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.answers.work_day import CAUTION, WorkQuestion, work_day
from sheafwright.core.errors import OutOfRange

SCHEMAS = Path(__file__).parent / "schemas"
SCHEMA = json.loads((SCHEMAS / "work_day.json").read_text("utf-8"))


def asked(area=4, hands=6, distance=1, **given):
    return work_day(WorkQuestion(area, hands, distance, **given))


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def test_a_field_is_answered_from_binder_to_rick():
    assert valid(asked())["sentence"] == (
        "With 6 hands, 4 ha are cut and stooked in 1 to 1½ days of fit weather: 2 at "
        "the binder for 5.8 hours, and 3 to 6 stooking keep up with it. Carting is 14 "
        "to 19 loads, 3 days with 2 carts; a whole crew is 5 to 7. It takes 3.9 km of "
        "twine, 395 m an acre; about 71 sheaves come untied and are tied by hand."
    )


def test_a_binder_of_your_own_takes_the_place_of_the_tables():
    # ASABE EP496 with 1.52 m at 4 km/h, and the table's 0.75: 0.456 ha an hour.
    answer = asked(cut_width=1.52, binder_speed=4)
    assert answer.field.capacity == pytest.approx(0.456)
    standings = {step.says[:6]: step.standing for step in answer.working}
    assert standings["1.52 m"] == "assumed"


def test_stooking_is_what_it_is_where_hands_are_few():
    assert asked(area=0.4, hands=2).field.days.low > asked(area=0.4).field.days.low
    assert "half a day" in asked(area=0.4, hands=6).sentence


def test_a_single_cart_takes_its_crew_along():
    one, two = asked(carts=1).cartage, asked(carts=2).cartage
    assert (one.crew, two.crew) == ((3, 4), (5, 7))
    assert one.hours.low > two.hours.low
    assert "with 1 cart;" in asked(carts=1).sentence


def test_sheaves_untied_cost_hands():
    answer = asked(mis_ties=25, sheaves=2400)
    assert valid(answer)["tied_by_hand_sheaves"] == 600
    assert answer.tying.hours == pytest.approx(10)
    assert answer.field.stook_hours.low > asked().field.stook_hours.low
    assert [s.standing for s in answer.working if "come untied" in s.says] == ["given"]


def test_the_caution_goes_with_every_answer():
    assert valid(asked())["caution"] == CAUTION
    assert "Stop the binder before anyone touches" in CAUTION


def test_the_working_says_what_others_counted_and_what_is_only_assumed():
    steps = {step.says: step.standing for step in asked().working}
    assert [steps[says] for says in steps if "Others counted 54" in says] == [
        "published"
    ]
    assert [steps[says] for says in steps if "pitch in the field" in says] == [
        "assumed"
    ]


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"area": 0}, r"0 ha to cut can't .* should be from 0.01 ha to 500 ha\."),
        ({"area": float("nan")}, "nan ha to cut"),
        ({"hands": 1}, r"Hands: 1; it should be at least 2, as many"),
        ({"distance": -1}, "A rick -1 km away can't .* from 0 km to 100 km"),
        ({"sheaves": 0}, "0 sheaves can't be right; it should be from 1 to 1,000,000"),
        ({"carts": 0}, "0 carts can't be right; it should be from 1 to 50"),
        ({"cut_width": 18}, "A binder that cuts 18 m can't .* from 0.5 m to 6 m"),
        ({"binder_speed": 0}, "A binder at 0 km/h"),
        ({"mis_ties": 101}, "101 sheaves in 100 untied"),
    ],
)
def test_what_cannot_be_is_refused(wrong, says):
    with pytest.raises(OutOfRange, match=says):
        asked(**wrong)


areas, hands = st.floats(0.05, 40), st.integers(2, 30)


@given(areas, hands, st.floats(0, 20), st.integers(1, 6), st.floats(0, 100))
def test_every_crop_is_answered(area, hands, distance, carts, mis_ties):
    answer = asked(area, hands, distance, carts=carts, mis_ties=mis_ties)
    valid(answer)
    assert answer.field.days.low >= answer.field.binder_hours / 6 - 1e-9
    assert answer.cartage.loads.low * answer.cartage.a_load.high >= answer.sheaves


@given(areas, hands, st.integers(1, 6))
def test_more_hands_are_never_slower(area, hands, carts):
    fewer, more = (asked(area, n, carts=carts) for n in (hands, hands + 1))
    for slow, quick in zip(
        (*fewer.field.days, *fewer.cartage.days),
        (*more.field.days, *more.cartage.days),
        strict=True,
    ):
        assert quick <= slow + 1e-9
