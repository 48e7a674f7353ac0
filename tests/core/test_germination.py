"""The interval is that of others' code, and the trays' table has no holes."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.core.stand.germination import (
    in_hundred,
    share_up,
    spread,
    widest_by_chance,
    wilson_interval,
)
from sheafwright.feeds import seed

tests = st.integers(1, 2000).flatmap(
    lambda seeds: st.tuples(st.just(seeds), st.integers(0, seeds))
)


@settings(deadline=None)
@given(tests, st.sampled_from([0.5, 0.9, 0.95, 0.99]))
def test_the_interval_is_scipys(test, confidence):
    from scipy.stats import binomtest

    seeds, up = test
    ours = wilson_interval(up / seeds, seeds, confidence)
    theirs = binomtest(up, seeds).proportion_ci(confidence, method="wilson")
    assert tuple(ours) == pytest.approx(tuple(theirs), abs=1e-9)


@given(tests)
def test_the_interval_holds_the_share_that_was_seen(test):
    seeds, up = test
    low, high = wilson_interval(up / seeds, seeds, 0.95)
    assert low - 1e-12 <= up / seeds <= high + 1e-12


def test_the_interval_holds_the_true_share_about_as_often_as_it_says():
    rng = np.random.default_rng(7)
    for true in (0.5, 0.85, 0.95):
        up = rng.binomial(400, true, 20_000)
        low, high = wilson_interval(up / 400, 400, 0.95)
        assert np.mean((low <= true) & (true <= high)) == pytest.approx(0.95, abs=0.015)


@pytest.mark.parametrize("trays", [2, 4])
def test_every_mean_has_a_width_and_its_mirror_the_same(trays):
    tray_range = seed.tray_range(trays)
    means = np.arange(2, 100)
    widths = widest_by_chance(means, tray_range)
    np.testing.assert_array_equal(widths, widest_by_chance(101 - means, tray_range))
    assert (np.diff(widths[means >= 51]) <= 0).all()
    assert widest_by_chance(0, tray_range) == widths[-1]


def test_two_trays_above_the_table_cannot_lie_as_far_apart_as_its_first_width():
    high = [
        pair
        for pair in itertools.product(range(90, 101), repeat=2)
        if in_hundred(share_up(pair, 100)) >= 98
    ]
    assert spread(high).max() < seed.tray_range(2).widest[0]


def test_trays_of_one_seed_lot_seldom_differ_by_more_than_chance():
    rng = np.random.default_rng(3)
    trays = rng.binomial(100, 0.88, (20_000, 4))
    widest = widest_by_chance(in_hundred(share_up(trays, 100)), seed.tray_range(4))
    # The table is made for a chance of one in forty.
    assert np.mean(spread(trays) > widest) == pytest.approx(0.025, abs=0.01)
