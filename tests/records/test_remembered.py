"""What is remembered is never older than the last write."""

import datetime

import pytest
from django.core.exceptions import ValidationError
from django.utils import translation

from sheafwright.records.reader import reading
from sheafwright.records.remembered import remembered
from sheafwright.records.services.entry import writing
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
    return remembered(Asked())


@pytest.fixture
def written(write, marl):
    """The holding, once something was written on it."""
    write(gauge_reading_record, date=DAY, rain_mm=4.2)
    return marl


def test_it_is_asked_once_while_nothing_is_written(asked, written):
    assert [asked(holding=written) for _ in range(3)] == [1, 1, 1]
    assert asked(holding=written, since=DAY) == 2


def test_it_is_asked_anew_after_a_write(asked, write, written):
    asked(holding=written)
    write(gauge_reading_record, date=DAY + datetime.timedelta(1), rain_mm=0.0)
    assert asked(holding=written) == 2


def test_it_is_not_asked_anew_after_a_write_that_was_refused(asked, write, written):
    asked(holding=written)
    with pytest.raises(ValidationError):
        write(gauge_reading_record, date=DAY, rain_mm=-1)
    assert asked(holding=written) == 1


def test_inside_a_write_it_is_always_asked(asked, written):
    asked(holding=written)
    with writing(written):
        assert [asked(holding=written) for _ in range(2)] == [2, 3]


def test_it_is_asked_anew_on_another_day(asked, written):
    asked(holding=written)
    written.looked_at_as_of = DAY
    assert asked(holding=written) == 2


def test_each_reader_is_told_apart(asked, written):
    with reading():
        asked(holding=written)
    with reading("imperial"):
        assert asked(holding=written) == 2
    with translation.override("de"), reading():
        assert asked(holding=written) == 3


def test_a_holding_never_written_on_is_always_asked(asked, marl):
    assert [asked(holding=marl) for _ in range(2)] == [1, 2]


def test_another_holding_s_write_is_not_ours(asked, written, other_holding):
    asked(holding=written)
    with writing(other_holding):
        pass
    assert asked(holding=written) == 1
