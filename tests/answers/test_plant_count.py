"""What a count at three leaves says to the one who knelt for it."""

import datetime
import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.answers.plant_count import CountQuestion, plant_count, row_spot
from sheafwright.core.errors import OutOfRange, SheafwrightError

SCHEMA = json.loads(
    (Path(__file__).parent / "schemas/plant_count.json").read_text("utf-8")
)
DECEMBER = datetime.date(2025, 12, 1)
FEW = (1, 2, 1, 0, 2, 1, 0)


def count(counted, target=135, on=DECEMBER, area=0.1, **asked):
    return plant_count(CountQuestion(counted, area, target, on, **asked))


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def test_a_stand_like_the_aim_is_left():
    said = valid(count((14, 13, 15, 12, 16, 13, 15, 11)))
    assert said["sentence"] == (
        "136 plants/m² stand, between 112 and 164 at 95 in 100: not surely fewer than "
        "the 135 aimed for. Leave it."
    )


def test_a_short_stand_is_left_and_helped_to_tiller():
    answer = count((10, 9, 8, 9, 10, 9, 8, 9))
    assert valid(answer)["verdict"] == "short"
    assert "Leave it" in answer.sentence
    assert "Harrow it lightly" in answer.sentence
    assert "patches" not in answer.sentence


def test_a_short_stand_in_patches_is_patched():
    answer = count((16, 2, 9, 15, 1, 11, 13, 2, 9, 3, 14, 2, 12, 3, 9))
    assert (answer.verdict, answer.patchy) == ("short", True)
    assert "sow the bare ones again by hand" in answer.sentence


def test_nothing_is_ploughed_on_a_count_that_can_not_tell():
    answer = count((3, 1, 4, 0, 2))
    assert valid(answer)["verdict"] == "unsure"
    assert "Count more spots" in answer.sentence


@pytest.mark.parametrize(
    ("on", "says"),
    [
        (DECEMBER, "by 31 January"),
        (datetime.date(2026, 1, 31), "by 31 January"),
        (datetime.date(2026, 2, 1), "for a spring wheat by 15 April"),
        (datetime.date(2026, 4, 16), "too late to sow wheat again"),
    ],
)
def test_a_stand_below_thirty_is_sown_again_while_its_class_may_be(on, says):
    answer = count(FEW, on=on)
    assert valid(answer)["verdict"] == "again"
    assert says in answer.sentence


def test_a_class_that_needs_less_cold_may_be_sown_again_later():
    answer = count(FEW, on=datetime.date(2026, 2, 1), variety_class="alternative")
    assert valid(answer)["may_sow_again"] is True
    assert "by 28 February" in answer.sentence


def test_a_stand_far_above_the_aim_is_said_to_be_apt_to_lodge():
    answer = count((44, 51, 47, 40))
    assert valid(answer)["verdict"] == "thick"
    assert "apt to lodge" in answer.sentence


def test_one_spot_tells_nothing_of_patches():
    answer = count((14,))
    assert answer.uneven is None
    assert "tell nothing of patches" in answer.working[1].says


def test_no_plants_at_all_is_an_answer():
    assert valid(count((0, 0, 0)))["plants_per_m2"] == 0


def test_a_length_of_row_is_a_spot():
    assert row_spot(2, 17.78) == pytest.approx(0.3556)


@settings(deadline=None)
@given(
    st.lists(st.integers(0, 300), min_size=1, max_size=15).map(tuple),
    st.floats(0.01, 10),
    st.floats(1, 1000),
    st.dates(datetime.date(2020, 1, 1), datetime.date(2030, 1, 1)),
)
def test_every_count_has_an_answer(counted, area, target, on):
    answer = count(counted, target, on, area)
    valid(answer)
    if answer.plants >= answer.least:
        assert answer.verdict != "again"


REFUSED = [
    ({"counted": ()}, "0 spots were counted"),
    ({"counted": (3, -1)}, "Spot 2 has -1 plants"),
    ({"counted": FEW, "area": 0}, "A spot of 0 m² can't be right"),
    ({"counted": FEW, "target": float("nan")}, "An aim of nan plants/m²"),
    ({"counted": FEW, "variety_class": "durum"}, "durum"),
]


@pytest.mark.parametrize(("asked", "words"), REFUSED, ids=[each[1] for each in REFUSED])
def test_what_no_count_could_be_is_refused(asked, words):
    with pytest.raises(SheafwrightError) as refusal:
        count(**asked)
    assert words in str(refusal.value)
    assert isinstance(refusal.value, OutOfRange)
