"""How thick to sow, as it is said to the one who sows."""

import datetime
import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.answers.sowing import sowing
from sheafwright.answers.sowing_question import CHOICES, LIMITS, SowingQuestion
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds import sowing as table

SCHEMA = json.loads((Path(__file__).parent / "schemas/sowing.json").read_text("utf-8"))
MID_OCTOBER = datetime.date(2025, 10, 15)
FEBRUARY = datetime.date(2026, 2, 10)
unhurried = settings(deadline=None)


def ask(**asked):
    """The answer for a usual lot of seed."""
    lot = {"thousand_grain_weight": 48, "germination": 0.95, "row_spacing": 17.78}
    return sowing(SowingQuestion(**lot | asked))


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def test_a_stand_is_turned_into_a_rate_in_every_unit():
    said = valid(ask(plants=140, establishment=0.7))
    assert said["sentence"] == (
        "For 140 plants/m² sow 101\u00a0kg/ha (0.80 cwt/acre, 6.4 st/acre): "
        "211 seeds/m², 37 to a metre of row."
    )
    assert said["rate_kg_per_ha"] == pytest.approx(210.5263 * 48 / 100, abs=1e-3)
    assert said["rate_st_per_acre"] == pytest.approx(
        8 * said["rate_cwt_per_acre"], abs=1e-3
    )


def test_a_hundredweight_and_a_half_is_never_called_thin():
    said = valid(ask(rate=188.303, establishment=0.7))
    assert said["seeds_per_m2"] == pytest.approx(392.3, abs=0.05)
    assert said["seeds_per_m_row"] == pytest.approx(69.75, abs=0.01)
    assert said["thick"] is True
    assert "That is thick seed" in said["sentence"]


@pytest.mark.parametrize("establishment", [0.2, 0.5, 0.9])
def test_it_is_thick_seed_however_little_comes_up(establishment):
    assert ask(rate=188.303, establishment=establishment).thick


def test_straw_in_mid_october_aims_for_what_a_trial_found_enough():
    said = valid(ask(sown=MID_OCTOBER, soil="loam"))
    assert said["target_plants_per_m2"] == 135
    assert said["seeds_per_m2"] == pytest.approx(200, abs=10)
    assert said["thick"] is said["thin"] is False
    assert "count yours at three leaves" in said["sentence"]


def test_february_straw_aims_for_250_to_300_plants_and_says_it_is_assumed():
    answer = ask(sown=FEBRUARY, soil="loam")
    assert 250 <= valid(answer)["target_plants_per_m2"] <= 300
    assert "no trial tells the best stand" in answer.sentence
    assert answer.working[2].standing == "assumed"


def test_a_published_stand_for_grain_is_said_to_be_published():
    answer = ask(sown=MID_OCTOBER, soil="loam", purpose="grain")
    assert answer.target == 90
    assert answer.working[2].standing == "published"


@pytest.mark.parametrize("soil", table.SOILS)
@pytest.mark.parametrize("after", table.PREVIOUS_CROPS)
@pytest.mark.parametrize("tillering", table.TILLERING)
def test_in_autumn_we_never_advise_thick_seed(soil, after, tillering):
    for day in range(0, 92, 7):
        sown = datetime.date(2025, 8, 15) + datetime.timedelta(day)
        answer = ask(sown=sown, soil=soil, after=after, tillering=tillering)
        assert not answer.thick
        assert not answer.thin
        assert 0 < answer.establishment < 1


def test_where_little_comes_up_the_aim_is_given_up_and_that_is_said():
    said = valid(ask(sown=datetime.date(2025, 11, 14), soil="clay", after="beans"))
    assert said["seeds_per_m2"] == pytest.approx(300 / 0.95, abs=1e-3)
    assert said["plants_per_m2"] < said["target_plants_per_m2"]
    assert "more seed than we advise" in said["sentence"]


def test_a_thick_rate_is_told_what_would_be_enough():
    answer = ask(rate=188.303, sown=MID_OCTOBER, soil="loam")
    assert "For straw, 135 plants/m² are enough." in answer.sentence


def test_a_stand_that_would_be_sown_again_is_too_thin():
    assert "too thin: a stand below 30" in ask(plants=20, establishment=0.7).sentence


def test_an_area_gives_seed_and_sacks_and_what_to_keep_back():
    said = valid(ask(rate=100, establishment=0.7, area=2.5))
    assert said["seed_needed_kg"] == pytest.approx(262.5)
    assert said["sacks"] == 11
    assert said["grain_to_keep_back_kg"] == pytest.approx(262.5 * 1.25 / 0.85, abs=1e-3)
    assert "11 sacks of 25 kg" in said["sentence"]


def test_germination_is_counted_once_beside_a_published_establishment():
    whole, poor = (
        ask(sown=MID_OCTOBER, soil="loam", germination=share) for share in (0.95, 0.5)
    )
    assert whole.plants / whole.seeds == pytest.approx(0.65)
    assert poor.seeds == pytest.approx(whole.seeds * 0.95 / 0.5)


@unhurried
@given(st.dates(datetime.date(2025, 8, 15), datetime.date(2026, 4, 15)))
def test_every_sowing_date_has_an_answer(sown):
    for purpose in table.PURPOSES:
        valid(ask(sown=sown, soil="loam", purpose=purpose))


@unhurried
@given(st.floats(1, 400), st.floats(0.3, 1))
def test_a_rate_asked_back_for_its_plants_is_the_same_rate(rate, establishment):
    plants = ask(rate=rate, establishment=establishment).plants
    if plants >= 1:
        back = ask(plants=plants, establishment=establishment).rate
        assert back == pytest.approx(rate, rel=1e-9)


@unhurried
@given(
    st.dictionaries(
        st.sampled_from([*LIMITS, *CHOICES]),
        st.floats() | st.sampled_from(["", "sand", "oats", "straw", "shy"]),
    ).filter(
        # A form gives numbers for numbers and words for words.
        lambda asked: all(
            isinstance(value, str) == (name in CHOICES) for name, value in asked.items()
        )
    ),
    st.none() | st.dates(),
)
def test_whatever_is_asked_is_answered_or_refused_in_one_sentence(asked, sown):
    try:
        answer = ask(sown=sown, **asked)
    except OutOfRange as refusal:
        said = str(refusal)
        assert said.endswith(".")
        assert "\n" not in said
        assert "should be" in said
    else:
        valid(answer)


REFUSED = {
    "A rate and plants are both given": {"rate": 100, "plants": 100},
    "Nothing says how thick": {"establishment": 0.7},
    "No establishment is given": {"rate": 100},
    "A germination of 101% can't be right": {"germination": 1.01, "rate": 100},
    "should be from 15 to 90 g": {"thousand_grain_weight": 480, "rate": 100},
    "Wheat is not sown on 29 June": {"sown": datetime.date(2025, 6, 29)},
    "no soil we know; it should be sand, loam or clay": {"soil": "chalk", "rate": 100},
    "more than a drill sows": {"plants": 900, "establishment": 0.05},
}


@pytest.mark.parametrize(("words", "asked"), REFUSED.items(), ids=str)
def test_what_no_sowing_could_be_is_refused(words, asked):
    with pytest.raises(OutOfRange) as refusal:
        ask(**asked)
    assert words in str(refusal.value)
