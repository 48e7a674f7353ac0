"""Limits of shares keep their promise; days of the comb are counted as on fingers."""

from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from sheafwright.core.threshing.control import (
    false_alarm,
    individuals_limits,
    log_ratio,
    range_limit,
    share_limits,
    share_of,
)
from sheafwright.core.threshing.fit_days import done_after, fit, hindrances

LIMITS = SimpleNamespace(humidity=(0.6, 0.9), most_rain=1.0, least_warmth=1.0)
shares = st.floats(0.001, 0.999)


@pytest.mark.parametrize("runs", [8, 20, 40])
def test_sound_runs_are_called_odd_about_as_seldom_as_is_said(runs):
    rng = np.random.default_rng(4)
    before, this = rng.normal(size=(100_000, runs)), rng.normal(size=100_000)
    limits = individuals_limits(before)
    odd = np.mean((this < limits.low) | (this > limits.high))
    assert false_alarm(runs) / 1.5 < odd <= false_alarm(runs)


def test_a_comb_set_badly_shows_on_the_first_run():
    # A reed share that goes up and down by 2 points, and one that falls by 8.
    rng = np.random.default_rng(5)
    low, centre, high = share_limits(0.46 + rng.normal(0, 0.02, (2000, 12)))
    assert np.mean((low < 0.46) & (high > 0.46)) > 0.99
    assert np.mean(low > 0.38) > 0.6
    assert np.mean(centre) == pytest.approx(0.46, abs=0.002)


@given(arrays(float, st.integers(2, 30), elements=shares))
def test_limits_of_shares_are_shares(runs):
    low, centre, high = share_limits(runs)
    assert 0 <= low <= centre <= high <= 1


@given(shares)
def test_a_share_comes_back_from_its_log_ratio(share):
    assert share_of(log_ratio(share)) == pytest.approx(share)


@given(arrays(float, st.integers(2, 30), elements=st.floats(-9, 9)), st.floats(-50, 50))
def test_limits_move_along_with_all_the_runs(runs, further):
    here, there = individuals_limits(runs), individuals_limits(runs + further)
    assert np.allclose(np.array(there) - np.array(here), further, atol=1e-6)
    assert range_limit(runs + further) == pytest.approx(range_limit(runs), abs=1e-6)


def test_each_thing_hinders_by_itself():
    hindered = hindrances(
        [0.95, 0.5, 0.8, 0.8, 0.8], [0, 0, 3, 0, 0], [9, 9, 9, 0.5, 9], LIMITS
    )
    assert hindered.argmax(axis=0)[:4].tolist() == [0, 1, 2, 3]
    assert hindered.sum(axis=0).tolist() == [1, 1, 1, 1, 0]
    assert fit(hindered).tolist() == [0, 0, 0, 0, 1]


def test_both_ends_of_the_comb_s_humidity_are_fit():
    assert fit(hindrances([0.6, 0.9], 2 * [1.0], 2 * [1.0], LIMITS)).tolist() == [1, 1]


def test_an_unknown_humidity_leaves_a_dry_day_unknown_and_a_wet_day_spoiled():
    days = fit(hindrances([np.nan, np.nan], [0, 9], [9, 9], LIMITS))
    assert np.isnan(days[0])
    assert days[1] == 0


@given(arrays(float, 40, elements=st.sampled_from([0.0, 1.0])), st.integers(1, 30))
def test_days_are_done_when_they_are_counted(fit_days, needed):
    counted, day = 0, float("nan")
    for number, is_fit in enumerate(fit_days, 1):
        counted += is_fit
        if counted == needed:
            day = number
            break
    assert done_after(fit_days, [needed])[0] == pytest.approx(day, nan_ok=True)


def test_needs_are_asked_of_every_winter():
    winters = np.ones((3, 10))
    winters[0] = 0
    assert done_after(winters, [2.0, 20.0]).shape == (3, 2)
