"""Grain: dressed and dried, held against a buyer's terms, and milled."""

import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.answers.grain import GrainQuestion, grain_choice
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.grain import FLOURS, Terms
from sheafwright.feeds.telling import Reader, again, read_by
from told import METRIC, loose

SCHEMA = json.loads(
    (Path(__file__).parent / "schemas" / "grain.json").read_text("utf-8")
)
SOUND = {"protein": 13.2, "hagberg": 290, "specific_weight": 78, "admixture": 1}


def asked(mass=6500, moisture=0.14, **said):
    return grain_choice(GrainQuestion(mass, moisture, **said))


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def test_a_tonne_milled_brings_several_times_its_price_before_its_costs():
    answer = asked(**SOUND, milling_price=330, flour_price=2.5)
    # 980 kg of flour at £2.50, and £330 as grain.
    assert answer.times == pytest.approx(2450 / 330)
    assert "7.4 times its price as grain" in valid(answer)["sentence"]
    assert answer.way("flour").each < 2450 / 2


def test_full_quality_loses_nothing_and_what_falls_short_does():
    full, short = asked(**SOUND), asked(**SOUND | {"protein": 12.4, "hagberg": 240})
    assert full.way("wheat").brings / full.way("wheat").tonnes == pytest.approx(330)
    off = 0.6 * 17.5 + 10 * 0.2
    got = short.way("wheat").brings / short.way("wheat").tonnes
    assert got == pytest.approx(330 - off)
    assert "A mill would take £12.50 a tonne off" in short.sentence


@pytest.mark.parametrize(
    "bad", [{"protein": 11.9}, {"hagberg": 190}, {"specific_weight": 69}]
)
def test_what_falls_below_the_least_is_refused_and_is_feed(bad):
    answer = asked(**SOUND | bad)
    assert answer.way("wheat") is None
    assert answer.as_grain.name == "feed"
    assert "would send it back for its" in answer.sentence
    assert valid(answer)["best"] in ("feed", "flour")


def test_too_much_dirt_is_refused():
    assert asked(**SOUND | {"admixture": 2.5}).refused[0].name == "admixture"


def test_without_tests_it_is_not_offered_to_a_mill():
    answer = asked()
    assert answer.way("wheat") is None
    assert "No mill takes it before it is tested" in answer.sentence


def test_damp_grain_shrinks_as_its_dry_matter_stays_and_costs_its_points():
    damp, dry = asked(20_000 / 0.95, 0.175), asked(20_000 / 0.95, 0.15)
    assert damp.heap.dry == pytest.approx(19_411.8, abs=0.05)
    assert dry.heap.dry == pytest.approx(20_000)
    points = 2.5 * 4.0 * 20
    assert damp.getting_ready - dry.getting_ready == pytest.approx(points)


@given(st.floats(2000, 1e6), st.floats(0.1, 0.3), st.floats(0, 500), st.floats(0, 500))
def test_no_kilogram_is_lost_but_screenings_and_water(mass, moisture, seed, owed):
    heap = asked(mass, moisture, seed=seed, owed=owed).heap
    assert heap.owed + heap.seed + heap.left == pytest.approx(heap.dry)
    assert heap.screenings + heap.dry <= mass * (1 + 1e-9)


def test_what_is_owed_and_sown_comes_off_first():
    answer = asked(seed=900, owed=400)
    assert answer.heap.left == pytest.approx(6500 * 0.95 - 1300)
    assert "First 400" in answer.sentence


def test_all_of_it_may_be_kept():
    answer = asked(1000, seed=950)
    assert answer.heap.left == pytest.approx(0)
    assert valid(answer)["sentence"].startswith("Nothing is left to sell")


def test_no_more_is_milled_than_flour_can_be_sold():
    answer = asked(**SOUND, flour_outlet=490)
    assert answer.flour_kg == pytest.approx(490)
    assert answer.way("flour").tonnes == pytest.approx(0.5)
    assert answer.over == pytest.approx(6.175 - 0.5)
    assert "The other 5.67\u00a0t, sold for milling" in answer.sentence


@pytest.mark.parametrize("kind", FLOURS)
def test_every_kind_of_flour_is_milled(kind):
    answer = asked(**SOUND, kind=kind)
    assert 0 < answer.flour_kg <= answer.heap.left
    valid(answer)


def test_dear_milling_leaves_it_grain():
    answer = asked(**SOUND, flour_costs=3000)
    assert answer.best.name == "wheat"
    assert "−£" in answer.sentence


def test_the_checklist_names_what_comes_before_selling_flour():
    says = " ".join(str(step.says) for step in asked().checklist)
    for word in ("Register", "HACCP", "calcium", "certificate", "allergen"):
        assert word in says
    assert {step.standing for step in asked().checklist} == {"from memory"}


def test_seed_is_never_said_to_be_sold():
    assert "may not be sold, bartered or given away" in asked().cautions[0]


WRONG = [
    ({"mass": 0}, "0 kg of grain can't be right"),
    ({"moisture": 0.9}, "can't hold 90% of water"),
    ({"protein": 40}, "Protein of 40% can't be right"),
    ({"hagberg": float("nan")}, "falling number of nan s can't be right"),
    ({"kind": "rye"}, "'rye' is no kind of flour"),
    ({"seed": 7000}, "there are only 6,175 kg"),
    ({"flour_price": -1}, "can't be right"),
]


@pytest.mark.parametrize(("said", "why"), WRONG)
def test_what_cannot_be_is_refused_in_one_sentence(said, why):
    with pytest.raises(OutOfRange, match=why):
        asked(**said)


def test_it_is_told_in_other_words_and_units():
    answer = asked(6500, 0.18, **SOUND, seed=100, owed=50, flour_outlet=500)
    told = [answer.sentence, *answer.cautions, *(step.says for step in answer.working)]
    assert not list(loose(told))
    with read_by(Reader("imperial")):
        assert not [each for each in told if METRIC.search(again(each))]


OWN = Terms(12.5, 11.0, 20.0, 240.0, 220.0, 0.1, 77.0, 74.0, 1.0, 0.14, 0.16, 8.0, 1.0)


def test_a_buyers_own_terms_go_before_the_tables():
    answer = asked(moisture=0.15, protein=12, hagberg=230, specific_weight=76,
                   admixture=0.5, terms=OWN, buyer="the mill at Combe")  # fmt: skip
    off = 0.5 * 20 + 10 * 0.1 + 1 * 1.0
    assert sum(test.off for test in answer.tests) == pytest.approx(off)
    sources = " ".join(step.source for step in answer.working)
    assert "Terms of the mill at Combe" in sources
    assert valid(answer)["moisture"]["full"] == 14


def test_what_a_mill_takes_off_damp_grain_stands_beside_drying_it():
    answer = asked(moisture=0.17, **SOUND)
    assert (answer.damp.off, answer.damp.drying) == pytest.approx((12, 8))
    assert "undried a mill would take £12 a tonne off, and drying costs £8" in (
        answer.sentence
    )
    assert "undried a mill would send it back" in asked(moisture=0.19).sentence


def test_what_is_dressed_already_loses_and_costs_no_more():
    answer = asked(1000, dressed=True)
    assert (answer.heap.screenings, answer.heap.left) == (0, 1000)
    assert answer.getting_ready == 0
    assert not any("Dressing" in step.says for step in answer.working)


def test_seed_kept_back_saves_what_it_would_cost():
    assert asked(seed=400).saved == pytest.approx(0.4 * 750)
    assert valid(asked(seed=400))["seed_saves_pence"] == 30_000
