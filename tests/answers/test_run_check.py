"""A badly set comb shows the same day, by limits of one's own runs; sound runs pass."""

import json
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from sheafwright.answers.run_check import run_check, run_checks
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.telling import again, read_by
from told import FOREIGN, loose

SCHEMA = json.loads(
    (Path(__file__).parent / "schemas" / "run_check.json").read_text("utf-8")
)
SOUND = {"reed": 0.46, "grain": 0.28, "tail": 0.02, "waste": 0.24}


def runs(n, seed=3, spread=0.01):
    """Sound runs that differ by about a point."""
    reed = np.random.default_rng(seed).normal(0.46, spread, n).tolist()
    return [SOUND | {"reed": each, "waste": 0.70 - each} for each in reed]


def test_shares_that_never_changed_may_change_by_a_point():
    before = [SOUND] * 12
    assert not run_check(SOUND | {"tail": 0.028, "waste": 0.232}, before).odd
    odd = run_check(SOUND | {"tail": 0.032, "waste": 0.228}, before).odd
    assert [each.product for each in odd] == ["tail", "waste"]


def valid(answer):
    said = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


def of(answer, product):
    return next(each for each in answer.shares if each.product == product)


def test_a_comb_set_badly_is_said_with_what_to_look_at():
    answer = run_check(SOUND | {"reed": 0.38, "waste": 0.32}, runs(14))
    said = valid(answer)["sentence"]
    low = of(answer, "reed").limits.low
    assert said.startswith(f"Reed 38%, below the lower limit of {low:.0%}")
    assert "by your own 14 runs before it." in said
    assert "Look at the comb's setting before the next rick." in said


def test_a_run_like_those_before_it_is_said_so():
    answer = run_check(runs(15, seed=4)[-1], runs(14))
    assert valid(answer)["sentence"] == "It gave as your own 14 runs before it did."
    assert not answer.odd


def test_limits_lie_about_the_middle_of_the_runs_before():
    reed = of(run_check(SOUND, runs(14)), "reed")
    shares = [each["reed"] for each in runs(14)]
    assert min(shares) < reed.limits.centre < max(shares)
    # Shewhart's three standard deviations of shares, which log-ratios hardly move here.
    by_hand = 3 * np.abs(np.diff(shares)).mean() / 1.128
    assert reed.limits.high - reed.limits.centre == pytest.approx(by_hand, rel=0.03)


def test_too_few_runs_set_no_limits():
    answer = run_check(SOUND | {"reed": 0.2, "waste": 0.5}, runs(7))
    assert valid(answer)["sentence"] == (
        "7 runs of your own came before it; from 8 on they set limits."
    )
    assert not answer.is_judged


def test_only_the_latest_runs_count():
    worn = [SOUND | {"reed": 0.3, "waste": 0.4}] * 20
    answer = run_check(SOUND, [*worn, *runs(30)])
    assert answer.runs == 30
    assert of(answer, "reed").limits.low > 0.4


def test_a_jump_inside_the_limits_is_told():
    # Slowly up and quickly down: each step is small, this one is not.
    rise = [0.40 + 0.004 * n for n in range(20)]
    before = [SOUND | {"reed": each, "waste": 0.70 - each} for each in rise]
    answer = run_check(SOUND | {"reed": 0.44, "waste": 0.26}, before)
    assert of(answer, "reed").jumped
    assert not of(answer, "reed").odd
    assert "more from the run before" in valid(answer)["sentence"]


BAD = SOUND | {"reed": 0.34, "waste": 0.36}


def test_a_bad_run_sets_no_limits_for_those_after_it():
    checks = run_checks([*runs(14), BAD, BAD, SOUND])
    assert [bool(each.odd) for each in checks[-3:]] == [True, True, False]
    assert checks[-1].runs == 14
    assert of(checks[-1], "reed").limits.low > 0.4


def test_several_runs_outside_are_the_new_way():
    checks = run_checks([*runs(14), *[BAD] * 9, BAD, SOUND])
    assert [bool(each.odd) for each in checks[14:]] == [*[True] * 3, *[False] * 7, True]
    assert checks[17].runs == 3
    assert checks[-1].runs == 10


def test_what_was_not_weighed_is_not_judged():
    answer = run_check({"reed": 0.46, "waste": 0.54, "tail": 0.0}, runs(14))
    assert [each.product for each in answer.shares] == ["reed", "waste"]
    assert valid(answer)["products"][1]["odd"] == 1


@pytest.mark.parametrize(
    "run", [{"reed": float("nan")}, {"chaff": 0.1}, {"waste": float("inf")}]
)
def test_no_share_is_refused(run):
    with pytest.raises(OutOfRange, match="it should be a share of one of reed"):
        run_check(run, runs(14))


@pytest.mark.parametrize("reed", [0.2, 0.46, 0.65])
def test_all_of_it_can_be_told_in_another_language(reed):
    answer = run_check(SOUND | {"reed": reed, "waste": 0.70 - reed}, runs(14)).to_json()
    said = [answer["sentence"], *(step["says"] for step in answer["working"])]
    assert not list(loose(said))
    with read_by(FOREIGN):
        assert again(answer["sentence"]).count("⟦") >= 1
