import datetime

import pytest

from sheafwright.records.models import Lot, SavedAnswer
from sheafwright.records.selectors.year import STEPS, field_years
from sheafwright.records.services.crop import observation_record
from sheafwright.records.services.harvest import carting_record, cut_record
from sheafwright.records.services.stock import entry_undo, sale_record
from sheafwright.records.services.store import rick_build
from sheafwright.records.services.threshing import Outturn, threshing_record


def _day(month, day):
    return datetime.date(2026, month, day)


@pytest.fixture(autouse=True)
def in_december(marl):
    marl.looked_at_as_of = _day(12, 1)
    marl.save()


@pytest.fixture
def carted(write, sowing):
    """Long Meadow is cut, and in the barn."""
    write(observation_record, sowing=sowing, date=_day(6, 14), stage="ear_out")
    cut = write(cut_record, sowing=sowing, date=_day(8, 3), area_ha=2.0, stooks=80)
    rick = write(rick_build, name="Barn rick", built=_day(8, 17), cover="roof")
    return write(
        carting_record, stook_set=cut.stook_set, rick=rick, date=_day(8, 17)
    ), rick


@pytest.fixture
def threshed(write, carted):
    _, rick = carted
    return write(
        threshing_record,
        date=_day(10, 20),
        rick=rick,
        outturn=(Outturn("reed", 2000, "26-1"), Outturn("grain", 1500, "26-2")),
    )


def _steps(sowing):
    return field_years([sowing])[sowing.pk]


def _known(sowing):
    return {s.name: s.known for s in _steps(sowing) if s.known}


def test_a_field_just_sown_is_known_to_be_sown(sowing):
    assert _known(sowing) == {"sown": sowing.date}
    assert tuple(step.name for step in _steps(sowing)) == STEPS


def test_each_step_has_the_day_that_it_was_done(write, sowing, threshed):
    write(
        sale_record,
        lot=Lot.objects.get(code="26-1"),
        date=_day(11, 9),
        kg=500,
        buyer_name="A thatcher",
    )
    assert _known(sowing) == {
        "sown": sowing.date,
        "ear": _day(6, 14),
        "cut": _day(8, 3),
        "stooked": _day(8, 3),
        "ricked": _day(8, 17),
        "threshed": _day(10, 20),
        "sold": _day(11, 9),
    }


def test_what_was_undone_is_not_known(write, sowing, carted):
    write(entry_undo, movement=carted[0], date=_day(8, 18))
    assert "ricked" not in _known(sowing)
    assert "stooked" in _known(sowing)


def test_what_is_not_known_is_expected_by_the_last_outlook(write, marl, sowing):
    days = {"p10": "2026-06-10", "p50": "2026-06-14", "p90": "2026-06-19"}
    SavedAnswer.objects.create(
        holding=marl,
        question="outlook",
        subject=sowing.pk,
        day=_day(5, 1),
        seed=1,
        said={"stages": {"flowering": days, "ear_out": days}},
    )
    write(observation_record, sowing=sowing, date=_day(6, 12), stage="ear_out")
    year = {step.name: step for step in _steps(sowing)}
    assert year["flower"].expected.likely == _day(6, 14)
    assert year["ear"].expected is None
    assert year["sold"].expected is None


def test_many_fields_ask_no_more_of_the_database_than_one(
    sowing, threshed, django_assert_max_num_queries
):
    with django_assert_max_num_queries(8):
        field_years([sowing])
