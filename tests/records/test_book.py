import datetime
import uuid

import pytest
from django.db import IntegrityError, transaction

from sheafwright.records.errors import SaidOtherwise, TooLittleThere
from sheafwright.records.models import Line, Movement, Place
from sheafwright.records.services.book import (
    Step,
    movement_reverse,
    movement_write,
    place_of,
)

DAY = datetime.date(2026, 8, 5)


@pytest.fixture
def grown(marl):
    return place_of(holding=marl, kind=Place.Kind.GROWN)


@pytest.fixture
def stooks(marl):
    return place_of(holding=marl, kind=Place.Kind.STOOKS, subject=uuid.uuid4())


@pytest.fixture
def cut(marl, ann):
    def write(*steps, id=None):
        return movement_write(
            id=id or uuid.uuid4(),
            holding=marl,
            made_by=ann,
            kind=Movement.Kind.CUT,
            date=DAY,
            steps=steps,
        )

    return write


def _there(place):
    place.balance.refresh_from_db()
    return place.balance.grams


def test_what_is_taken_from_one_place_is_in_the_other(cut, grown, stooks):
    cut(Step(grown, -5000), Step(stooks, 5000))
    assert (_there(grown), _there(stooks)) == (-5000, 5000)


def test_a_movement_sent_twice_is_written_once(cut, grown, stooks):
    id = uuid.uuid4()
    cut(Step(grown, -5000), Step(stooks, 5000), id=id)
    cut(Step(grown, -5000), Step(stooks, 5000), id=id)
    assert _there(stooks) == 5000


def test_a_movement_sent_again_that_says_otherwise_is_refused(cut, grown, stooks):
    id = uuid.uuid4()
    cut(Step(grown, -5000), Step(stooks, 5000), id=id)
    with pytest.raises(SaidOtherwise):
        cut(Step(grown, -6000), Step(stooks, 6000), id=id)


def test_no_more_is_taken_than_is_there(cut, grown, stooks):
    with pytest.raises(TooLittleThere, match=r"5\.0 kg .* there are 0\.0"):
        cut(Step(stooks, -5000), Step(grown, 5000))


def test_the_reverse_of_a_movement_leaves_nothing_of_it(marl, ann, cut, grown, stooks):
    written = cut(Step(grown, -5000), Step(stooks, 5000))
    movement_reverse(
        id=uuid.uuid4(), holding=marl, made_by=ann, movement=written, date=DAY
    )
    assert _there(stooks) == 0


def test_each_movement_is_sealed_on_to_the_last(cut, grown, stooks):
    first = cut(Step(grown, -5000), Step(stooks, 5000))
    second = cut(Step(grown, -1), Step(stooks, 1))
    assert (second.seq, second.previous_seal) == (2, first.seal)


def test_the_database_refuses_lines_that_do_not_balance(cut, grown, stooks):
    with pytest.raises(IntegrityError, match="must balance"), transaction.atomic():
        cut(Step(grown, -5000), Step(stooks, 4999))


@pytest.mark.parametrize("kept", [Movement, Line, Place])
def test_the_database_refuses_to_change_or_remove(kept, cut, grown, stooks):
    cut(Step(grown, -5000), Step(stooks, 5000))
    with pytest.raises(IntegrityError, match="never changed"), transaction.atomic():
        kept.objects.all()._raw_delete("default")
    with pytest.raises(IntegrityError, match="never changed"), transaction.atomic():
        kept.objects.update(id=uuid.uuid4())


def test_the_database_refuses_a_late_line(cut, grown, stooks):
    written = cut(Step(grown, -5000), Step(stooks, 5000))
    with pytest.raises(IntegrityError, match="no more lines"), transaction.atomic():
        Line.objects.create(movement=written, place=stooks, grams=1)
