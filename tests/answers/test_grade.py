"""What is told of a handful, of measured stems, and of which bundles to open."""

import dataclasses
import json
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from answers.straw_stems import BENT, CRUSHED, NOTHING, SHORT, SOUND, stems
from sheafwright.answers.bundles import BundlesQuestion, tally
from sheafwright.answers.grade import GradeQuestion, grade
from sheafwright.answers.hand_grade import HandQuestion, hand_grade
from sheafwright.answers.sampling import SamplingQuestion, sampling
from sheafwright.core.errors import OutOfRange, UnreadableInput
from sheafwright.feeds import grades
from sheafwright.feeds.stems import read_stems, rows_in, stems_from_rows
from sheafwright.feeds.telling import Reader, again, read_by
from told import FOREIGN, METRIC, loose

SCHEMAS = Path(__file__).parent / "schemas"
RULE = grades.grade_rule("coatwork")


def valid(answer, name):
    schema = json.loads((SCHEMAS / f"{name}.json").read_text("utf-8"))
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(schema).validate(said)
    return said


def graded(*bundles, use="coatwork", rule=None):
    return grade(GradeQuestion(stems(*bundles), use, rule))


# A handful.


def test_a_sound_handful_is_fit_for_every_use_and_is_enough():
    said = valid(hand_grade(HandQuestion("held", length=105)), "hand_grade")
    assert said["sentence"] == (
        "Fit for coatwork, ridge and long straw. A handful is enough to say so; "
        "counting stems only tells how sure it is."
    )


@pytest.mark.parametrize(
    ("sign", "fit"),
    [
        ({"twist": "broke"}, []),
        ({"colour": "grey"}, ["ridge"]),
        ({"stems": "dog_legged"}, ["long_straw"]),
        ({"stems": "crushed"}, ["long_straw"]),
        ({"smell": "musty"}, []),
        ({"length": 70}, ["ridge", "long_straw"]),
        ({"length": 50}, ["ridge"]),
    ],
    ids=str,
)
def test_each_sign_leaves_the_uses_that_the_table_says(sign, fit):
    answer = hand_grade(HandQuestion(**({"twist": "held"} | sign)))
    said = valid(answer, "hand_grade")
    assert said["fit_for"] == fit
    assert said["against"] == list(sign)


def test_a_handful_is_held_against_the_holdings_own_shortest_straw():
    own = dataclasses.replace(RULE, length_least=1000)
    asked = HandQuestion("held", length=95, rules=(("coatwork", own),))
    assert hand_grade(asked).fit == ("ridge", "long_straw")


def test_a_twist_has_to_be_said():
    with pytest.raises(OutOfRange, match="Twist can't be ''; it should be one of held"):
        HandQuestion("")


# Stems.


def test_sound_stems_of_many_bundles_are_settled_as_grade_1():
    said = valid(graded(*[[SOUND] * 12] * 6), "grade")
    assert said["sentence"] == (
        "Grade 1 for coatwork, with 99% confidence. That settles it: no more stems are "
        "needed. All 72 stems keep the rule."
    )
    assert said["more_stems"] == 0


def test_so_few_stems_settle_nothing_and_the_answer_says_how_many_would():
    said = valid(graded([SOUND] * 12, [SOUND] * 11 + [SHORT]), "grade")
    assert said["grade"] == "first" and not said["settled"]
    assert said["more_stems"] == said["more_bundles"] * said["stems_from_each_bundle"]
    assert f"{said['more_stems']} more stems would settle it" in said["sentence"]
    assert "1 too short" in said["sentence"]


def test_that_many_more_like_these_do_settle_it():
    few = graded([SOUND] * 12, [SOUND] * 12)
    more = [[SOUND] * few.each] * few.more_bundles
    assert graded([SOUND] * 12, [SOUND] * 12, *more).more_bundles == 0
    assert graded([SOUND] * 12, [SOUND] * 12, *more[1:]).more_bundles > 0


def test_stems_on_the_border_are_said_to_be_so():
    answer = graded(*[[SOUND] * 9 + [SHORT]] * 4)
    assert valid(answer, "grade")["more_stems"] is None
    assert "so near the border" in answer.sentence


def test_all_stems_of_one_bundle_are_said_to_be():
    assert graded([SOUND] * 30).sentence.endswith(
        "All came from one bundle, which may be unlike the rest."
    )


def test_crushed_stems_are_no_coatwork_and_good_long_straw():
    bundles = [[CRUSHED] * 12] * 6
    coatwork, long_straw = graded(*bundles), graded(*bundles, use="long_straw")
    assert (coatwork.grade, long_straw.grade) == ("below", "first")
    assert coatwork.faults["damaged"] == 72
    assert coatwork.sentence.startswith("Not up to grade 2 for coatwork")


def test_the_holdings_own_rule_is_what_is_asked():
    own = dataclasses.replace(RULE, length_least=1100)
    said = valid(graded(*[[SOUND] * 12] * 6, rule=own), "grade")
    assert said["grade"] == "below" and said["own_rule"]
    assert said["rule"]["length_least_mm"] == 1100


