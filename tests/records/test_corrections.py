import datetime
import json
import uuid

import pytest
from django.core.exceptions import ValidationError
from django.db import DatabaseError, transaction

from sheafwright.records.errors import NothingChanges, NotOurs, SaidOtherwise
from sheafwright.records.models import Correction, Field
from sheafwright.records.selectors.corrections import corrections_of
from sheafwright.records.services.ground import field_correct, field_create
from sheafwright.records.services.inspection import (
    certificate_add,
    certificate_correct,
)
from sheafwright.records.services.seed import seed_lot_correct

DAY = datetime.date(2025, 10, 1)
SQUARE = {
    "type": "Polygon",
    "coordinates": [
        [[-2.0, 52.4], [-1.998, 52.4], [-1.998, 52.401], [-2.0, 52.401], [-2.0, 52.4]]
    ],
}


@pytest.fixture
def certificate(write):
    return write(
        certificate_add,
        holder="Marl Hollow",
        is_own=True,
        body="An invented control body",
        code="XX-ORG-00",
        scope="cereals",
        since=DAY,
        expires=DAY.replace(year=2026),
    )


def told(marl, **which):
    return [
        (each.thing, each.fact, each.was, each.now, each.why, each.by)
        for each in corrections_of(holding=marl, units="metric", **which)
    ]


def test_a_fields_area_is_put_right_and_what_it_was_stays_written(
    write, marl, long_meadow
):
    write(field_correct, field=long_meadow, area_ha=2.2, why="measured again")
    assert Field.objects.get().area_ha == 2.2
    assert told(marl) == [
        ("Long Meadow", "area", "2.00\u00a0ha", "2.20\u00a0ha", "measured again", "Ann")
    ]


def test_facts_that_did_not_change_are_not_said_to_have(write, long_meadow):
    said = {"name": "Long Meadow", "area_ha": 2.0, "soil": "clay", "why": "dug"}
    written = write(field_correct, field=long_meadow, **said)
    assert (written.was, written.now) == ({"soil": ""}, {"soil": "clay"})


def test_nothing_is_put_right_that_says_so_already(write, long_meadow):
    with pytest.raises(NothingChanges, match="says that already"):
        write(field_correct, field=long_meadow, area_ha=2.0, why="measured")
    assert not Correction.objects.exists()


def test_put_right_twice_it_is_put_right_once(write, long_meadow):
    id = uuid.uuid4()
    for _ in range(2):
        write(field_correct, id=id, field=long_meadow, area_ha=2.2, why="measured")
    assert Correction.objects.count() == 1


def test_an_id_used_for_something_else_is_refused(write, long_meadow):
    id = uuid.uuid4()
    write(field_correct, id=id, field=long_meadow, area_ha=2.2, why="measured")
    with pytest.raises(SaidOtherwise):
        write(field_correct, id=id, field=long_meadow, area_ha=2.3, why="measured")
    assert Field.objects.get().area_ha == 2.2


def test_an_outline_is_drawn_anew_and_leaves_the_area(write, marl, long_meadow):
    outline = json.dumps(SQUARE).encode()
    write(field_correct, field=long_meadow, outline_file=outline, why="walked")
    field = Field.objects.get()
    assert field.outline["coordinates"][0][0][0] == [-2.0, 52.4]
    assert field.area_ha == 2.0
    ((_thing, fact, was, now, *_),) = told(marl)
    assert (fact, was, now) == ("outline", "nothing", "an outline")


@pytest.mark.parametrize(
    "wrong", [{"area_ha": 0}, {"area_ha": None}, {"name": ""}, {"name": "The Slade"}]
)
def test_what_no_field_can_be_is_refused_and_nothing_changes(wrong, write, long_meadow):
    write(field_create, name="The Slade", area_ha=1)
    with pytest.raises(ValidationError):
        write(field_correct, field=long_meadow, why="measured", **wrong)
    kept = Field.objects.get(pk=long_meadow.pk)
    assert (kept.name, kept.area_ha) == ("Long Meadow", 2.0)
    assert not Correction.objects.exists()


def test_why_is_always_said(write, long_meadow):
    with pytest.raises(ValidationError, match="why"):
        write(field_correct, field=long_meadow, area_ha=2.2, why="")
    assert Field.objects.get().area_ha == 2.0


def test_nobody_puts_right_anothers_field(write, long_meadow, other_holding):
    with pytest.raises(NotOurs):
        write(
            field_correct,
            holding=other_holding,
            field=long_meadow,
            area_ha=3,
            why="mine",
        )


def test_a_certificates_number_and_days_are_put_right(write, marl, certificate):
    ends = DAY.replace(year=2027)
    write(
        certificate_correct,
        certificate=certificate,
        number="0417",
        expires=ends,
        covers_straw=True,
        why="misread",
    )
    certificate.refresh_from_db()
    assert (certificate.number, certificate.expires) == ("0417", ends)
    assert [fact[1:4] for fact in told(marl, certificate=certificate)] == [
        ("number", "nothing", "0417"),
        ("until", "2026-10-01", "2027-10-01"),
        ("straw is on it", "no", "yes"),
    ]


def test_a_certificate_still_ends_after_it_begins(write, certificate):
    with pytest.raises(ValidationError, match="when it begins"):
        write(
            certificate_correct,
            certificate=certificate,
            expires=DAY.replace(year=2024),
            why="misread",
        )


def test_a_seed_lots_facts_are_put_right_by_the_same_rules(
    write, marl, seed_lot, grain
):
    with pytest.raises(ValidationError, match="not kept from a lot of your own"):
        write(seed_lot_correct, seed_lot=seed_lot, grown_as=grain, why="label found")
    write(
        seed_lot_correct,
        seed_lot=seed_lot,
        grown_as=grain,
        came="own",
        why="label found",
    )
    assert [fact[1:4] for fact in told(marl, seed_lot=seed_lot)] == [
        ("grown as", "nothing", "G-26-1"),
        ("where from", "bought in", "saved on this holding"),
    ]


@pytest.mark.parametrize("deed", ["update", "delete"])
def test_the_database_lets_nobody_change_what_was_put_right(deed, write, long_meadow):
    write(field_correct, field=long_meadow, area_ha=2.2, why="measured")
    with pytest.raises(DatabaseError, match="stays written"), transaction.atomic():
        if deed == "update":
            Correction.objects.update(why="another reason")
        else:
            Correction.objects.all().delete()
    assert Correction.objects.get().why == "measured"
