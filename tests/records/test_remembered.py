"""What is remembered is never older than the last write."""

import datetime

import pytest
from django.core.exceptions import ValidationError
from django.utils import translation

from sheafwright.records.models import Movement
from sheafwright.records.reader import reading
from sheafwright.records.remembered import moved, remembered, written
from sheafwright.records.services.entry import writing
from sheafwright.records.services.stock import entry_undo
from sheafwright.records.services.work import gauge_reading_record

DAY = datetime.date(2025, 8, 5)


class Asked:
    """A selector that says how often it was asked."""

    times = 0

    def __call__(self, *, holding, **said):
        self.times += 1
        return self.times


@pytest.fixture
def asked():
    return remembered(until=written)(Asked())


@pytest.fixture
def begun(write, marl):
    """The holding, once something was written on it."""
    write(gauge_reading_record, date=DAY, rain_mm=4.2)
    return marl


def test_it_is_asked_once_while_nothing_is_written(asked, begun):
    assert [asked(holding=begun) for _ in range(3)] == [1, 1, 1]
    assert asked(holding=begun, since=DAY) == 2


def test_it_is_asked_anew_after_a_write(asked, write, begun):
    asked(holding=begun)
    write(gauge_reading_record, date=DAY + datetime.timedelta(1), rain_mm=0.0)
    assert asked(holding=begun) == 2


def test_it_is_not_asked_anew_after_a_write_that_was_refused(asked, write, begun):
    asked(holding=begun)
    with pytest.raises(ValidationError):
        write(gauge_reading_record, date=DAY, rain_mm=-1)
    assert asked(holding=begun) == 1


def test_inside_a_write_it_is_always_asked(asked, begun):
    asked(holding=begun)
    with writing(begun):
        assert [asked(holding=begun) for _ in range(2)] == [2, 3]


def test_it_is_asked_anew_on_another_day(asked, begun):
    asked(holding=begun)
    begun.looked_at_as_of = DAY
    assert asked(holding=begun) == 2


def test_each_reader_is_told_apart(asked, begun):
    with reading():
        asked(holding=begun)
    with reading("imperial"):
        assert asked(holding=begun) == 2
    with translation.override("de"), reading():
        assert asked(holding=begun) == 3


def test_a_holding_never_written_on_is_always_asked(asked, marl):
    assert [asked(holding=marl) for _ in range(2)] == [1, 2]


def test_another_holding_s_write_is_not_ours(asked, begun, other_holding):
    asked(holding=begun)
    with writing(other_holding):
        pass
    assert asked(holding=begun) == 1


def test_what_hangs_on_kilograms_is_asked_anew_once_some_move(write, cut, marl):
    asked = remembered(until=moved)(Asked())
    asked(holding=marl)
    write(gauge_reading_record, date=DAY, rain_mm=4.2)
    assert asked(holding=marl) == 1
    write(entry_undo, movement=Movement.objects.get(pk=cut.pk), date=cut.date)
    assert asked(holding=marl) == 2
