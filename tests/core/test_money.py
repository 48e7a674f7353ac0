"""Pence that always add up; ranges that go together; what makes money uncertain."""

from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.errors import OutOfRange
from sheafwright.core.money import cash, ranges
from sheafwright.core.money.machines import capital_recovery, recovery_factor
from sheafwright.core.money.pence import allocate, pence_of, pounds_of
from sheafwright.core.money.sensitivity import variance_shares

PENCE = st.integers(-(10**12), 10**12)
WEIGHTS = st.lists(
    st.one_of(
        st.integers(0, 10**6),
        st.floats(0, 1e9, allow_nan=False),
        st.decimals(0, 10**6, places=4),
    ),
    min_size=1,
    max_size=30,
).filter(lambda weights: any(weights))


@given(PENCE, WEIGHTS)
def test_parts_always_add_up_to_the_whole(pence, weights):
    assert sum(allocate(pence, weights)) == pence


@given(PENCE, WEIGHTS)
def test_no_part_is_a_penny_from_its_exact_share(pence, weights):
    exact = [Decimal(str(weight)) for weight in weights]
    for part, weight in zip(allocate(pence, weights), exact, strict=True):
        assert abs(part * sum(exact) - pence * weight) < sum(exact) * Decimal("1.0001")


@given(st.integers(0, 10**9), WEIGHTS)
def test_who_has_no_weight_gets_nothing(pence, weights):
    shared = zip(allocate(pence, weights), weights, strict=True)
    assert all(part == 0 for part, weight in shared if weight == 0)


@given(st.integers(0, 10**9), st.integers(1, 40))
def test_equal_weights_differ_by_a_penny_at_most(pence, n):
    parts = allocate(pence, [1] * n)
    assert max(parts) - min(parts) <= 1
    assert parts == sorted(parts, reverse=True)


def test_a_hundred_pence_among_three():
    assert allocate(100, [1, 1, 1]) == [34, 33, 33]
    assert allocate(-100, [1, 1, 1]) == [-33, -33, -34]


@pytest.mark.parametrize("weights", [[], [0, 0], [1, -1, 5]])
def test_weights_that_share_nothing_are_refused(weights):
    with pytest.raises(OutOfRange, match="none should be below 0"):
        allocate(100, weights)


@given(PENCE)
def test_pounds_and_pence_are_the_same_money(pence):
    assert pence_of(pounds_of(pence)) == pence
    assert pence_of(str(pounds_of(pence))) == pence


@given(st.integers(-(10**10), 10**10))
def test_a_float_is_taken_as_it_is_written(pence):
    assert pence_of(pence / 100) == pence


@pytest.mark.parametrize("odd", [float("nan"), float("inf"), "1e40", "ten", ""])
def test_what_is_no_money_is_refused(odd):
    with pytest.raises(OutOfRange, match="is no amount of money"):
        pence_of(odd)


def test_half_a_penny_is_rounded_up():
    assert [pence_of(x) for x in ("0.005", "1.004", "1.005", "-0.005")] == [
        1,
        100,
        101,
        -1,
    ]


@given(st.floats(0, 0.3), st.integers(1, 40), st.floats(1, 1e6))
def test_yearly_payments_pay_the_price_back_with_interest(rate, years, price):
    paid = float(capital_recovery(price, 0, rate, years))
    owed = price
    for _ in range(years):
        owed = owed * (1 + rate) - paid
    assert owed == pytest.approx(0, abs=1e-6 * price * (1 + rate) ** years)


def test_a_year_pays_all_and_a_years_interest():
    assert recovery_factor(0.08, 1) == pytest.approx(1.08)


@given(
    st.tuples(*[st.floats(-1e6, 1e6)] * 3).map(sorted),
    st.lists(st.floats(0, 1), min_size=2).map(sorted),
)
def test_a_range_is_kept_to_and_rises(ends, chances):
    drawn = ranges.triangular(chances, *ends)
    slack = 1e-6 * (1 + max(map(abs, ends)))
    assert np.all(drawn >= ends[0] - slack)
    assert np.all(drawn <= ends[2] + slack)
    assert np.all(np.diff(drawn) >= -slack)


def test_draws_of_a_range_have_its_mean():
    chances = (np.arange(10_000) + 0.5) / 10_000
    drawn = ranges.triangular(chances, 2, 3, 7)
    assert drawn.mean() == pytest.approx(4, abs=1e-3)


def test_links_are_found_again_in_the_draws_and_each_input_is_even():
    links = np.array([[1, 0.6, -0.3], [0.6, 1, 0], [-0.3, 0, 1]])
    normals = np.random.default_rng(5).standard_normal((3, 20_000))
    chances = ranges.linked_chances(normals, links)
    # Spearman's of a Gaussian copula: 6/π asin(ρ/2).
    expected = 6 / np.pi * np.arcsin(links / 2)
    np.testing.assert_allclose(np.corrcoef(chances), expected, atol=0.02)
    np.testing.assert_allclose(np.sort(chances[1]), (np.arange(20_000) + 0.5) / 20_000)


@given(
    st.lists(
        st.tuples(st.floats(-1e6, 1e6), st.integers(0, 9), st.integers(0, 9)),
        min_size=1,
    )
)
def test_no_pound_is_lost_between_the_months(lines):
    amounts, first, length = map(np.array, zip(*lines, strict=True))
    laid = cash.by_month(amounts, first, first + length, 20)
    np.testing.assert_allclose(laid.sum(axis=-1), amounts, atol=1e-6)


def test_the_break_even_price_leaves_nothing():
    price = cash.break_even(4321.0, 1234.5, 2.7)
    assert price * 2.7 + 1234.5 - 4321.0 == pytest.approx(0, abs=1e-9)


def test_what_makes_a_sum_uncertain_is_each_ones_variance():
    def outcome(chances):
        return (4 * chances[0] + 2 * chances[1] + 0 * chances[2])[np.newaxis]

    rng = np.random.default_rng(3)
    shares = variance_shares(outcome, 3, 2**12, rng)
    np.testing.assert_allclose(shares.alone, [0.8, 0.2, 0], atol=0.02)
    np.testing.assert_allclose(shares.in_all, [0.8, 0.2, 0], atol=0.02)


def test_what_works_only_together_shows_in_all_and_not_alone():
    def outcome(chances):
        return ((chances[0] - 0.5) * (chances[1] - 0.5))[np.newaxis]

    shares = variance_shares(outcome, 2, 2**12, np.random.default_rng(3))
    np.testing.assert_allclose(shares.alone, [0, 0], atol=0.03)
    np.testing.assert_allclose(shares.in_all, [1, 1], atol=0.03)
