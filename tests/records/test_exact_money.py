"""Money adds up to the smallest coin of any currency: against exact fractions."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.records.money import (
    coin,
    exact,
    price_of,
    rounded,
    said,
    said_exactly,
    shared,
    vat_by_rate,
)

currencies = st.sampled_from(("GBP", "EUR", "JPY", "KWD", "SEK"))
prices = st.decimals(0, 100_000, places=3)
kilograms = st.decimals(Decimal("0.001"), 100_000, places=3)
rates = st.sampled_from([Decimal(n) for n in ("0", "5", "12.5", "19", "20", "20.00")])


def half_up(value, currency):
    """The nearest coin by whole numbers alone; half a coin away from nothing."""
    coins = Fraction(value) / Fraction(coin(currency))
    whole = (abs(coins) * 2 + 1) // 2
    return (whole if coins >= 0 else -whole) * Fraction(coin(currency))


@given(kilograms, prices, currencies)
def test_a_price_is_the_nearest_coin(kg, per_t, currency):
    price = price_of(kg, per_t, currency)
    assert Fraction(price) == half_up(Fraction(kg) * Fraction(per_t) / 1000, currency)
    assert price == rounded(price, currency)


@given(st.decimals(-1000, 1000, places=5), currencies)
def test_half_a_coin_goes_away_from_nothing(amount, currency):
    assert Fraction(rounded(amount, currency)) == half_up(amount, currency)


@given(st.lists(st.tuples(prices, rates), max_size=8), currencies)
def test_vat_is_rounded_once_for_each_rate(lines, currency):
    lines = [(rounded(net, currency), rate) for net, rate in lines]
    told = vat_by_rate(lines, currency)
    assert sum(net for _rate, net, _vat in told) == sum(net for net, _rate in lines)
    assert [rate for rate, _net, _vat in told] == sorted({rate for _, rate in lines})
    for rate, net, vat in told:
        exactly = Fraction(net) * Fraction(rate) / 100
        assert Fraction(vat) == half_up(exactly, currency)


@given(
    prices,
    st.lists(st.integers(0, 10_000).map(Decimal), min_size=1, max_size=9),
    currencies,
)
def test_parts_add_up_to_the_whole(amount, weights, currency):
    amount = rounded(amount, currency)
    if not sum(weights):
        with pytest.raises(ZeroDivisionError):
            shared(amount, weights, currency)
        return
    parts = shared(amount, weights, currency)
    assert sum(parts) == amount
    for part, weight in zip(parts, weights, strict=True):
        meant = Fraction(amount) * Fraction(weight) / Fraction(sum(weights))
        assert abs(Fraction(part) - meant) < Fraction(coin(currency))


@given(st.floats(0, 1e6))
def test_a_number_is_taken_as_it_is_written(number):
    assert Fraction(exact(number)) == Fraction(str(number))


@pytest.mark.parametrize(
    ("amount", "currency", "words"),
    [
        ("1234.5", "GBP", "£1,234.50"),
        ("-0.005", "EUR", "−€0.01"),
        ("1234.5", "JPY", "JPY\u00a01,235"),
        ("1.0005", "KWD", "KWD\u00a01.001"),
        ("99", "SEK", "SEK\u00a099.00"),
    ],
)
def test_money_is_printed_to_the_coin(amount, currency, words):
    assert said(Decimal(amount), currency) == words


@pytest.mark.parametrize(
    ("price", "words"),
    [("1400.005", "£1,400.005"), ("1400.000", "£1,400.00"), ("1E+3", "£1,000.00")],
)
def test_a_price_is_printed_as_it_was_named(price, words):
    assert said_exactly(Decimal(price), "GBP") == words
