"""Grades are as sure as they say, and plans hold the risks that they are made for."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from sheafwright.core.grading import acceptance, shares, two_stage
from sheafwright.core.grading.lengths import reached_by

ALIKE = 0.1
RISKS = {"producers": 0.05, "buyers": 0.10}


def bundles_drawn(share, alike, bundles, each, rng):
    """Stems that keep the rule in each bundle of a lot, or of many lots."""
    spread = 1 / alike - 1
    of_bundle = rng.beta(share * spread, (1 - share) * spread, (bundles, len(share)))
    return rng.binomial(each, of_bundle).T


def test_a_confidence_comes_true_as_often_as_it_says():
    rng = np.random.default_rng(20)
    lots = 1500
    share = np.sin(rng.random(lots) * np.pi / 2) ** 2
    alike = rng.beta(1, 1 / ALIKE - 1, lots)
    kept = bundles_drawn(share, alike, 4, 9, rng)
    seen = np.full(4, 9)
    said = [
        shares.chance_at_least(shares.belief(each, seen, ALIKE).weight, 0.8)
        for each in kept
    ]
    said, came = np.array(said), share >= 0.8
    for low, high in ((0.05, 0.3), (0.3, 0.7), (0.7, 0.95)):
        at = (said > low) & (said < high)
        error = np.sqrt(said[at].mean() * (1 - said[at].mean()) / at.sum())
        assert at.sum() > 50
        assert abs(said[at].mean() - came[at].mean()) < 3.5 * error


def test_an_interval_holds_the_share_as_often_as_it_says():
    rng = np.random.default_rng(21)
    share = np.sin(rng.random(600) * np.pi / 2) ** 2
    alike = rng.beta(1, 1 / ALIKE - 1, 600)
    held = 0
    for truth, kept in zip(share, bundles_drawn(share, alike, 5, 8, rng), strict=True):
        low, high = shares.share_interval(
            shares.belief(kept, np.full(5, 8), ALIKE).weight, 0.9
        )
        held += low <= truth <= high
    assert 0.86 < held / 600 < 0.94


def test_stems_taken_one_by_one_say_what_jeffreys_says():
    held = shares.belief(np.array([1.0] * 27 + [0.0] * 3), np.ones(30), ALIKE)
    own = stats.beta.sf(0.8, 27.5, 3.5)
    assert shares.chance_at_least(held.weight, 0.8) == pytest.approx(own, abs=1e-4)


def test_stems_of_one_bundle_say_less_than_the_same_of_many():
    one = shares.belief([30], [30], ALIKE)
    many = shares.belief([3] * 10, [3] * 10, ALIKE)
    assert shares.chance_at_least(one.weight, 0.9) < 0.9
    assert shares.chance_at_least(many.weight, 0.9) > 0.97


def test_bundles_that_differ_make_their_stems_thought_alike():
    even, odd = ([9, 9, 9, 9], [12, 12, 12, 0])
    alike = [
        float((held.weight * held.alike).sum())
        for held in (shares.belief(kept, [12] * 4, ALIKE) for kept in (even, odd))
    ]
    assert alike[0] < ALIKE < 3 * ALIKE < alike[1]


def test_further_bundles_like_these_are_as_if_they_had_been_seen():
    held = shares.belief([11, 12], [12, 12], ALIKE)
    more = shares.after_more(held, 11.5, 12, 3)
    seen = shares.belief([11, 12, 11.5, 11.5, 11.5], [12] * 5, ALIKE)
    np.testing.assert_allclose(more[0], held.weight, atol=1e-12)
    np.testing.assert_allclose(more[3], seen.weight, atol=1e-12)


@given(
    kept=st.lists(st.integers(0, 12), min_size=1, max_size=8),
    share=st.floats(0.02, 0.98),
)
@settings(max_examples=40, deadline=None)
def test_what_is_sure_of_a_share_and_of_less_is_all_there_is(kept, share):
    weight = shares.belief(kept, [12] * len(kept), ALIKE).weight
    above = shares.chance_at_least(weight, share)
    assert 0 <= above <= 1
    assert shares.chance_at_least(weight, share / 2) >= above
    assert shares.chance_at_least(weight, 1e-12) == pytest.approx(1, abs=1e-4)


def test_the_variance_of_two_stages_is_what_many_draws_have():
    rng = np.random.default_rng(22)
    spread = two_stage.Spread(between=4.0, within=30.0)
    lot = rng.normal(0, 2, (4000, 20))
    pulled = lot[:, :5] + rng.normal(0, np.sqrt(30 / 6), (4000, 5))
    error = pulled.mean(axis=1) - lot.mean(axis=1)
    said = two_stage.variance_of_mean(spread, 5, 6, 20)
    assert error.var() == pytest.approx(said, rel=0.08)


def test_no_other_number_of_stems_tells_more_for_the_time():
    spread, minutes = two_stage.Spread(0.1, 0.9), 600
    best = two_stage.stems_each(spread, 4, 0.25)
    each = np.arange(1, 60)
    variance = two_stage.variance_of_mean(spread, minutes / (4 + 0.25 * each), each)
    assert each[variance.argmin()] == pytest.approx(best, abs=0.5)


def test_spread_is_found_again_in_bundles_of_unequal_size():
    rng = np.random.default_rng(23)
    bundle = np.repeat(np.arange(3000), rng.integers(2, 9, 3000))
    values = rng.normal(0, 2, 3000)[bundle] + rng.normal(0, 5, bundle.size)
    spread = two_stage.spread_of(values, bundle)
    assert spread.between == pytest.approx(4, rel=0.15)
    assert spread.within == pytest.approx(25, rel=0.05)


def test_bundles_are_pulled_once_each_and_all_as_often():
    rng = np.random.default_rng(24)
    pulled = [two_stage.numbers_to_pull(10, 4, rng) for _ in range(4000)]
    assert all(len(set(each)) == 4 and sorted(each) == list(each) for each in pulled)
    counts = np.bincount(np.concatenate(pulled), minlength=11)[1:]
    assert stats.chisquare(counts).pvalue > 0.001


@pytest.mark.parametrize(("good", "bad"), [(0.05, 0.175), (0.01, 0.06), (0.02, 0.3)])
def test_a_plan_by_count_holds_both_risks_and_no_smaller_one_does(good, bad):
    stems, allowed = acceptance.plan_by_count(good, bad, **RISKS)
    assert acceptance.passes_by_count(good, stems, allowed) >= 0.95
    assert acceptance.passes_by_count(bad, stems, allowed) <= 0.10
    fewer = np.arange(stems)
    assert not (
        (stats.binom.cdf(fewer, stems - 1, good) >= 0.95)
        & (stats.binom.cdf(fewer, stems - 1, bad) <= 0.10)
    ).any()


def test_a_plan_by_measure_holds_both_risks_with_fewer_stems():
    rng = np.random.default_rng(25)
    stems, k = acceptance.plan_by_measure(0.05, 0.175, **RISKS)
    assert stems < acceptance.plan_by_count(0.05, 0.175, **RISKS).stems
    for broken, passes in ((0.05, 0.95), (0.175, 0.10)):
        drawn = rng.normal(stats.norm.isf(broken), 1, (20_000, stems))
        passed = drawn.mean(axis=1) / drawn.std(axis=1, ddof=1) >= k
        assert passed.mean() == pytest.approx(passes, abs=0.012)


def test_a_plan_by_bundles_holds_both_risks_where_bundles_differ():
    rng = np.random.default_rng(26)
    bundles, allowed = acceptance.plan_by_bundles(0.05, 0.175, 0.05, 0.1, 12, 0.1, 60)
    for broken, least, most in ((0.05, 0.94, 1), (0.175, 0, 0.11)):
        drawn = bundles_drawn(np.full(20_000, broken), 0.1, bundles, 12, rng)
        assert least <= (drawn.sum(axis=1) <= allowed).mean() <= most


def test_there_is_no_plan_where_good_and_bad_are_all_but_alike():
    assert acceptance.plan_by_count(0.1, 0.101, **RISKS) is None
    assert acceptance.plan_by_measure(0.1, 0.101, **RISKS) is None
    assert acceptance.plan_by_bundles(0.1, 0.12, 0.05, 0.1, 5, 0.5, 20) is None


@given(broken=st.integers(0, 30), stems=st.integers(1, 30), allowed=st.integers(0, 5))
@settings(max_examples=60, deadline=None)
def test_a_small_lot_passes_as_often_as_scipy_says(broken, stems, allowed):
    own = stats.hypergeom.cdf(allowed, 30, broken, stems)
    got = acceptance.passes_from_lot(broken, 30, stems, allowed)
    assert got == pytest.approx(own, abs=1e-9)


def test_nine_stems_in_ten_reach_the_length_that_straw_is_said_to_have():
    lengths = np.arange(900.0, 1001.0)
    reached = reached_by(lengths, 0.9)
    assert reached == pytest.approx(910.0)
    assert np.mean(lengths >= reached) == pytest.approx(0.9, abs=0.01)
    assert reached_by([1000.0], 0.9) == 1000.0
