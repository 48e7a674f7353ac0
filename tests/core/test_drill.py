"""A tray test: its interval keeps its word, and its settings run through the tests."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.core.stand.drill import (
    catches_wanted,
    delivered,
    distance_run,
    setting_between,
    setting_in_proportion,
    spread_of,
    student_interval,
)

catches = st.lists(st.floats(0.1, 10), min_size=2, max_size=20)
rates = st.floats(20, 400)


@settings(deadline=None)
@given(catches, st.sampled_from([0.5, 0.9, 0.95, 0.99]))
def test_the_interval_is_scipys(values, confidence):
    from scipy import stats

    t = stats.t.ppf((1 + confidence) / 2, len(values) - 1)
    half = t * stats.sem(values)
    low, high = student_interval(values, confidence)
    assert (low, high) == pytest.approx(
        (np.mean(values) - half, np.mean(values) + half), abs=1e-7
    )


def test_the_interval_holds_the_true_rate_as_often_as_it_says():
    rng = np.random.default_rng(11)
    low, high = student_interval(rng.normal(120, 4, (20_000, 4)), 0.95)
    assert np.mean((low <= 120) & (high >= 120)) == pytest.approx(0.95, abs=0.006)


def test_as_many_catches_as_are_wanted_do_narrow_it_and_one_fewer_do_not():
    from scipy import stats

    for spread in (0.01, 0.02, 0.04, 0.08):
        number = int(catches_wanted(spread, 0.02, 0.95))
        half = [
            stats.t.ppf(0.975, n - 1) * spread / np.sqrt(n)
            for n in (number - 1, number)
        ]
        assert half[1] <= 0.02 < half[0]


@given(st.lists(st.floats(0, 0.3), min_size=2, max_size=2).map(sorted))
def test_a_more_uneven_drill_never_wants_fewer_catches(spreads):
    even, uneven = catches_wanted(np.array(spreads), 0.02, 0.95)
    assert even <= uneven


def test_a_hopeless_drill_wants_more_catches_than_anyone_makes():
    assert np.isnan(catches_wanted(5.0, 0.02, 0.95))


@given(catches, st.floats(1, 500), st.floats(0.1, 12))
def test_the_same_seed_over_twice_the_ground_is_half_the_rate(caught, far, wide):
    once, twice = (delivered(caught, run, wide) for run in (far, 2 * far))
    assert once == pytest.approx(2 * twice)


@given(catches, st.floats(0.1, 10))
def test_the_spread_does_not_ask_in_what_unit_it_was_weighed(caught, unit):
    other = np.array(caught) * unit
    assert spread_of(other) == pytest.approx(spread_of(caught), abs=1e-9)


@given(st.floats(0.5, 4), st.floats(1, 100))
def test_a_wheel_runs_its_turns_times_its_girth(girth, turns):
    assert distance_run(girth, 2 * turns) == pytest.approx(
        2 * distance_run(girth, turns)
    )


@given(st.floats(1, 100), rates, rates)
def test_in_proportion_is_the_line_through_nothing_and_the_test(setting, gave, wanted):
    line = setting_between((0, setting), (0, gave), wanted)
    assert setting_in_proportion(setting, gave, wanted) == pytest.approx(line)


@given(st.tuples(rates, rates).filter(lambda pair: abs(pair[0] - pair[1]) > 1), rates)
def test_two_tests_may_be_told_in_either_order(gave, wanted):
    there = setting_between((20, 50), gave, wanted)
    back = setting_between((50, 20), gave[::-1], wanted)
    assert there == pytest.approx(back, rel=1e-6, abs=1e-6)
