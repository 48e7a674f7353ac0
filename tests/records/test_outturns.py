import datetime

import pytest

from sheafwright.records.due.yields import combs, weighed_by_year
from sheafwright.records.models import Field, Movement, Sowing
from sheafwright.records.selectors.outturns import outturns
from sheafwright.records.services.harvest import carting_record, cut_record
from sheafwright.records.services.stock import entry_undo
from sheafwright.records.services.threshing import Outturn, threshing_record

CARTED, THRESHED = datetime.date(2026, 8, 21), datetime.date(2026, 11, 3)


@pytest.fixture
def told(marl):
    """What each crop gave: area, reed, long straw and grain."""

    def told(before=2027):
        return {
            each.sowing.field.name: (
                each.area_ha,
                each.reed_kg,
                each.long_straw_kg,
                each.grain_kg,
            )
            for each in outturns(holding=marl, before=before)
        }

    return told


@pytest.fixture
def another(marl, ann, writes, sowing, seed_lot):
    """Half as much as of Long Meadow, cut of one hectare of Hanger."""
    field = Field.objects.create(holding=marl, made_by=ann, name="Hanger", area_ha=1.0)
    hanger = Sowing.objects.create(
        holding=marl,
        made_by=ann,
        field=field,
        seed_lot=seed_lot,
        date=sowing.date,
        harvest_year=2026,
        area_ha=1.0,
    )
    return writes(
        cut_record,
        sowing=hanger,
        date=datetime.date(2026, 8, 6),
        area_ha=1.0,
        sheaves=500,
        kg_per_sheaf=9,
    )


def test_what_the_drum_gave_is_the_crops(threshing, told):
    assert told() == {"Long Meadow": (1.0, 4000, 0, 2500)}


def test_this_years_is_no_earlier_harvest(threshing, told):
    assert told(before=2026) == {}


def test_a_rick_of_two_crops_gave_of_each_as_it_took(another, ricked, writes, told):
    writes(carting_record, stook_set=another.stook_set, rick=ricked, date=CARTED)
    gave = (Outturn("long_straw", 6000, "L"), Outturn("tail", 300, "T"))
    writes(threshing_record, rick=ricked, date=THRESHED, outturn=gave)
    assert told() == {
        "Long Meadow": (1.0, 0, pytest.approx(4000), pytest.approx(200)),
        "Hanger": (1.0, 0, pytest.approx(2000), pytest.approx(100)),
    }


def test_a_crop_of_which_some_is_still_to_thresh_is_not_told(ricked, writes, told):
    reed = (Outturn("reed", 2000, "R"),)
    writes(threshing_record, rick=ricked, date=THRESHED, kg=5000, outturn=reed)
    assert told() == {}


def test_what_went_straight_from_the_stooks_counts(cut, writes, told):
    reed = (Outturn("reed", 3000, "R"),)
    writes(threshing_record, stook_set=cut.stook_set, date=THRESHED, outturn=reed)
    assert told() == {"Long Meadow": (1.0, 3000, 0, 0)}


def test_a_run_undone_gave_nothing(threshing, writes, told):
    run = Movement.objects.get(pk=threshing.pk)
    writes(entry_undo, movement=run, date=THRESHED)
    assert told() == {}


def test_a_harvest_is_weighed_by_the_hectare(
    marl, another, threshing, writes, monkeypatch
):
    monkeypatch.setattr(
        "sheafwright.records.due.yields.today",
        lambda holding: datetime.date(2027, 1, 1),
    )
    reed = (Outturn("reed", 1000, "R2"), Outturn("grain", 500, "G2"))
    stooks = another.stook_set
    writes(threshing_record, stook_set=stooks, date=THRESHED, outturn=reed)
    (weighed,) = weighed_by_year(marl)
    assert (weighed.year, weighed.combed) == (2026, True)
    assert (weighed.made_t_per_ha, weighed.grain_t_per_ha) == (2.5, 1.5)
    # Nobody said what soil it is.
    assert weighed.nitrogen_kg_per_ha is None


def test_the_last_run_of_the_drum_tells_whether_straw_is_combed(marl, ricked, writes):
    assert combs(marl)
    writes(threshing_record, rick=ricked, date=THRESHED, combed=False)
    assert not combs(marl)