def test_a_stem_of_which_nothing_was_measured_is_not_counted():
    assert graded([SOUND] * 12 + [NOTHING] * 5, [BENT]).seen == 13
    with pytest.raises(OutOfRange, match="it should be length, butt, bends or damage"):
        graded([NOTHING] * 4)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"first": 0.7}, "grade 1 should ask more"),
        ({"first": 1.2}, "A share of 120% for a grade can't be right"),
        ({"length_least": 1700}, "should be less than its most"),
        ({"butt_most": np.nan}, "A butt of nan"),
    ],
    ids=str,
)
def test_a_rule_that_makes_no_sense_is_refused(change, says):
    with pytest.raises(OutOfRange, match=says):
        graded([SOUND], rule=dataclasses.replace(RULE, **change))


def test_another_use_is_refused():
    with pytest.raises(OutOfRange, match="should be one of coatwork, ridge, long_str"):
        graded([SOUND], use="bedding")


# Files of stems.


@pytest.mark.parametrize(
    "content",
    [
        b'[{"length_mm": 1050, "bends": [310, 702], "bundle": 4}, {"length_mm": 990}]',
        (
            b'{"stems": [{"length_mm": 1050, "bends": 2, "bundle": 4},'
            b' {"length_mm": 990, "bends": null}]}'
        ),
        b"length_mm,bends,bundle,colour\n1050,2,4,gold\n990,,,\n",
    ],
)
def test_stems_are_read_from_json_and_csv_alike(content):
    read = stems_from_rows(rows_in(content, "file"), "file")
    np.testing.assert_array_equal(read.length_mm, [1050, 990])
    np.testing.assert_array_equal(read.bends, [2, np.nan])
    np.testing.assert_array_equal(read.bundle, [4, 0])


def test_what_a_measurer_says_of_places_along_a_stem_is_counted():
    rows = [
        {"dog_leg": True, "damage": {"crushed_mm": 12.0, "split_mm": 0.0}},
        {"bends": 0, "dog_leg": True, "damage": [], "lab": [61.5, 3.0, 22.0]},
    ]
    read = stems_from_rows(rows, "file")
    np.testing.assert_array_equal(read.bends, [1, 0])
    np.testing.assert_array_equal(read.damage, [1, 0])
    np.testing.assert_array_equal(read.brightness, [np.nan, 61.5])


def test_taper_is_reckoned_from_butt_and_top_where_it_was_not_measured():
    read = stems_from_rows([SOUND, SOUND | {"taper_mm_per_m": 2}], "file")
    np.testing.assert_allclose(read.taper_mm_per_m, [1.7 / 1.05, 2])


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "line 1: it should name any of the columns length_mm"),
        (b"{}", "should hold a list of 1 to 5000 stems"),
        (b"[]", "should hold a list of 1 to 5000 stems"),
        (b"[1]", "stem 1, the whole of it: 1 should be a stem with its measures"),
        (b"[", "is not JSON"),
        (b"\xff\xfe", "byte 0: the file should be UTF-8 text"),
        (b'[{"length_mm": "long"}]', "length_mm: 'long' should be a number from 20"),
        (b'[{"length_mm": 1e9}]', "length_mm: 1000000000.0 should be a number"),
        (b'[{"butt_mm": NaN}]', "butt_mm: nan should be a number from 0.3 to 25"),
        (b'[{"bends": {}}]', "bends: {} should be a number"),
        (b'[{"damage": "much"}]', "damage: 'much' should be a number"),
        (b"length_mm\n12\n", "stem 1, length_mm: '12' should be a number from 20"),
    ],
)
def test_a_file_that_holds_no_stems_is_refused_in_a_sentence(content, says):
    with pytest.raises(UnreadableInput) as refused:
        stems_from_rows(rows_in(content, "file"), "file")
    assert says in str(refused.value)


def test_a_file_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(UnreadableInput, match="cannot be read"):
        read_stems(tmp_path / "none.json")


# Which bundles to open.


def test_bundles_to_open_are_drawn_by_lot_and_the_same_again():
    said = valid(sampling(SamplingQuestion(400)), "sampling")
    numbers = said["bundle_numbers"]
    assert len(set(numbers)) == said["open_bundles"] == len(numbers)
    assert min(numbers) >= 1 and max(numbers) <= 400
    assert (
        said["bundle_numbers"]
        == sampling(SamplingQuestion(400)).to_json()["bundle_numbers"]
    )
    assert numbers != list(sampling(SamplingQuestion(400, seed=2)).numbers)


def test_a_plan_holds_both_risks_with_bundles_as_they_are():
    said = valid(sampling(SamplingQuestion(400)), "sampling")
    assert said["good_passes"] >= 0.95 and said["bad_passes"] <= 0.10
    curve = said["in_bundles"]["operating_characteristic"]
    passes = [point["chance_of_passing"] for point in curve]
    assert passes == sorted(passes, reverse=True) and passes[0] == 1
    assert said["in_bundles"]["stems"] > said["by_count"]["stems"]


