import datetime

import pytest
from django.http import Http404

from sheafwright.records.selectors.ground import field_now, fields_now
from sheafwright.records.selectors.inspection import book_of_period, certificates_now
from sheafwright.records.selectors.seed import seed_lots
from sheafwright.records.selectors.store import ricks_now
from sheafwright.records.selectors.work import hours_owed
from sheafwright.records.services.ground import field_status_add
from sheafwright.records.services.harvest import carting_record, cut_record
from sheafwright.records.services.inspection import certificate_add, cleaning_record
from sheafwright.records.services.seed import (
    germination_test_add,
    seed_health_test_add,
)
from sheafwright.records.services.store import rick_build, rick_reading_record
from sheafwright.records.services.work import labour_record

TODAY = datetime.date(2026, 8, 20)


@pytest.fixture(autouse=True)
def in_august(marl):
    marl.looked_at_as_of = TODAY
    marl.save()


def test_a_field_shows_what_grows_on_it_and_how_it_is_farmed(
    write, marl, long_meadow, sowing
):
    for way, year in (("converting", 2020), ("organic", 2022)):
        since = datetime.date(year, 3, 1)
        write(field_status_add, field=long_meadow, way=way, since=since)
    (now,) = fields_now(holding=marl)
    assert (now.sowings, now.status.way) == ((sowing,), "organic")


def test_cleos_holding_has_no_such_field(long_meadow, other_holding):
    with pytest.raises(Http404):
        field_now(holding=other_holding, id=long_meadow.pk)


def test_a_seed_lot_shows_its_last_tests(write, marl, seed_lot):
    day = TODAY.replace(month=3)
    for count in (70, 93):
        write(germination_test_add, seed_lot=seed_lot, date=day, came_up=[count] * 4)
    for found in ("found", "none"):
        write(
            seed_health_test_add,
            seed_lot=seed_lot,
            date=day,
            sickness="bunt",
            found=found,
        )
    (seen,) = seed_lots(holding=marl)
    assert (seen.germination.in_hundred, seen.sick) == (93, ())


def test_a_rick_shows_what_was_carted_to_it(write, marl, sowing):
    cut = write(
        cut_record,
        sowing=sowing,
        date=TODAY.replace(day=3),
        area_ha=1.0,
        sheaves=100,
        kg_per_sheaf=9,
    )
    rick = write(
        rick_build, name="Barn rick", built=TODAY, cover="roof", capacity_kg=9000
    )
    write(carting_record, stook_set=cut.stook_set, rick=rick, date=TODAY)
    at = datetime.datetime(2026, 8, 20, 12, tzinfo=datetime.UTC)
    write(rick_reading_record, rick=rick, at=at, temperature_c=28)
    (now,) = ricks_now(holding=marl)
    assert now.kg == 900.0
    assert now.from_stooks == (cut.stook_set,)
    assert [each.temperature_c for each in now.rick.readings.all()] == [28]


@pytest.mark.parametrize(
    ("days", "nets"),
    [
        ([("Dan", 8, "to_us"), ("dan ", 3, "to_them")], [("Dan", 5.0)]),
        ([("Dan", 8, "to_us"), ("Dan", 8, "to_them")], []),
        ([("Dan", 8, "none"), ("Eve", 2.5, "to_them")], [("Eve", -2.5)]),
    ],
)
def test_days_between_neighbours_are_set_against_each_other(write, marl, days, nets):
    for who, hours, owed in days:
        write(labour_record, date=TODAY, who=who, hours=hours, job="carts", owed=owed)
    assert [(o.who, o.hours) for o in hours_owed(holding=marl)] == nets


def _certificate(write, since, expires, **said):
    about = {
        "holder": "Marl Hollow",
        "is_own": True,
        "body": "An invented body",
        "code": "XX-ORG-00",
        "scope": "cereals",
    }
    return write(certificate_add, **(about | said), since=since, expires=expires)


def test_a_certificate_tells_when_it_ends_and_what_it_leaves_out(write, marl):
    for year in (2025, 2026):
        start = datetime.date(year - 1, 9, 1)
        _certificate(write, start, datetime.date(year, 8, 31))
    (now,) = certificates_now(holding=marl)
    assert (now.days_left, now.ends_soon, now.leaves_straw_out) == (11, True, True)


def test_the_inspector_is_shown_a_period_and_nothing_outside_it(write, marl, sowing):
    for month in (2, 7):
        day = TODAY.replace(month=month)
        write(cleaning_record, date=day, what="drum", how="brushed")
    cut = write(cut_record, sowing=sowing, date=TODAY, area_ha=1.0)
    begins = TODAY.replace(month=6, day=1)
    book = book_of_period(holding=marl, begins=begins, ends=TODAY)
    assert [c.date.month for c in book.cleanings] == [7]
    # Sown the year before, cut in this period: its seed is asked for.
    assert (list(book.sowings), list(book.cuts)) == ([sowing], [cut])
    assert {line.movement_id for line in book.lines} == {cut.pk}
