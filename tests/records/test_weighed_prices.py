"""Orders in other money are weighed at what it is worth, never as if it were pounds."""

import datetime
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from hypothesis import given
from hypothesis import strategies as st

from records.trade_book import DAY, deliver, enquire, order, order_of, orla, quote
from sheafwright.records.models import CurrencyRate
from sheafwright.records.selectors.allotment import allotment
from sheafwright.records.selectors.lot_worth import lot_worth
from sheafwright.records.selectors.money import harvest_money
from sheafwright.records.selectors.posted import money_book
from sheafwright.records.selectors.weighed_prices import (
    Priced,
    rates_now,
    weighed_prices,
)
from sheafwright.records.services.trade import currency_rate_say

__all__ = ["deliver", "enquire", "order", "order_of", "orla", "quote"]
NEXT = DAY + datetime.timedelta(1)


@pytest.fixture(autouse=True)
def day(marl):
    marl.looked_at_as_of = DAY
    marl.save()


@pytest.fixture
def say(writes):
    def write(pounds, currency="EUR", since=DAY):
        said = {"currency": currency, "since": since, "pounds": Decimal(pounds)}
        return writes(currency_rate_say, **said)

    return write


@pytest.fixture
def weighed(marl):
    """Name of an order to the price that the model has of it, and what was told."""

    def look():
        told = allotment(holding=marl)
        by_name = {x.asked.name: x.asked.gbp_per_t for x in told.answer.orders}
        return by_name, told.weighed

    return look


def test_a_rate_is_kept_to_its_last_decimal_and_the_last_said_counts(marl, say):
    say("0.85123456")
    assert rates_now(holding=marl)["EUR"].pounds == Decimal("0.85123456")
    say("0.9", since=DAY - datetime.timedelta(30))
    assert rates_now(holding=marl)["EUR"].pounds == Decimal("0.85123456")
    say("0.86")
    assert rates_now(holding=marl)["EUR"].pounds == Decimal("0.86")
    assert CurrencyRate.objects.count() == 3


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ({"pounds": "0"}, "more than nothing"),
        ({"pounds": "1", "currency": "GBP"}, "name other money"),
        ({"pounds": "1", "currency": "eur"}, "three capitals"),
        ({"pounds": "1", "since": NEXT}, "still to come"),
    ],
)
def test_a_rate_that_cannot_be_is_refused(say, said, says):
    with pytest.raises(ValidationError, match=says):
        say(**said)
    assert not CurrencyRate.objects.exists()


def test_an_order_is_weighed_at_what_its_money_is_worth(order_of, reed, say, weighed):
    order_of(price_per_t=Decimal(1000))
    order_of(price_per_t=Decimal(1100), currency="EUR")
    say("0.8")
    prices, told = weighed()
    assert prices == {"O-0001": 1000, "O-0002": 880}
    assert [rate.pounds for rate in told.rates] == [Decimal("0.8")]
    assert told.unpriced == {}


def test_the_dearer_in_pounds_is_served_first(marl, order_of, reed, say):
    # 2 t are there. €1,100 is more than £1,000 as a number, and less as money.
    order_of(price_per_t=Decimal(1000))
    order_of(price_per_t=Decimal(1100), currency="EUR")
    say("0.5")
    assert allotment(holding=marl).of("O-0001").given == {"R-26-1": 2000.0}
    say("2")
    assert allotment(holding=marl).of("O-0002").given == {"R-26-1": 2000.0}


def test_without_a_rate_it_is_weighed_at_the_middle_of_the_others(
    order_of, reed, weighed
):
    for price in (900, 1000, 1700):
        order_of(price_per_t=Decimal(price), weight_kg=100.0)
    order_of(price_per_t=Decimal(90_000), currency="JPY", weight_kg=100.0)
    prices, told = weighed()
    assert prices["O-0004"] == 1000
    assert told.unpriced == {"O-0004": "JPY"} and told.rates == ()


def test_with_no_others_it_is_kept_as_a_promise(marl, order_of, reed, weighed):
    order_of(currency="EUR", weight_kg=100.0)
    prices, _told = weighed()
    assert prices == {"O-0001": 0}
    assert allotment(holding=marl).of("O-0001").given == {"R-26-1": 100.0}


def test_a_quotation_is_weighed_as_an_order_is(quote, enquire, reed, say, weighed):
    quote(currency="EUR", price_per_t=Decimal(1500))
    quote(enquire(weight_kg=100.0), price_per_t=Decimal(1300))
    prices, told = weighed()
    assert sorted(prices.values()) == [1300, 1300]
    assert list(told.unpriced.values()) == ["EUR"]
    say("0.9")
    assert sorted(weighed()[0].values()) == [1300, 1350]


def test_what_is_only_asked_about_goes_at_the_last_price_in_pounds(
    order_of, enquire, reed, say, weighed
):
    order_of(price_per_t=Decimal(1000), weight_kg=100.0)
    order_of(price_per_t=Decimal(1200), weight_kg=100.0, currency="EUR", date=DAY)
    enquire(weight_kg=100.0)
    assert weighed()[0]["E-1"] == 1000
    say("0.9")
    assert weighed()[0]["E-1"] == 1080


@given(
    st.dictionaries(
        st.text("abc", min_size=1, max_size=3),
        st.builds(
            Priced,
            st.sampled_from(("reed", "grain")),
            st.decimals(0, 5000, places=3),
            st.sampled_from(("GBP", "EUR", "JPY")),
        ),
        max_size=6,
    )
)
def test_every_order_has_a_price_that_no_currency_bent(priced):
    rate = CurrencyRate(currency="EUR", pounds=Decimal("0.8"))
    told = weighed_prices(priced, rates={"EUR": rate}, usual={})
    assert told.gbp_per_t.keys() == priced.keys()
    known = {
        name: each.per_t * (Decimal("0.8") if each.currency == "EUR" else 1)
        for name, each in priced.items()
        if each.currency != "JPY"
    }
    assert {n: p for n, p in told.gbp_per_t.items() if n in known} == known
    for name in told.unpriced:
        own = [known[n] for n in known if priced[n].kind == priced[name].kind]
        price = told.gbp_per_t[name]
        assert min(own) <= price <= max(own) if own else price == 0


def test_no_book_of_money_adds_euros_to_pounds(marl, order_of, deliver, reed, say):
    say("0.86")
    deliver(100)
    deliver(100, order=order_of(currency="EUR"))
    book = money_book(holding=marl, harvest_year=reed.harvest_year)
    assert [each.pence for each in book.got] == [14_000]
    assert book.elsewhere == 1
    money = harvest_money(holding=marl, harvest_year=reed.harvest_year + 1)
    assert money.prices.reed == pytest.approx(1400)


def test_a_lot_that_brought_both_has_no_sum(order_of, deliver, reed, writes):
    from sheafwright.records.services.papers import invoice_issue

    deliver(100)
    euros = order_of(currency="EUR")
    deliver(100, order=euros)
    writes(invoice_issue, order=euros, date=DAY)
    worth = lot_worth(reed)
    assert worth.left is None
    assert worth.brought["EUR"] > 0
