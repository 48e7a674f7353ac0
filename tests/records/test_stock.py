import datetime
import uuid

import pytest
from django.core.exceptions import ValidationError

from sheafwright.core.errors import OutOfRange
from sheafwright.records.errors import (
    NothingChanges,
    NotOurs,
    SaidOtherwise,
    SetApart,
    StillNeeded,
    TooLittleThere,
)
from sheafwright.records.models import Lot, Movement, Place, Sale
from sheafwright.records.selectors.stock import balances, stock_now
from sheafwright.records.selectors.undone import not_undone
from sheafwright.records.services.book import place_of
from sheafwright.records.services.stock import (
    entry_undo,
    grain_move,
    loss_record,
    sale_record,
    weight_adjust,
)

DAY = datetime.date(2026, 11, 10)


@pytest.fixture
def sell(writes, reed):
    def write(kg=1000, **said):
        said = {"lot": reed, "date": DAY, "buyer_name": "Hob the thatcher"} | said
        return writes(sale_record, kg=kg, **said)

    return write


@pytest.fixture
def move(writes, grain):
    def write(to, kg, **said):
        return writes(grain_move, lot=grain, to=to, kg=kg, date=DAY, **said)

    return write


@pytest.fixture
def lose(writes, place):
    def write(kg, **said):
        said = {"by": "rats", "counted_as": "vermin", "place": place} | said
        return writes(loss_record, kg=kg, date=DAY, **said)

    return write


@pytest.fixture
def place(marl, ricked):
    return place_of(holding=marl, kind=Place.Kind.RICK, subject=ricked.pk)


@pytest.fixture
def weigh(writes, place):
    def write(kg, **said):
        return writes(weight_adjust, **{"place": place, "kg": kg, "date": DAY} | said)

    return write


@pytest.fixture
def undo(writes):
    def write(movement, **said):
        return writes(entry_undo, movement=movement, date=DAY, **said)

    return write


def set_apart(lot):
    Lot.objects.filter(pk=lot.pk).update(set_apart=True)


def last(kind):
    return Movement.objects.filter(kind=kind).last()


def test_what_is_sold_leaves_the_lot(sell, reed, kg_in):
    sale = sell(1000)
    assert (kg_in("lot", reed), kg_in("sold", sale)) == (3000, 1000)


def test_a_sale_sent_twice_is_one_sale(sell, reed, kg_in):
    id = uuid.uuid4()
    sell(id=id), sell(id=id)
    assert (Sale.objects.count(), kg_in("lot", reed)) == (1, 3000)


@pytest.mark.parametrize("again", [{"kg": 999}, {"buyer_name": "Cleo"}])
def test_a_sale_sent_again_that_says_otherwise_is_refused(sell, again):
    id = uuid.uuid4()
    sell(id=id)
    with pytest.raises(SaidOtherwise):
        sell(id=id, **again)


def test_no_more_is_sold_than_the_lot_holds(sell):
    with pytest.raises(TooLittleThere, match=r"there are 4,000\.0 kg"):
        sell(4000.001)
    assert not Sale.objects.exists()


def test_a_lot_set_apart_is_not_sold(sell, reed):
    set_apart(reed)
    with pytest.raises(SetApart, match="R-26-1 is set apart"):
        sell()


def test_a_sale_sent_again_after_the_lot_was_set_apart_stays(sell, reed):
    id = uuid.uuid4()
    sale = sell(id=id)
    set_apart(reed)
    assert sell(id=id) == sale


def test_nothing_is_sold_tomorrow(sell):
    with pytest.raises(ValidationError, match="still to come"):
        sell(date=datetime.date(2199, 1, 1))


@pytest.mark.parametrize("to", ["mill", "seed", "fed", "owed"])
def test_grain_goes_its_ways(move, grain, kg_in, to):
    move(to, 400)
    assert (kg_in("lot", grain), kg_in(to, grain)) == (2100, 400)


def test_grain_sent_twice_goes_once(move, grain, kg_in):
    id = uuid.uuid4()
    assert move("mill", 400, id=id) == move("mill", 400, id=id)
    assert kg_in("mill", grain) == 400


def test_grain_goes_nowhere_else(move):
    with pytest.raises(OutOfRange, match="not to 'river'"):
        move("river", 1)


@pytest.mark.parametrize("to", ["mill", "seed", "owed"])
def test_grain_set_apart_does_not_leave(move, grain, to):
    set_apart(grain)
    with pytest.raises(SetApart):
        move(to, 1)


