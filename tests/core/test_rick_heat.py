"""A hotter or a faster rick is never called safer, nor left longer."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.rick.heat import hottest_lately, hours_to_check, rise_per_day

STARTS, CHECKS = (49, 60, 65, 70), (24, 12, 4, 2, np.nan)
cooler_than_fire = st.floats(-20, 69.99)
rises = st.floats(-20, 100) | st.just(np.nan)


@given(cooler_than_fire, cooler_than_fire)
def test_a_hotter_rick_is_looked_at_no_later(one, other):
    cooler, hotter = (
        hours_to_check(heat, np.nan, STARTS, CHECKS) for heat in sorted([one, other])
    )
    assert hotter <= cooler


@given(cooler_than_fire, st.floats(0, 50), st.floats(0, 50))
def test_a_faster_rise_is_looked_at_no_later(temperature, rise, faster):
    slow = hours_to_check(temperature, rise, STARTS, CHECKS)
    assert hours_to_check(temperature, rise + faster, STARTS, CHECKS) <= slow


@given(cooler_than_fire, rises)
def test_the_next_look_is_never_in_less_than_two_hours_or_more_than_a_day(heat, rise):
    assert 2 <= hours_to_check(heat, rise, STARTS, CHECKS) <= 24


@given(st.floats(70, 300), rises)
def test_nobody_probes_a_rick_that_may_catch_fire(temperature, rise):
    assert np.isnan(hours_to_check(temperature, rise, STARTS, CHECKS))


def test_readings_of_one_visit_tell_no_rise():
    assert np.isnan(rise_per_day([0, 0.2, 0.5], [40, 44, 52], 72, 6))
    assert np.isnan(rise_per_day([0], [40], 72, 6))


@given(st.lists(st.floats(0, 90), min_size=1, max_size=9))
def test_the_hottest_is_one_of_the_readings_and_none_is_hotter(temperatures):
    hours = np.arange(len(temperatures))
    assert hottest_lately(hours, temperatures, 100) == max(temperatures)


def test_a_cool_spot_probed_last_does_not_hide_a_hot_one():
    assert hottest_lately([0, 1], [66, 30], 72) == 66


def test_the_rise_is_that_of_a_straight_line_through_noise():
    rng = np.random.default_rng(1)
    hours = np.linspace(0, 72, 50)
    noisy = 40 + 2 * hours / 24 + rng.normal(0, 0.5, 50)
    fitted = 24 * np.polyfit(hours, noisy, 1)[0]
    assert rise_per_day(hours, noisy, 72, 6) == pytest.approx(fitted)
