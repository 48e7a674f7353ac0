import datetime
import uuid

import pytest
from django.core.exceptions import ValidationError

from sheafwright.records.errors import SaidOtherwise
from sheafwright.records.models import Lot, Movement
from sheafwright.records.services.stock import entry_undo
from sheafwright.records.services.threshing import Outturn, threshing_record

NOVEMBER = datetime.date(2026, 11, 3)
REED, GRAIN = Outturn("reed", 4000, "R-1"), Outturn("grain", 2500, "G-1")


@pytest.fixture
def thresh(writes, ricked):
    def write(*outturn, **said):
        said = {"rick": ricked, "date": NOVEMBER} | said
        return writes(threshing_record, outturn=outturn, **said)

    return write


def test_each_thing_the_drum_gave_is_a_lot(thresh, kg_in):
    thresh(REED, GRAIN)
    reed, grain = Lot.objects.get(code="R-1"), Lot.objects.get(code="G-1")
    assert (kg_in("lot", reed), kg_in("lot", grain)) == (4000, 2500)


def test_a_lot_knows_its_variety_and_harvest(thresh):
    thresh(REED)
    lot = Lot.objects.get(code="R-1")
    assert (lot.variety, lot.harvest_year) == ("Maris Widgeon", 2026)


def test_what_the_drum_did_not_show_is_waste(thresh, ricked, kg_in):
    thresh(REED, GRAIN)
    assert (kg_in("rick", ricked), kg_in("waste")) == (0, 2500)


def test_what_is_missing_beside_weighed_waste_is_unexplained(thresh, kg_in):
    thresh(REED, GRAIN, Outturn("waste", 1000), Outturn("waste", 500))
    assert (kg_in("waste"), kg_in("unexplained")) == (1500, 1000)


def test_nothing_stays_at_the_drum(thresh, kg_in):
    assert kg_in("drum", thresh(REED, GRAIN)) == 0


def test_a_part_of_the_rick_can_be_threshed(thresh, ricked, kg_in):
    thresh(REED, kg=5000)
    assert (kg_in("rick", ricked), kg_in("waste")) == (4000, 1000)


def test_an_outturn_above_the_guess_is_never_refused(thresh, ricked, kg_in):
    thresh(Outturn("reed", 9000, "R-1"), GRAIN)
    assert (kg_in("rick", ricked), kg_in("grown")) == (0, -11_500)


def test_a_fishy_smell_sets_the_lots_apart(thresh):
    thresh(REED, GRAIN, smelt_of_fish=True)
    assert set(Lot.objects.values_list("set_apart", flat=True)) == {True}


def test_stooks_can_be_threshed_from_the_field(writes, cut, kg_in):
    writes(
        threshing_record, stook_set=cut.stook_set, date=NOVEMBER, outturn=(REED, GRAIN)
    )
    assert kg_in("stooks", cut.stook_set) == 0


@pytest.mark.parametrize("given", [{}, {"rick": "a rick", "stook_set": "stooks"}])
def test_a_drum_is_fed_from_one_place(writes, db, given):
    with pytest.raises(ValidationError, match="only one of them"):
        writes(threshing_record, date=NOVEMBER, outturn=(REED,), **given)


def test_a_run_sent_twice_is_one_run(thresh, kg_in):
    id = uuid.uuid4()
    thresh(REED, GRAIN, Outturn("waste", 500), id=id, kg=8000)
    thresh(REED, GRAIN, Outturn("waste", 500), id=id, kg=8000)
    assert kg_in("lot", Lot.objects.get(code="R-1")) == 4000
    assert Movement.objects.filter(kind="thresh").count() == 2


@pytest.mark.parametrize(
    "again",
    [
        {"outturn": (REED,)},
        {"outturn": (REED, Outturn("grain", 2501, "G-1"))},
        {"outturn": (REED, Outturn("grain", 2500, "G-2"))},
        {"outturn": (REED, GRAIN), "kg": 7999},
        {"outturn": (REED, GRAIN), "combed": False},
    ],
)
def test_a_run_sent_again_that_says_otherwise_is_refused(thresh, again):
    id = uuid.uuid4()
    thresh(REED, GRAIN, id=id, kg=8000)
    said = {"id": id, "kg": 8000} | again
    with pytest.raises(SaidOtherwise):
        thresh(*said.pop("outturn"), **said)


def test_two_lots_of_one_code_are_refused(thresh):
    thresh(REED, kg=5000)
    with pytest.raises(ValidationError, match="already exists"):
        thresh(REED)
    assert Movement.objects.filter(kind="thresh").count() == 2


def test_a_corrected_run_takes_up_the_lot_whose_labels_are_tied(writes, thresh, kg_in):
    thresh(REED)
    wrong = Lot.objects.get(code="R-1")
    run = Movement.objects.filter(kind="thresh").last()
    writes(entry_undo, movement=run, date=NOVEMBER)
    id = uuid.uuid4()
    thresh(Outturn("reed", 3900, "R-1", bundles=290), id=id)
    thresh(Outturn("reed", 3900, "R-1", bundles=290), id=id)
    right = Lot.objects.get(code="R-1")
    assert (right, right.bundles, kg_in("lot", right)) == (wrong, 290, 3900)