def test_grain_set_apart_may_be_fed(move, grain, kg_in):
    set_apart(grain)
    move("fed", 1)
    assert kg_in("fed", grain) == 1


def test_a_loss_has_its_name(lose, kg_in, ricked):
    lose(120)
    assert (kg_in("vermin"), kg_in("rick", ricked)) == (120, 8880)


def test_a_loss_above_the_guess_is_taken_with_its_own_line(lose, kg_in, ricked):
    lose(10_000)
    assert (kg_in("vermin"), kg_in("rick", ricked)) == (10_000, 0)


def test_a_loss_sent_twice_is_lost_once(lose, kg_in):
    id = uuid.uuid4()
    lose(120, id=id), lose(120, id=id)
    assert kg_in("vermin") == 120
    with pytest.raises(SaidOtherwise):
        lose(121, id=id)


def test_what_is_sold_is_not_lost_again(lose, marl, sell):
    sold = place_of(holding=marl, kind=Place.Kind.SOLD, subject=sell().pk)
    with pytest.raises(OutOfRange, match="lose only what is in hand"):
        lose(1, place=sold)


@pytest.mark.parametrize("kg", [8500, 9200, 0])
def test_a_weighed_rick_holds_what_was_weighed(weigh, ricked, kg_in, kg):
    weigh(kg)
    assert (kg_in("rick", ricked), kg_in("grown")) == (kg, -kg)


def test_a_weight_sent_twice_is_put_right_once(weigh, ricked, lose, kg_in):
    id = uuid.uuid4()
    written = weigh(8500, id=id)
    lose(100)
    assert weigh(8500, id=id) == written
    assert kg_in("rick", ricked) == 8400


def test_a_weight_sent_again_that_says_otherwise_is_refused(weigh):
    id = uuid.uuid4()
    weigh(8500, id=id)
    with pytest.raises(SaidOtherwise):
        weigh(8400, id=id)


def test_a_weight_the_book_has_already_changes_nothing(weigh):
    with pytest.raises(NothingChanges):
        weigh(9000)


def test_what_is_grown_is_not_weighed(weigh, marl):
    with pytest.raises(OutOfRange, match="not weighed again"):
        weigh(1, place=place_of(holding=marl, kind=Place.Kind.GROWN))


def test_an_undone_sale_is_back_in_its_lot(sell, undo, reed, kg_in):
    sale = sell()
    undo(last("sell"))
    assert kg_in("lot", reed) == 4000
    assert not not_undone(Sale.objects.filter(pk=sale.pk))


def test_an_undone_threshing_is_back_in_the_rick(undo, threshing, rick, kg_in):
    undo(last("thresh"))
    assert (kg_in("rick", rick), kg_in("waste")) == (9000, 0)


def test_an_entry_undone_twice_under_one_id_is_undone_once(undo, threshing):
    id, written = uuid.uuid4(), last("thresh")
    assert undo(written, id=id) == undo(written, id=id)
    assert Movement.objects.filter(kind="reverse").count() == 2


def test_an_entry_undone_already_says_so(undo, threshing):
    undo(last("thresh"))
    with pytest.raises(StillNeeded, match="undone already"):
        undo(last("thresh"))


def test_an_undoing_is_not_undone(undo, threshing):
    with pytest.raises(StillNeeded, match="write the entry anew"):
        undo(undo(last("thresh")))


def test_what_is_needed_later_is_not_undone(undo, sell):
    sell()
    with pytest.raises(StillNeeded, match="gone further since; undo that first"):
        undo(last("thresh"))
    assert not Movement.objects.filter(kind="reverse").exists()


def test_cleo_cannot_undo_anns_entry(other_holding, cleo, threshing):
    with pytest.raises(NotOurs):
        entry_undo(
            id=uuid.uuid4(),
            holding=other_holding,
            made_by=cleo,
            movement=last("thresh"),
            date=DAY,
        )


def test_stock_is_told_by_name(marl, ricked):
    (rick,) = stock_now(holding=marl, kinds=[Place.Kind.RICK])
    assert (rick.name, rick.kg, rick.subject) == ("Barn end", 9000, ricked)
    assert stock_now(holding=marl, kinds=[Place.Kind.STOOKS]) == []


def test_everything_that_was_ever_grown_is_somewhere(marl, sell, move, lose):
    sell(), move("fed", 10)
    assert sum(stock.grams for stock in balances(holding=marl)) == 0
