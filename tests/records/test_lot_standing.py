"""Stop, set apart, clean down: and then let go, or write off."""

import datetime

import pytest
from django.core.exceptions import ValidationError

from sheafwright.records.errors import NothingChanges, SetApart
from sheafwright.records.models import Lot, LotStanding, Movement
from sheafwright.records.selectors.lots import standings_of
from sheafwright.records.services.book import place_of
from sheafwright.records.services.inspection import cleaning_record
from sheafwright.records.services.stock import entry_undo, loss_record, sale_record
from sheafwright.records.services.store import lot_clear, lot_set_apart
from sheafwright.records.services.threshing import Outturn, threshing_record

DAY = datetime.date(2026, 11, 3)
LATER = datetime.date(2026, 11, 20)
YEAR = {"begins": datetime.date(2026, 1, 1), "ends": datetime.date(2026, 12, 31)}


@pytest.fixture(autouse=True)
def in_december(marl):
    marl.looked_at_as_of = datetime.date(2026, 12, 1)
    marl.save()


@pytest.fixture
def smelt(write, ricked):
    """A run that smelt of fish, and its reed."""
    return write(
        threshing_record,
        rick=ricked,
        date=DAY,
        smelt_of_fish=True,
        outturn=(Outturn("reed", 4000, "R-26-9"), Outturn("grain", 2000, "G-26-9")),
    )


@pytest.fixture
def smelly(smelt):
    return Lot.objects.get(code="R-26-9")


def clear(write, lot, **said):
    return write(lot_clear, lot=lot, date=LATER, why="spores washed for: none", **said)


def sell(write, lot):
    said = {"lot": lot, "date": LATER, "kg": 100, "buyer_name": "Tamsin Reed"}
    return write(sale_record, **said)


def test_a_lot_that_smelt_is_not_cleared_before_the_drum_is_clean(write, smelly):
    with pytest.raises(ValidationError, match="smelt of fish on 2026-11-03"):
        clear(write, smelly)
    before = DAY - datetime.timedelta(1)
    write(cleaning_record, date=before, what="drum", how="brushed")
    with pytest.raises(ValidationError, match="clean it down"):
        clear(write, smelly)
    assert not LotStanding.objects.exists()
    with pytest.raises(SetApart):
        sell(write, smelly)


def test_cleaned_down_and_cleared_it_may_be_sold(write, marl, smelly):
    write(cleaning_record, date=DAY, what="drum", how="washed", by="Dan")
    clear(write, smelly)
    assert sell(write, smelly).lot == smelly
    assert [
        (each.lot, each.set_apart, each.why)
        for each in standings_of(holding=marl, **YEAR)
    ] == [
        ("G-26-9", True, "a fishy smell at the drum"),
        ("R-26-9", True, "a fishy smell at the drum"),
        ("R-26-9", False, "spores washed for: none"),
    ]


def test_its_grain_stays_apart(write, smelly):
    write(cleaning_record, date=DAY, what="drum", how="washed")
    clear(write, smelly)
    with pytest.raises(SetApart):
        sell(write, Lot.objects.get(code="G-26-9"))


def test_a_run_undone_sets_nothing_apart(write, marl, smelt):
    run = Movement.objects.get(pk=smelt.pk)
    write(entry_undo, movement=run, date=LATER, note="another rick")
    assert standings_of(holding=marl, **YEAR) == []


def test_set_apart_it_is_written_off(write, marl, smelly, kg_in):
    place = place_of(holding=marl, kind="lot", subject=smelly.pk)
    said = {"by": "unknown", "counted_as": "spoiled", "place": place}
    write(loss_record, date=LATER, kg=4000, **said)
    assert kg_in("lot", smelly) == 0


def test_a_lot_is_set_apart_by_anyone_who_sees_something_wrong(write, ben, reed):
    write(lot_set_apart, made_by=ben, lot=reed, date=LATER, why="mould in the butts")
    with pytest.raises(SetApart):
        sell(write, reed)
    # It never smelt, so nothing need be cleaned down.
    clear(write, reed)
    assert sell(write, reed)


def test_a_lot_stands_as_it_is_said_to_only_once(write, reed):
    with pytest.raises(NothingChanges, match="not set apart already"):
        clear(write, reed)
    said = {"lot": reed, "date": LATER, "why": "mould in the butts"}
    write(lot_set_apart, **said)
    with pytest.raises(NothingChanges, match="R-26-1 is set apart already"):
        write(lot_set_apart, **said)


def test_sent_again_it_is_still_one_entry(write, reed):
    said = {"lot": reed, "date": LATER, "why": "mould in the butts"}
    first = write(lot_set_apart, **said)
    write(lot_clear, **said)
    assert write(lot_set_apart, id=first.pk, **said) == first
    reed.refresh_from_db()
    assert not reed.set_apart


def test_why_is_always_said(write, reed):
    with pytest.raises(ValidationError, match="why"):
        write(lot_set_apart, lot=reed, date=LATER, why="")


def test_a_lot_set_apart_stays_so_when_its_run_is_corrected(write, threshing, rick):
    reed = Lot.objects.get(code="R-26-1")
    write(lot_set_apart, lot=reed, date=LATER, why="mould in the butts")
    run = Movement.objects.get(pk=threshing.pk)
    write(entry_undo, movement=run, date=LATER, note="weighed wrong")
    given = (Outturn("reed", 3900, "R-26-1"), Outturn("grain", 2500, "G-26-1"))
    write(threshing_record, rick=rick, date=DAY, outturn=given)
    with pytest.raises(SetApart):
        sell(write, reed)
