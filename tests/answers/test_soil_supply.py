"""What is said of the nitrogen of ground, and when it is too much for straw."""

import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.answers.soil_supply import (
    SWARDS,
    Ley,
    SoilSupplyQuestion,
    soil_supply,
)
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds import nitrogen

SCHEMAS = Path(__file__).parent / "schemas"
SCHEMA = json.loads((SCHEMAS / "soil_supply.json").read_text("utf-8"))
AFTER_RAPE = SoilSupplyQuestion("medium", 650, "oilseed_rape")
CLOVER = Ley(years=4, sward="clover", use="grazed")


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def test_ground_that_is_neither_rich_nor_poor_is_said_to_be_sound():
    said = valid(soil_supply(AFTER_RAPE))
    assert said["sentence"] == (
        "Index 2: about 80 kg/ha to 100 kg/ha of nitrogen; tall straw stays sound up "
        "to about 100 kg/ha."
    )
    assert said["beside_sound"] == "sound"


def test_a_long_clover_ley_is_too_rich_and_wants_a_root_crop_first():
    said = valid(soil_supply(SoilSupplyQuestion("deep_clay", 550, ley=CLOVER)))
    assert said["sentence"] == (
        "Index 5: about 160 kg/ha to 240 kg/ha of nitrogen; tall straw stays sound up "
        "to about 100 kg/ha. More makes soft straw, and lodging: take a root crop or "
        "another cereal first, then this wheat."
    )
    assert said["beside_sound"] == "rich"


def test_manure_that_alone_makes_it_too_rich_is_to_be_spared():
    answer = soil_supply(SoilSupplyQuestion("medium", 650, "oilseed_rape", manure=20))
    assert valid(answer)["manure_supply_kg_per_ha"] == 12
    assert answer.sentence == (
        "Index 2, and 12 kg/ha from manure: about 92 kg/ha to 112 kg/ha of nitrogen; "
        "tall straw stays sound up to about 100 kg/ha. More makes soft straw, and "
        "lodging: spread less manure, or none."
    )


def test_rich_ground_wants_no_manure_and_a_root_crop_first():
    answer = soil_supply(SoilSupplyQuestion("deep_clay", 550, ley=CLOVER, manure=5))
    assert "spread no manure, and take a root crop" in answer.sentence


def test_poor_ground_is_said_to_grow_thin_straw():
    answer = soil_supply(SoilSupplyQuestion("light", 750, "cereals"))
    assert valid(answer)["beside_sound"] == "poor"
    assert "below about 60 kg/ha tall straw comes thin and short" in answer.sentence


def test_the_higher_of_ley_and_last_crop_holds_for_three_years():
    indices = [
        soil_supply(
            SoilSupplyQuestion(
                "deep_clay", 550, "cereals", Ley(4, "clover", "grazed", since)
            )
        ).index
        for since in (2, 3, 4)
    ]
    # To the fourth crop only the cereals before it tell.
    assert indices == [4, 3, 2]


def test_an_organic_clover_ley_leaves_more_than_plain_grass():
    clover, grass = (
        soil_supply(SoilSupplyQuestion("medium", 650, ley=Ley(4, sward, "grazed")))
        for sward in ("clover", "grass")
    )
    assert (clover.index, grass.index) == (3, 2)


def test_old_pasture_and_lucerne_count_as_the_richest_ley_and_are_called_assumed():
    for ley in (Ley(20, "grass", "cut"), Ley(3, "lucerne", "cut")):
        answer = soil_supply(SoilSupplyQuestion("deep_clay", 550, ley=ley))
        assert answer.index == 5
        assert answer.cells[-1].standing == "assumed"


def test_every_cell_used_is_named_to_be_checked():
    answer = soil_supply(
        SoilSupplyQuestion("medium", 650, "cereals", Ley(3, crops_since=2))
    )
    crop, ley = answer.cells[1:]
    assert crop.says == (
        "After cereals on medium soil, moderate rain: index 1. Check this against the "
        "current official tables."
    )
    assert "to crop 2 after ploughing: index 2. The higher index" in ley.says
    assert {crop.standing, ley.standing} == {"from memory"}
    assert "RB209" in crop.source


names = {
    "soil": st.sampled_from(nitrogen.SOILS),
    "rain": st.floats(500, 4000),
    "manure": st.floats(0, 100),
}
leys = st.builds(
    Ley,
    st.integers(1, 40),
    st.sampled_from(sorted(SWARDS)),
    st.sampled_from(nitrogen.USES),
    st.integers(1, 6),
)


@given(
    st.builds(
        SoilSupplyQuestion,
        last_crop=st.sampled_from(nitrogen.last_crops()),
        ley=st.none() | leys,
        **names,
    )
)
def test_every_question_that_can_be_asked_has_an_answer(question):
    valid(soil_supply(question))


REFUSED = {
    SoilSupplyQuestion("peat", 650, "beans"): "Have peaty ground measured",
    SoilSupplyQuestion("medium", 420, "beans"): "from 500 mm to 4,000 mm",
    SoilSupplyQuestion("medium", float("nan"), "beans"): "from 500 mm to 4,000 mm",
    SoilSupplyQuestion("medium", 650, "hemp"): "no last crop 'hemp'",
    SoilSupplyQuestion("medium", 650, "beans", manure=-1): "from 0 t/ha to 100 t/ha",
    SoilSupplyQuestion("medium", 650): "Nothing is said of what grew there last",
    SoilSupplyQuestion("medium", 650, ley=Ley(3, crops_since=2)): "Nothing is said",
    SoilSupplyQuestion("medium", 650, ley=Ley(3, "chicory")): "no sward of a ley",
    SoilSupplyQuestion("medium", 650, ley=Ley(3, "clover", "hay")): "no use of a ley",
    SoilSupplyQuestion("medium", 650, ley=Ley(0)): "each should be 1 or more",
}


@pytest.mark.parametrize(("question", "words"), REFUSED.items(), ids=str)
def test_what_the_tables_cannot_say_is_refused_in_a_sentence(question, words):
    with pytest.raises(OutOfRange) as refusal:
        soil_supply(question)
    assert words in str(refusal.value)
