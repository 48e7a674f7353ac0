import datetime
import io
import uuid

import pytest
from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from django.utils import timezone
from PIL import Image

from sheafwright.records.errors import SaidOtherwise
from sheafwright.records.models import Cut, Observation, StookSet
from sheafwright.records.selectors.crop import seen_stages
from sheafwright.records.services.crop import (
    meter_reading_record,
    observation_record,
    sowing_record,
    weed_walk_record,
)

SOWN = datetime.date(2025, 9, 28)
JUNE = datetime.date(2026, 6, 14)


@pytest.fixture(autouse=True)
def in_august(marl):
    marl.looked_at_as_of = datetime.date(2026, 8, 7)
    marl.save()


@pytest.fixture
def stook_set(marl, ann, sowing):
    said = {"holding": marl, "made_by": ann}
    cut = Cut.objects.create(
        **said, sowing=sowing, date=datetime.date(2026, 8, 3), area_ha=1.0
    )
    return StookSet.objects.create(**said, cut=cut)


def _photo(format="JPEG", **kept):
    out = io.BytesIO()
    Image.new("RGB", (60, 40), "gold").save(out, format, **kept)
    return ContentFile(out.getvalue(), "from a phone")


def _sow(write, field, seed_lot, area_ha, id=None, **said):
    said = {"date": SOWN, "harvest_year": 2026} | said
    return write(
        sowing_record, id=id, field=field, seed_lot=seed_lot, area_ha=area_ha, **said
    )


def test_a_field_is_sown_in_two_parts(write, long_meadow, seed_lot):
    _sow(write, long_meadow, seed_lot, 1.2)
    assert _sow(write, long_meadow, seed_lot, 0.8).area_ha == 0.8


def test_no_more_is_sown_than_the_field_has(write, long_meadow, seed_lot):
    _sow(write, long_meadow, seed_lot, 1.2)
    with pytest.raises(ValidationError, match=r"2\.20 ha would be sown .* 2\.00 ha"):
        _sow(write, long_meadow, seed_lot, 1.0)


def test_a_sowing_sent_twice_is_not_counted_twice(write, long_meadow, seed_lot):
    id = uuid.uuid4()
    _sow(write, long_meadow, seed_lot, 2.0, id=id)
    assert _sow(write, long_meadow, seed_lot, 2.0, id=id).pk == id


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ({"harvest_year": 2028}, "that year or the next"),
        ({"date": datetime.date(2026, 8, 8)}, "still to come"),
        ({"variety_class": "biennial"}, "end-january"),
    ],
)
def test_a_sowing_that_cannot_be_is_refused(write, long_meadow, seed_lot, said, says):
    with pytest.raises(ValidationError, match=says):
        _sow(write, long_meadow, seed_lot, 1.0, **said)


def test_ben_sees_the_ear(write, ben, sowing):
    write(observation_record, made_by=ben, sowing=sowing, date=JUNE, stage="ear_out")
    assert seen_stages(sowing.observations.all()) == {"ear_out": JUNE}


def test_what_was_written_last_of_a_stage_stands(write, sowing):
    for day in (14, 12):
        write(
            observation_record, sowing=sowing, date=JUNE.replace(day=day), stage="milk"
        )
    assert seen_stages(sowing.observations.all())["milk"].day == 12


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ({"stage": "in the dumps"}, "should be one of emergence"),
        ({"stage": "milk", "date": datetime.date(2026, 6, 1)}, "before 2026-06-14"),
        ({"stage": "flag_leaf", "date": datetime.date(2026, 6, 20)}, "comes before"),
        ({"stage": "milk", "date": datetime.date(2025, 9, 1)}, "was sown"),
        ({"signs": {"grain": "purple"}}, "should be one of milk"),
        ({"signs": {"beard": "long"}}, "should be one of grain"),
        ({}, "says nothing"),
    ],
)
def test_what_cannot_have_been_seen_is_refused(write, sowing, said, says):
    write(observation_record, sowing=sowing, date=JUNE, stage="ear_out")
    with pytest.raises(ValidationError, match=says):
        write(observation_record, sowing=sowing, **{"date": JUNE} | said)


def test_a_photo_is_kept_without_what_the_phone_added(write, sowing, own_folder):
    exif = Image.Exif()
    exif[0x010F] = "a phone"
    seen = write(observation_record, sowing=sowing, date=JUNE, photo=_photo(exif=exif))
    with Image.open(own_folder / "photos" / f"{seen.pk}.jpg") as kept:
        assert (kept.format, kept.size, len(kept.getexif())) == ("JPEG", (60, 40), 0)


def test_a_photo_sent_twice_is_kept_once(write, sowing, own_folder):
    id = uuid.uuid4()
    for _ in range(2):
        write(observation_record, id=id, sowing=sowing, date=JUNE, photo=_photo("PNG"))
    assert [file.stem for file in own_folder.rglob("*.jpg")] == [str(id)]


@pytest.mark.parametrize("content", [b"<svg onload='x()'/>", _photo().read()[:90]])
def test_what_is_no_photo_is_not_kept(write, sowing, own_folder, content):
    with pytest.raises(ValidationError, match="should be a JPEG or a PNG"):
        write(
            observation_record,
            sowing=sowing,
            date=JUNE,
            photo=ContentFile(content, "ear.jpg"),
        )
    assert not Observation.objects.exists()


def test_a_refused_entry_leaves_no_photo(write, sowing, own_folder):
    with pytest.raises(ValidationError):
        write(
            observation_record, sowing=sowing, date=JUNE, photo=_photo(), height_cm=900
        )
    assert not list(own_folder.rglob("*.jpg"))


def test_another_photo_does_not_take_the_place_of_a_kept_one(write, sowing, own_folder):
    seen = write(observation_record, sowing=sowing, date=JUNE, photo=_photo())
    with pytest.raises(SaidOtherwise):
        write(
            observation_record,
            id=seen.pk,
            sowing=sowing,
            date=JUNE.replace(day=15),
            photo=_photo(),
        )
    assert (own_folder / "photos" / f"{seen.pk}.jpg").exists()


def test_ben_walks_the_weeds_in_june(write, ben, sowing):
    walk = write(weed_walk_record, made_by=ben, sowing=sowing, date=JUNE, weeds="docks")
    assert walk.made_by == ben


def _at(day, hour=12):
    return datetime.datetime(2026, 8, day, hour, tzinfo=datetime.UTC)


def test_ben_reads_the_meter_in_the_stooks(write, stook_set):
    read = write(meter_reading_record, stook_set=stook_set, at=_at(5), straw_pct=17.5)
    assert read.straw_pct == 17.5


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ({"at": _at(2), "straw_pct": 17.0}, "when it was cut"),
        ({"at": _at(8), "straw_pct": 17.0}, "still to come"),
        # An hour later on the farm, in summer time.
        ({"at": _at(7, 23), "straw_pct": 17.0}, "still to come"),
        ({"at": _at(5)}, "says nothing"),
    ],
)
def test_a_reading_that_cannot_be_is_refused(write, stook_set, said, says):
    with pytest.raises(ValidationError, match=says):
        write(meter_reading_record, stook_set=stook_set, **said)


def test_on_a_real_holding_the_day_is_the_days_own(marl):
    from sheafwright.records.clock import today

    marl.looked_at_as_of, marl.time_zone = None, "UTC"
    assert today(marl) == timezone.now().date()
