"""Seed grown on is conserved, and more of anything good never leaves less of it."""

from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.stand.increase import (
    chance_enough,
    draw_yields,
    grow_on,
    off_types_allowed,
)
from sheafwright.feeds import sowing

masses = st.floats(0.01, 1000)
kept_back = st.floats(0.0, 0.9)
returns = st.lists(st.floats(0, 100), min_size=1, max_size=8)


@given(masses, returns, kept_back, masses, masses)
def test_no_seed_appears_or_is_lost(seed, multiplied, back, ground, need):
    years = grow_on(seed, [multiplied], back, ground, need)
    np.testing.assert_allclose(
        years.in_hand, years.sown + years.kept + years.used, rtol=1e-12, atol=1e-12
    )
    came = (years.kept + years.harvested)[:, :-1]
    np.testing.assert_allclose(years.in_hand[:, 1:], came, rtol=1e-12)
    assert years.in_hand[0, 0] == seed
    assert all((each >= 0).all() for each in years)


@given(masses, returns, kept_back, masses, masses)
def test_what_must_be_kept_back_is_never_sown(seed, multiplied, back, ground, need):
    years = grow_on(seed, [multiplied], back, ground, need)
    assert (years.sown <= (1 - back) * years.in_hand * (1 + 1e-12)).all()
    assert (years.sown <= ground).all()
    assert (years.kept <= need).all()


@given(st.tuples(masses, masses).map(sorted), returns, kept_back, masses)
def test_more_seed_at_the_start_is_never_less_later(seeds, multiplied, back, ground):
    less, more = (
        grow_on(seed, [multiplied], back, ground, np.inf).in_hand for seed in seeds
    )
    assert (less <= more * (1 + 1e-12)).all()


@given(masses, returns, kept_back, masses)
def test_better_years_never_leave_less_seed(seed, multiplied, back, ground):
    plain, better = (
        grow_on(seed, [np.array(multiplied) * by], back, ground, np.inf).in_hand
        for by in (1, 2)
    )
    assert (plain <= better * (1 + 1e-12)).all()


@given(masses, returns, st.floats(0.01, 0.9), masses)
def test_one_lost_plot_never_loses_the_variety(seed, multiplied, back, ground):
    years = grow_on(seed, [[0.0, *multiplied]], back, ground, np.inf)
    assert years.kept[0, 0] >= back * seed * (1 - 1e-12)


def test_yields_fall_where_the_table_says():
    crop = SimpleNamespace(
        yield_low=1800, yield_high=4000, thin_share=0.85, failure=0.05
    )
    drawn = draw_yields(crop, 40_000, 2, np.random.default_rng(2))
    assert drawn.shape == (40_000, 2)
    assert np.mean(drawn == 0) == pytest.approx(0.05, abs=0.003)
    grown = drawn[drawn > 0] / 0.85
    assert np.quantile(grown, [0.1, 0.9]) == pytest.approx([1800, 4000], rel=0.02)


def test_one_years_luck_is_not_the_next_ones():
    drawn = draw_yields(sowing.seed_crop(), 20_000, 2, np.random.default_rng(2))
    assert abs(np.corrcoef(drawn.T)[0, 1]) < 0.03


@given(masses, st.lists(returns.filter(lambda r: len(r) > 2), min_size=1, max_size=1))
def test_the_chance_of_enough_never_falls(seed, multiplied):
    years = grow_on(seed, multiplied, 0.2, 50, 100)
    assert (np.diff(chance_enough(years, 100)) >= 0).all()


def test_a_truer_yardstick_allows_fewer_other_plants():
    purities = [sowing.sowing_row("purity", name).value for name in sowing.PURITIES]
    assert (np.diff(off_types_allowed(50, purities)) > 0).all()
