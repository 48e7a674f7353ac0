import datetime
import uuid
from pathlib import Path

import pytest
from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds.holding import DEMO
from sheafwright.records.models import WeatherSource
from sheafwright.records.services.work import (
    gauge_reading_record,
    labour_record,
    weather_source_set,
)

DAY = datetime.date(2025, 8, 5)


@pytest.fixture
def demo_files():
    return {
        part: ContentFile((DEMO / name).read_bytes(), name)
        for part, name in (("record", "weather.csv.gz"), ("columns", "columns.toml"))
    }


def test_ben_reads_the_gauge(write, ben):
    read = write(gauge_reading_record, made_by=ben, date=DAY, rain_mm=4.2)
    assert (read.rain_mm, read.tmin_c) == (4.2, None)


@pytest.mark.parametrize(
    ("said", "says"),
    [({}, "says nothing"), ({"tmin_c": 20, "tmax_c": 9}, "look swapped")],
)
def test_a_reading_of_nothing_or_upside_down_is_refused(write, said, says):
    with pytest.raises(ValidationError, match=says):
        write(gauge_reading_record, date=DAY, **said)


def test_one_day_has_one_gauge_reading(write):
    write(gauge_reading_record, date=DAY, rain_mm=4.2)
    with pytest.raises(ValidationError, match="already exists"):
        write(gauge_reading_record, date=DAY, rain_mm=5.0)


def test_nobody_works_tomorrow(write):
    with pytest.raises(ValidationError, match="still to come"):
        write(
            labour_record,
            date=datetime.date(2190, 1, 1),
            who="Ben",
            hours=8,
            job="stooking",
        )


def test_a_record_that_can_be_read_is_kept(write, own_folder, demo_files):
    source = write(weather_source_set, name="The house", **demo_files)
    assert source.record.path == str(own_folder / "weather" / f"{source.pk}-record")
    kept = Path(source.columns.path).read_bytes()
    assert kept == (DEMO / "columns.toml").read_bytes()


def test_a_record_sent_twice_is_kept_once(write, own_folder, demo_files):
    id = uuid.uuid4()
    for _ in range(2):
        for file in demo_files.values():
            file.seek(0)
        write(weather_source_set, id=id, name="The house", **demo_files)
    assert WeatherSource.objects.count() == 1


def test_a_record_that_cannot_be_read_is_refused_by_its_own_name(write, own_folder):
    letter = ContentFile(b"Dear Ann,\nit rained.\n", "letter.csv")
    with pytest.raises(UnreadableInput, match=r"letter\.csv"):
        write(weather_source_set, name="A letter", record=letter)
    assert not list(own_folder.rglob("*record"))
