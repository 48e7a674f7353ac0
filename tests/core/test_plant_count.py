"""A count's interval holds the true stand, whether it is even or stands in patches."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.core.stand.plant_count import (
    chance_so_uneven,
    density,
    density_interval,
    poisson_interval,
)

counts = st.lists(st.integers(0, 200), min_size=1, max_size=12)
unhurried = settings(deadline=None)


@unhurried
@given(st.integers(0, 5000), st.sampled_from([0.5, 0.9, 0.95, 0.99]))
def test_the_interval_of_chance_is_scipys(counted, confidence):
    from scipy.stats import chi2

    tail = (1 - confidence) / 2
    low = chi2.ppf(tail, 2 * counted) / 2 if counted else 0
    high = chi2.ppf(1 - tail, 2 * counted + 2) / 2
    assert tuple(poisson_interval(counted, confidence)) == pytest.approx((low, high))


@unhurried
@given(counts, st.floats(0.05, 1))
def test_the_interval_holds_the_density_that_was_counted(counted, area):
    low, high = density_interval(counted, area, 0.95)
    assert 0 <= low <= density(counted, area) <= high


@unhurried
@given(counts, st.floats(0.05, 1))
def test_a_smaller_spot_with_as_many_plants_is_a_denser_stand(counted, area):
    small, large = (density_interval(counted, each, 0.95) for each in (area, 2 * area))
    assert np.array(small) == pytest.approx(2 * np.array(large))


def holding(counted, mean):
    """Share of counts whose interval holds the true mean."""
    low, high = density_interval(counted, 1.0, 0.95)
    return np.mean((low <= mean) & (mean <= high))


@pytest.mark.parametrize("spots", [2, 5, 12])
def test_an_even_stand_is_held_at_least_as_often_as_is_said(spots):
    rng = np.random.default_rng(5)
    assert holding(rng.poisson(12.0, (10_000, spots)), 12.0) >= 0.95


@pytest.mark.parametrize("spots", [2, 5, 12])
def test_a_stand_in_patches_is_held_about_as_often_as_is_said(spots):
    rng = np.random.default_rng(6)
    # Gamma patches: the counts' variance is four times their mean.
    patches = rng.gamma(4.0, 3.0, (10_000, spots))
    assert holding(rng.poisson(patches), 12.0) >= 0.93


def test_chance_alone_would_miss_a_stand_in_patches():
    rng = np.random.default_rng(6)
    counted = rng.poisson(rng.gamma(4.0, 3.0, (10_000, 12)))
    low, high = poisson_interval(counted.sum(axis=-1), 0.95)
    assert np.mean((low <= 144) & (high >= 144)) < 0.8


def test_an_even_stand_is_seldom_called_patchy_and_patches_mostly_are():
    rng = np.random.default_rng(8)
    even = rng.poisson(12.0, (10_000, 10))
    patches = rng.poisson(rng.gamma(4.0, 3.0, (10_000, 10)))
    assert np.mean(chance_so_uneven(even) < 0.05) == pytest.approx(0.05, abs=0.01)
    assert np.mean(chance_so_uneven(patches) < 0.05) > 0.85
