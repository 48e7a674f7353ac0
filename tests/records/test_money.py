"""Money is exact: parts make wholes, and no float ever comes near."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.records.money import (
    coin,
    exact,
    price_of,
    rounded,
    said,
    shared,
    vat_by_rate,
)

CURRENCIES = st.sampled_from(("GBP", "EUR", "JPY", "KWD"))
amounts = st.decimals(0, 1_000_000, places=2)
weights = st.lists(st.decimals(0, 10_000, places=3), min_size=1, max_size=8).filter(sum)
rates = st.sampled_from([Decimal(n) for n in ("0", "5", "12.5", "20", "20.00")])


@given(amounts, weights, CURRENCIES)
def test_parts_add_up_to_the_whole_coin_for_coin(amount, weights, currency):
    whole = rounded(amount, currency)
    parts = shared(whole, weights, currency)
    assert sum(parts) == whole
    assert all(part % coin(currency) == 0 for part in parts)


@given(amounts, weights, CURRENCIES)
def test_no_part_is_a_coin_away_from_its_share(amount, weights, currency):
    whole = rounded(amount, currency)
    for part, weight in zip(shared(whole, weights, currency), weights, strict=True):
        assert abs(part - whole * weight / sum(weights)) < coin(currency)


@given(amounts, CURRENCIES)
def test_what_is_rounded_once_stays(amount, currency):
    once = rounded(amount, currency)
    assert rounded(once, currency) == once
    assert abs(once - amount) <= coin(currency) / 2


@given(st.lists(st.tuples(amounts, rates), max_size=8))
def test_the_nets_of_all_rates_are_the_nets_of_all_lines(lines):
    by_rate = vat_by_rate(lines, "GBP")
    assert sum(net for _, net, _ in by_rate) == sum(net for net, _ in lines)
    assert len({rate for rate, _, _ in by_rate}) == len(by_rate)
    for rate, net, vat in by_rate:
        assert abs(vat - net * rate / 100) <= Decimal("0.005")


@given(st.integers(1, 10_000_000), st.decimals(0, 10_000, places=2))
def test_a_price_is_within_half_a_penny_of_the_true_one(grams, per_t):
    kg = Decimal(grams) / 1000
    assert abs(price_of(kg, per_t, "GBP") - kg * per_t / 1000) <= Decimal("0.005")


def test_half_a_penny_goes_up_as_on_every_bill():
    assert rounded(Decimal("0.125"), "GBP") == Decimal("0.13")
    assert rounded(Decimal("-0.125"), "GBP") == Decimal("-0.13")
    assert rounded(Decimal("0.5"), "JPY") == 1


def test_a_float_is_taken_as_it_is_written():
    assert exact(0.1) == Decimal("0.1")
    assert price_of(2400.0, Decimal("1400.00"), "GBP") == Decimal("3360.00")


def test_three_who_share_a_pound():
    assert shared(Decimal("1.00"), [Decimal(1)] * 3, "GBP") == [
        Decimal("0.34"),
        Decimal("0.33"),
        Decimal("0.33"),
    ]


def test_nothing_is_shared_by_nobody():
    with pytest.raises(ZeroDivisionError):
        shared(Decimal(1), [Decimal(0)], "GBP")


@pytest.mark.parametrize(
    ("amount", "currency", "printed"),
    [
        ("1234.5", "GBP", "£1,234.50"),
        ("-3", "EUR", "−€3.00"),
        ("1234.5", "SEK", "SEK\u00a01,234.50"),
        ("1234.5", "JPY", "JPY\u00a01,235"),
        ("1.2345", "KWD", "KWD\u00a01.235"),
    ],
)
def test_money_is_printed_with_its_currency(amount, currency, printed):
    assert said(Decimal(amount), currency) == printed
