import datetime

import pytest
from django.core.exceptions import ValidationError

from sheafwright.records.errors import SaidOtherwise
from sheafwright.records.models import Lot, Movement, Place
from sheafwright.records.services.book import Step, movement_write, place_of
from sheafwright.records.services.store import (
    lot_test_record,
    rick_build,
    rick_empty,
    rick_reading_record,
)

BUILT = datetime.date(2025, 8, 20)
EMPTIED = datetime.date(2025, 11, 3)


@pytest.fixture
def rick(write):
    return write(rick_build, name="Barn rick", built=BUILT, cover="roof")


def _at(day):
    return datetime.datetime(2025, 8, day, 9, tzinfo=datetime.UTC)


def test_ben_probes_the_rick(write, ben, rick):
    read = write(
        rick_reading_record, made_by=ben, rick=rick, at=_at(22), temperature_c=31.0
    )
    assert read.temperature_c == 31.0


def test_a_rick_is_not_probed_before_it_is_built(write, rick):
    with pytest.raises(ValidationError, match="when it was built"):
        write(rick_reading_record, rick=rick, at=_at(19), temperature_c=31.0)


def test_a_rick_threshed_out_is_said_to_be_empty(write, rick):
    for _ in range(2):
        write(rick_empty, rick=rick, emptied=EMPTIED)
    rick.refresh_from_db()
    assert rick.emptied == EMPTIED


def test_a_rick_is_not_emptied_on_two_days(write, rick):
    write(rick_empty, rick=rick, emptied=EMPTIED)
    with pytest.raises(SaidOtherwise, match="another day"):
        write(rick_empty, rick=rick, emptied=BUILT)


def test_a_rick_that_still_holds_something_is_not_empty(write, marl, rick):
    write(
        movement_write,
        kind=Movement.Kind.CART,
        date=BUILT,
        steps=[
            Step(place_of(holding=marl, kind=Place.Kind.GROWN), -90_000),
            Step(place_of(holding=marl, kind=Place.Kind.RICK, subject=rick.pk), 90_000),
        ],
    )
    with pytest.raises(ValidationError, match="90 kg are still in Barn rick"):
        write(rick_empty, rick=rick, emptied=EMPTIED)


def test_a_test_of_a_lot_measures_something(write, marl, ann):
    lot = Lot.objects.create(
        holding=marl, made_by=ann, code="25-1", kind="grain", harvest_year=2025,
        variety="Maris Widgeon",
    )  # fmt: skip
    with pytest.raises(ValidationError, match="says nothing"):
        write(lot_test_record, lot=lot, date=EMPTIED)
    assert write(lot_test_record, lot=lot, date=EMPTIED, hagberg_s=240).pk
