"""Marks for impossible values: what they mark, and what holds for any series."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from sheafwright.core.weather import quality

MASKS = arrays(bool, st.integers(0, 40))
SERIES = arrays(
    float, st.integers(1, 40), elements=st.sampled_from([np.nan, -1, 0, 0.5, 3])
)


def letters(text):
    return np.array([letter == "x" for letter in text])


@given(MASKS)
def test_runs_put_together_give_the_mask_again(mask):
    again = np.zeros_like(mask)
    for start, length in zip(*quality.runs(mask), strict=True):
        again[start : start + length] = True
    np.testing.assert_array_equal(again, mask)


@given(MASKS, st.integers(1, 6))
def test_only_days_of_long_enough_runs_are_kept(mask, length):
    kept = np.zeros_like(mask)
    for start, days in zip(*quality.runs(mask), strict=True):
        kept[start : start + days] = days >= length
    np.testing.assert_array_equal(quality.within_runs(mask, length), kept)


def test_runs_are_found_along_the_last_axis():
    mask = np.stack([letters("xx.xxx."), letters("x.xx.xx")])
    kept = np.stack([letters("...xxx."), letters(".......")])
    np.testing.assert_array_equal(quality.within_runs(mask, 3), kept)


@pytest.mark.parametrize(
    ("values", "marked"),
    [
        ([1, 2, 2, 2, 3], ".xxx."),
        ([2, 2, 3, 3], "...."),
        ([2, np.nan, 2, 2], "...."),
        ([2, 2, 2], "xxx"),
        ([2], "."),
    ],
)
def test_a_run_of_one_value_is_stuck_from_its_first_day(values, marked):
    got = quality.stuck(np.array(values, dtype=float), 3)
    np.testing.assert_array_equal(got, letters(marked))


def test_a_spike_is_above_or_below_both_neighbours():
    values = np.array([1, 9, 1, -9, 1, 9, 9, 1.0])
    np.testing.assert_array_equal(quality.spikes(values, 5), letters(".x.x...."))


def test_a_jump_is_a_change_from_the_day_before():
    values = np.array([1, 9, 9, np.nan, 1, 2.0])
    np.testing.assert_array_equal(quality.jumps(values, 5), letters(".x...."))


@given(SERIES)
def test_a_missing_value_is_never_marked(values):
    missing = np.isnan(values)
    for marked in (
        quality.outside_range(values, 0, 1),
        quality.out_of_order(values, values[::-1]),
        quality.stuck(values, 3),
        quality.spikes(values, 1),
        quality.jumps(values, 1),
    ):
        assert not (marked & missing).any()


@given(SERIES, st.integers(1, 4))
def test_bridging_keeps_what_was_measured_and_stays_between_its_ends(values, longest):
    bridged = quality.bridge_short_gaps(values, longest)
    known = ~np.isnan(values)
    np.testing.assert_array_equal(bridged[known], values[known])
    added = bridged[~np.isnan(bridged)]
    assert not known.any() or values[known].min() <= added.min()
    assert not known.any() or added.max() <= values[known].max()


def test_only_short_gaps_with_both_ends_are_bridged():
    gap = np.nan
    values = np.array([gap, 1, gap, gap, 4, gap, gap, gap, 8, gap])
    want = [gap, 1, 2, 3, 4, gap, gap, gap, 8, gap]
    np.testing.assert_allclose(quality.bridge_short_gaps(values, 2), want)


def test_gaps_are_bridged_along_the_last_axis():
    values = np.array([[1, np.nan, 3], [np.nan, 5, 6]])
    want = [[1, 2, 3], [np.nan, 5, 6]]
    np.testing.assert_allclose(quality.bridge_short_gaps(values, 1), want)


def months():
    """Twelve years of two months, each a little different."""
    return np.array([[60.0 + 2 * year, 90.0 - year] for year in range(12)])


def test_a_month_far_from_its_own_is_marked():
    totals = months()
    totals[5, 1], totals[2, 0] = 300, np.nan
    marked = quality.unlike_own_month(totals, 4.5, 10)
    assert np.argwhere(marked).tolist() == [[5, 1]]


def test_a_day_far_from_its_own_month_is_marked():
    rng = np.random.default_rng(2)
    month = np.repeat([0, 6], 300)
    values = np.where(month == 0, 8.0, 19.0) + rng.normal(0, 2.5, 600)
    values[[5, 305]] = 35.0, 35.0
    assert np.flatnonzero(quality.far_from_usual(values, month, 8, 280)).tolist() == [5]
    assert not quality.far_from_usual(values, month, 8, 301).any()


def test_months_of_too_few_years_are_not_judged():
    totals = months()
    totals[5, 1] = 300
    assert not quality.unlike_own_month(totals[:9], 4.5, 10).any()


def test_a_rainless_month_is_marked_only_where_it_is_rare():
    totals = months()
    totals[3, 0] = 0
    totals[::2, 1] = 0
    assert np.argwhere(quality.seldom_rainless(totals, 0.1)).tolist() == [[3, 0]]


def test_a_year_that_is_an_earlier_one_again_is_marked():
    years = np.array([[1, 2, np.nan], [1, 2, 3], [1, 2, np.nan], [1, 2, 3]])
    assert quality.repeats_earlier(years).tolist() == [False, False, True, True]


def test_no_years_repeat_none():
    assert quality.repeats_earlier(np.empty((0, 3))).shape == (0,)
    assert not quality.repeats_earlier(np.ones((1, 3))).any()


def test_shares_are_of_what_is_known():
    values = np.array([1, np.nan, 3, 4])
    assert quality.share_of_known(values > 3, values) == pytest.approx(1 / 3)
    assert quality.share_of_known(np.array([False]), np.array([np.nan])) == 0
