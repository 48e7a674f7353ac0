"""What the book knows of a harvest's money: prices sold at, hours, and the budget."""

import datetime

import pytest

from sheafwright.records.models import Place
from sheafwright.records.selectors.money import (
    against_budget,
    harvest_money,
    harvests_with_money,
)
from sheafwright.records.services.stock import sale_record
from sheafwright.records.services.work import labour_rate_set, labour_record

TODAY = datetime.date(2027, 2, 1)


@pytest.fixture(autouse=True)
def day(marl):
    marl.looked_at_as_of = TODAY
    marl.save()


@pytest.fixture
def sold(writes, reed):
    """100 kg of the reed, at £95.50."""
    return writes(
        sale_record,
        lot=reed,
        date=datetime.date(2027, 1, 20),
        kg=100,
        buyer_name="Dan",
        price="95.50",
    )


def test_a_harvest_is_of_the_fields_sown_for_it(marl, sowing):
    money = harvest_money(holding=marl, harvest_year=2026)
    assert money.fields == {"Long Meadow": 2.0}
    assert money.budget().area == 2.0


def test_without_wheat_a_hectare_is_made_up(marl):
    money = harvest_money(holding=marl, harvest_year=2030)
    assert money.fields == {}
    assert money.budget().area == 1.0


def test_the_last_sales_tell_the_price(marl, sold):
    money = harvest_money(holding=marl, harvest_year=2027)
    assert money.prices.reed == pytest.approx(955)
    assert money.prices.grain is None
    assert money.terms().ranges.reed_price[1] == pytest.approx(955)
    assert ("ranges", "reed_price") in money.terms().given


def test_sales_of_the_harvest_itself_are_no_forecast(marl, sold):
    assert harvest_money(holding=marl, harvest_year=2026).prices.reed is None


def test_what_was_sold_stands_beside_the_budget_to_the_penny(marl, sold):
    answer = harvest_money(holding=marl, harvest_year=2026).budget()
    lines = {x.line: x for x in against_budget(holding=marl, answer=answer).lines}
    assert lines["reed"].actual == 9550
    assert lines["reed"].planned == sum(answer.pence["reed"])
    assert lines["reed"].difference == 9550 - lines["reed"].planned


def test_hours_with_a_rate_stand_beside_the_budget(marl, writes, sowing):
    writes(labour_rate_set, since=datetime.date(2026, 1, 1), rate="12.50")
    writes(
        labour_record,
        date=datetime.date(2026, 8, 5),
        who="Ann",
        hours=7.5,
        job="stooking",
        task="cutting",
        sowing=sowing,
    )
    answer = harvest_money(holding=marl, harvest_year=2026).budget()
    lines = {
        x.line: x.actual for x in against_budget(holding=marl, answer=answer).lines
    }
    assert lines.pop("work_cutting") == 9375
    assert set(lines.values()) == {None}


def test_own_hours_of_earlier_harvests_are_the_budgets(marl, writes, sowing):
    writes(
        labour_record,
        date=datetime.date(2026, 8, 20),
        who="Ann",
        hours=20,
        job="carting",
        task="carting",
        sowing=sowing,
    )
    money = harvest_money(holding=marl, harvest_year=2027)
    assert money.own_hours["carting"] == (10.0,)
    assert money.budget().work.own["carting"] == 1


def test_harvests_are_those_sown_for_and_the_next(marl, sowing):
    assert harvests_with_money(holding=marl) == [2027, 2026]


def test_anothers_sales_are_not_ours(marl, sold, other_holding):
    money = harvest_money(holding=other_holding, harvest_year=2027)
    assert money.prices.reed is None
    assert Place.objects.filter(holding=other_holding).count() == 0