def test_bundles_that_differ_more_are_opened_in_greater_number():
    even, odd = (sampling(SamplingQuestion(400, alike=a)) for a in (0.02, 0.4))
    assert even.open < odd.open and even.each > odd.each


@pytest.mark.parametrize("bundles", [1, 3])
def test_a_lot_too_small_to_tell_is_opened_whole_and_said_to_be(bundles):
    plan = sampling(SamplingQuestion(bundles))
    assert plan.numbers == tuple(range(1, bundles + 1))
    assert "That is every bundle that is left: the lot is that small." in plan.sentence
    assert plan.sentence.endswith(
        "So few bundles can't tell a good lot from a bad one."
    )


def test_bundles_that_would_settle_a_grade_are_others_than_those_opened():
    plan = sampling(SamplingQuestion(20, more=12, opened=(3, 4, 5)))
    assert plan.open == 12 and not {3, 4, 5} & set(plan.numbers)
    assert plan.sentence.startswith("Open 12 bundles") and "Pull" in plan.sentence
    assert "Take it" not in plan.sentence
    assert sampling(SamplingQuestion(20, more=30, opened=(3,))).open == 19


def test_when_every_bundle_was_opened_that_is_said():
    with pytest.raises(OutOfRange, match="All 2 bundles were opened already"):
        SamplingQuestion(2, opened=(1, 2))


def test_a_lot_of_no_bundles_is_refused():
    with pytest.raises(OutOfRange, match="A lot of 0 bundles can't be right"):
        SamplingQuestion(0)


# Bundles.


def test_bundles_are_reckoned_to_the_trades_moisture_and_bundles():
    said = valid(
        tally(BundlesQuestion(40, (6.2, 6.5, 6.4), (0.17,), (60.0,), 8.0)), "bundles"
    )
    each = (6.2 + 6.5 + 6.4) / 3 * 0.83 / 0.85
    assert said["weight_kg"] == pytest.approx(40 * each, abs=1e-3)
    in_trade = said["in_trade_bundles"]
    assert in_trade["nitch"] == pytest.approx(40 * each / 12.70058636, abs=0.01)
    assert in_trade["small"] == pytest.approx(2 * in_trade["nitch"], abs=0.02)
    assert in_trade["own"] == pytest.approx(5 * each, abs=0.01)
    assert said["weight_low_kg"] < said["weight_kg"] < said["weight_high_kg"]
    assert said["sentence"].endswith(
        "or 31.1 of the buyer's own of 8.0 kg. They are 60 cm round."
    )


def test_bundles_that_nobody_weighed_are_only_counted():
    assert valid(tally(BundlesQuestion(1)), "bundles")["sentence"] == (
        "1 bundle. None was weighed: weigh a few, at their moisture."
    )


def test_without_a_moisture_the_weight_is_said_to_be_as_it_lay():
    said = valid(tally(BundlesQuestion(10, (6.35,))), "bundles")
    assert "so that is as they lay" in said["sentence"]
    assert said["weight_low_kg"] is None


# Told to others.

ANSWERS = {
    "a handful": lambda: hand_grade(HandQuestion("held", length=105)),
    "a poor handful": lambda: hand_grade(
        HandQuestion("some_broke", "grey", "sweet", "crushed", 60)
    ),
    "settled": lambda: graded(*[[SOUND] * 12] * 6),
    "not settled": lambda: graded([SOUND] * 12, [SOUND] * 11 + [SHORT | BENT]),
    "one bundle": lambda: graded([SOUND] * 20 + [CRUSHED]),
    "the border": lambda: graded(*[[SOUND] * 9 + [SHORT]] * 4),
    "its own rule": lambda: graded([SOUND] * 9, rule=RULE),
    "a plan": lambda: sampling(SamplingQuestion(400)),
    "another's plan": lambda: sampling(SamplingQuestion(40, alike=0.2, rule=RULE)),
    "one to open": lambda: sampling(SamplingQuestion(1)),
    "bundles": lambda: tally(BundlesQuestion(40, (6.2, 6.5), (0.17,))),
    "own bundles": lambda: tally(
        BundlesQuestion(40, (6.2, 6.5), (0.17,), (60.0,), 8.0)
    ),
    "bundles as they lay": lambda: tally(BundlesQuestion(40, (6.2,))),
    "uncounted": lambda: tally(BundlesQuestion(1)),
}
every_answer = pytest.mark.parametrize("answer", ANSWERS.values(), ids=ANSWERS)


def words(said):
    yield from (said[name] for name in ("sentence", "caution") if name in said)
    yield from (step["says"] for step in said["working"])


@every_answer
def test_another_language_has_every_word(answer):
    with read_by(FOREIGN):
        for each in words(answer().to_json()):
            assert not list(loose(each)), each


@every_answer
def test_who_reads_inches_reads_no_millimetres(answer):
    said = answer().to_json()
    with read_by(Reader("imperial")):
        said = again(said)
    told = [said["sentence"], *(step["says"] for step in said["working"])]
    assert not [each for each in told if METRIC.search(each)]
