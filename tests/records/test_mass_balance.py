import datetime

import pytest

from sheafwright.records.models import Movement, Place
from sheafwright.records.models.material import LOSSES
from sheafwright.records.selectors.mass_balance import mass_balance
from sheafwright.records.services.book import Step, movement_write, place_of
from sheafwright.records.services.stock import (
    entry_undo,
    loss_record,
    sale_record,
    weight_adjust,
)

NOVEMBER, DECEMBER = datetime.date(2026, 11, 10), datetime.date(2026, 11, 20)


@pytest.fixture
def account(marl):
    """The account of a material of the harvest of 2026."""

    def look(material, since="2026-01-01", until="2026-12-31"):
        period = {"since": day(since), "until": day(until)}
        accounts = mass_balance(holding=marl, **period)
        return next(each for each in accounts if each.material == material)

    return look


def day(text):
    return datetime.date.fromisoformat(text)


def kg(items):
    return {item.name: item.kg for item in items}


@pytest.fixture
def sold(writes, reed):
    writes(sale_record, lot=reed, date=NOVEMBER, kg=1000, buyer_name="Hob")
    return Movement.objects.get(kind="sell")


def test_sheaves_come_in_grown_and_go_out_threshed(threshing, account):
    sheaves = account("sheaves")
    assert kg(sheaves.came_in) == {"grown": 9000}
    assert kg(sheaves.went_out) == {"threshed": 6500}
    assert kg(sheaves.lost)["cavings and waste"] == 2500
    assert sheaves.closing_grams == 0


def test_reed_comes_in_threshed_and_goes_out_sold(sold, account):
    reed = account("reed")
    assert (kg(reed.came_in), kg(reed.went_out)) == ({"threshed": 4000}, {"sold": 1000})
    assert reed.closing_grams == 3_000_000


def test_the_next_period_opens_with_what_the_last_closed_with(sold, account):
    first = account("reed", until="2026-11-05")
    second = account("reed", since="2026-11-06")
    assert first.closing_grams == second.opening_grams == 4_000_000


def test_every_loss_is_named_and_the_unexplained_is_its_own_line(
    threshing, account, writes, marl, reed
):
    place = place_of(holding=marl, kind=Place.Kind.LOT, subject=reed.pk)
    said = {"by": "unknown", "counted_as": "unexplained", "place": place}
    writes(loss_record, date=NOVEMBER, kg=40, **said)
    lost = kg(account("reed").lost)
    assert lost["lost: unexplained"] == 40
    assert lost["lost: vermin"] == 0
    assert len(lost) == len(LOSSES)


def test_a_weight_put_right_is_told_apart_from_growing(writes, account, ricked, marl):
    place = place_of(holding=marl, kind=Place.Kind.RICK, subject=ricked.pk)
    writes(weight_adjust, place=place, kg=8000, date=NOVEMBER)
    came = kg(account("sheaves").came_in)
    assert came == {"grown": 9000, "adjusted to what was weighed": -1000}


def test_an_undone_weight_is_told_apart_as_well(writes, account, ricked, marl):
    place = place_of(holding=marl, kind=Place.Kind.RICK, subject=ricked.pk)
    wrong = writes(weight_adjust, place=place, kg=8000, date=NOVEMBER)
    writes(entry_undo, movement=wrong, date=NOVEMBER)
    assert kg(account("sheaves").came_in) == {"grown": 9000}


def test_what_is_undone_in_the_period_is_on_no_side(writes, sold, account):
    writes(entry_undo, movement=sold, date=NOVEMBER)
    assert account("reed").went_out == ()


def test_what_is_undone_later_leaves_the_earlier_account_as_it_was(
    writes, sold, account
):
    writes(entry_undo, movement=sold, date=DECEMBER)
    assert kg(account("reed", until="2026-11-15").went_out) == {"sold": 1000}
    assert kg(account("reed", since="2026-11-16").went_out) == {"sold": -1000}


def test_what_several_gave_to_several_is_exact_too(writes, marl, reed, grain, account):
    moved = (
        (Place.Kind.LOT, reed.pk, -300),
        (Place.Kind.LOT, grain.pk, -200),
        (Place.Kind.FED, grain.pk, 250),
        (Place.Kind.SPOILED, None, 250),
    )
    steps = [
        Step(place_of(holding=marl, kind=kind, subject=subject), grams)
        for kind, subject, grams in moved
    ]
    writes(movement_write, kind="lose", date=NOVEMBER, steps=steps)
    said = [account("reed"), account("grain")]
    assert [_left(each) for each in said] == [each.closing_grams for each in said]
    assert sum(g for each in said for g in _went(each, "fed")) == 250
    assert sum(g for each in said for g in _went(each, "spoiled")) == 250


def _left(each):
    came, *gone = (sum(i.grams for i in s) for s in (each.came_in, *_gone(each)))
    return each.opening_grams + came - sum(gone)


def _gone(each):
    return each.went_out, each.lost


def _went(each, what):
    return [i.grams for side in _gone(each) for i in side if i.what == what]


def test_the_next_look_shows_what_was_just_written(writes, reed, account):
    assert account("reed").went_out == ()
    writes(sale_record, lot=reed, date=NOVEMBER, kg=1, buyer_name="Hob")
    assert kg(account("reed").went_out) == {"sold": 1}


def test_an_empty_book_has_no_accounts(marl):
    period = {"since": day("2026-01-01"), "until": day("2026-12-31")}
    assert mass_balance(holding=marl, **period) == ()
