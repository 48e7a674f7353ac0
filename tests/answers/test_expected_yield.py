"""What a field is expected to give, beside what others' fields gave."""

import dataclasses
import datetime
import json
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from sheafwright.answers.bands import banded
from sheafwright.answers.expected_yield import OwnHarvest, YieldQuestion, expected_yield
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds import yields

SCHEMAS = Path(__file__).parent / "schemas"
SCHEMA = json.loads((SCHEMAS / "expected_yield.json").read_text("utf-8"))
USUAL = YieldQuestion((80, 100), 200, datetime.date(2025, 10, 10))


def asked(**changes):
    return expected_yield(dataclasses.replace(USUAL, **changes))


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


@pytest.fixture(scope="module")
def usual():
    return asked()


def test_the_answer_is_a_sentence_with_its_odds(usual):
    assert valid(usual)["sentence"] == (
        "Expect about 3.9 t/ha of straw, of which 2.1 t/ha reed, and 2.7 t/ha of "
        "grain. 8 chances in 10 that the reed lies between 1.2 t/ha and 3.7 t/ha, and "
        "as many that the grain lies between 1.5 t/ha and 4.7 t/ha. This rests on an "
        "old experiment and on an assumed level: weigh what your own fields give, and "
        "it goes by them."
    )


def share_below(draws, value):
    return float(np.mean(draws < value))


OUTSIDE = {
    "2,600 lb/acre of straw, called tolerable (Middlesex, 18th c.)": ("straw", 2.914),
    "a good yield of combed reed in practice, low end": ("made", 2.5),
    "a bad year's combed reed in practice, high end": ("made", 2.0),
    "an old wheat in an organic trial, Cirencester 2000": ("grain", 4.0),
    "organic wheats in a drought on brash, 2018, low end": ("grain", 1.8),
    "organic wheats in a drought on brash, 2018, high end": ("grain", 2.8),
}


@pytest.mark.parametrize("what", OUTSIDE)
def test_what_others_weighed_would_not_surprise(usual, what):
    product, weighed = OUTSIDE[what]
    assert 0.1 < share_below(getattr(usual, product), weighed) < 0.9


def test_a_fine_years_reed_and_a_wretched_years_are_rare_and_possible(usual):
    assert 0.8 < share_below(usual.made, 3.7) < 0.98
    assert 0.01 < share_below(usual.made, 1.25) < 0.2


def test_reed_is_part_of_the_straw_and_long_straw_more_of_it(usual):
    long_straw = asked(combed=False)
    assert (usual.made < usual.straw).all()
    assert long_straw.product == "long straw"
    assert banded(long_straw.made)["p50"] > banded(usual.made)["p50"]
    np.testing.assert_array_equal(long_straw.grain, usual.grain)


def test_a_higher_cut_gives_less_reed_and_as_much_grain(usual):
    high = asked(stubble=25)
    assert (high.made < usual.made).all()
    np.testing.assert_array_equal(high.grain, usual.grain)


def test_rich_ground_gives_more_straw_and_a_warning(usual):
    rich = asked(nitrogen=(120, 160))
    assert banded(rich.straw)["p50"] > banded(usual.straw)["p50"]
    assert "soft straw, and lodging" in rich.sentence
    assert valid(rich)["too_rich"]
    assert not valid(usual)["too_rich"]


def test_own_harvests_move_what_is_expected_to_where_they_lie(usual):
    own = tuple(OwnHarvest(2000 + n, made=1.4, grain=2.0) for n in range(40))
    learned = asked(own=own)
    assert banded(learned.made)["p50"] == pytest.approx(1.4, rel=0.05)
    assert banded(learned.grain)["p50"] == pytest.approx(2.0, rel=0.05)
    assert "Here 40 harvests of your own count" in valid(learned)["sentence"]


def test_a_few_harvests_move_it_part_of_the_way_and_narrow_it(usual):
    learned = asked(own=(OwnHarvest(2023, made=1.4), OwnHarvest(2024, made=1.4)))
    assert 1.4 < banded(learned.made)["p50"] < banded(usual.made)["p50"]
    assert np.log(learned.made).std() < np.log(usual.made).std()
    assert learned.sentence.endswith(
        "Here 2 harvests of your own count, and the book as about 2 more."
    )


def test_a_harvest_off_richer_ground_says_less_for_this_field():
    plain = asked(own=(OwnHarvest(2024, made=3.0),))
    richer = asked(own=(OwnHarvest(2024, made=3.0, nitrogen=(140, 160)),))
    assert "Here 1 harvest of your own counts" in richer.sentence
    assert banded(richer.made)["p50"] < banded(plain.made)["p50"]


def test_the_same_seed_gives_the_same_answer(usual):
    np.testing.assert_array_equal(asked().made, usual.made)


def test_late_and_thin_costs_more_than_early_and_thin():
    early, late = (
        banded(asked(sown=datetime.date(*day), plants=60).straw)["p50"]
        for day in ((2025, 9, 25), (2026, 2, 25))
    )
    assert late < 0.9 * early


@pytest.mark.parametrize("name", yields.HEIGHT_CLASSES)
def test_every_height_class_has_an_answer(name):
    assert valid(asked(height_class=name))["height_class"] == name


def test_the_working_says_what_was_fitted_and_what_is_assumed(usual):
    standings = [step.standing for step in usual.working]
    assert standings[0] == "given"
    assert {"from memory", "assumed"} <= set(standings)


REFUSED = {
    "nitrogen, low first": ({"nitrogen": (100, 80)}, "the lower should come first"),
    "nitrogen": ({"nitrogen": (80, 900)}, "from 10 kg/ha to 400 kg/ha"),
    "plants": (
        {"plants": 0},
        "0 plants/m² can't be right; it should be from 5 to 1,000",
    ),
    "not a number": ({"plants": float("nan")}, "it should be from 5"),
    "height": ({"height": 300}, "A height of 300 cm"),
    "stubble": ({"stubble": 60}, "A stubble of 60 cm"),
    "class": ({"height_class": "dwarf"}, "no height class 'dwarf'"),
    "nothing weighed": ({"own": (OwnHarvest(2024),)}, "Nothing is said"),
    "weighed": (
        {"own": (OwnHarvest(2024, made=0),)},
        "0 t/ha weighed in 2024: it should be above 0 and at most 20 t/ha.",
    ),
    "own supply": (
        {"own": (OwnHarvest(2024, 2.0, nitrogen=(1, 2)),)},
        "1 kg/ha of nitrogen",
    ),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_no_field_could_have_is_refused_in_a_sentence(case):
    changes, words = REFUSED[case]
    with pytest.raises(OutOfRange) as refusal:
        asked(**changes)
    assert words in str(refusal.value)
