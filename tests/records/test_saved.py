import datetime
import uuid

import pytest
from django.core.files.base import ContentFile

from sheafwright.feeds.holding import demo_holding
from sheafwright.records import saved
from sheafwright.records.models import SavedAnswer
from sheafwright.records.services.crop import observation_record
from sheafwright.records.services.harvest import cut_record
from sheafwright.records.services.work import weather_source_set


@pytest.fixture
def weather(marl, ann, settings, tmp_path):
    """The demo's record, on a day on which Long Meadow stands."""
    settings.MEDIA_ROOT = tmp_path
    demo = demo_holding()
    marl.latitude_deg, marl.altitude_m = demo.latitude, demo.altitude
    marl.looked_at_as_of = datetime.date(2025, 8, 7)
    marl.save()
    files = {}
    for name, path in (("record", demo.weather), ("columns", demo.columns)):
        with open(path, "rb") as file:  # noqa: PTH123
            files[name] = ContentFile(file.read(), name=path)
    return weather_source_set(
        id=uuid.uuid4(), holding=marl, made_by=ann, name="The station", **files
    )


@pytest.fixture
def standing_crop(sowing, marl, weather):
    sowing.date, sowing.harvest_year = datetime.date(2024, 10, 10), 2025
    sowing.save()
    return sowing


def _kinds():
    return sorted(SavedAnswer.objects.values_list("question", flat=True))


def test_nothing_is_due_without_weather(marl, sowing):
    assert list(saved.due_answers(marl)) == []


def test_an_outlook_is_kept_with_all_that_draws_it_again(marl, standing_crop):
    saved.fill_due(marl)
    (kept,) = SavedAnswer.objects.all()
    assert kept.question == "outlook"
    assert kept.said["advice"]["action"] in ("cut", "wait", "not_fit", "too_late")
    assert kept.chart.startswith("<svg")
    assert kept.tables_sha256 == saved.tables_sha256()


def test_the_same_is_not_worked_out_twice(marl, standing_crop, monkeypatch):
    saved.fill_due(marl)
    monkeypatch.setattr(saved, "_work_out", lambda due: pytest.fail("worked out again"))
    saved.fill_due(marl)


def test_a_stage_seen_makes_a_new_answer(marl, ann, standing_crop):
    saved.fill_due(marl)
    observation_record(
        id=uuid.uuid4(),
        holding=marl,
        made_by=ann,
        sowing=standing_crop,
        date=datetime.date(2025, 6, 19),
        stage="flowering",
    )
    saved.fill_due(marl)
    assert _kinds() == ["outlook", "outlook"]


def test_stooks_have_their_answer_and_a_cut_field_has_none(marl, ann, standing_crop):
    cut_record(
        id=uuid.uuid4(),
        holding=marl,
        made_by=ann,
        sowing=standing_crop,
        date=datetime.date(2025, 8, 4),
        area_ha=2.0,
        sheaves=1500,
    )
    saved.fill_due(marl)
    assert _kinds() == ["stooks"]


def test_what_the_engine_refuses_is_kept_as_its_sentence(marl, standing_crop, weather):
    marl.latitude_deg = None
    marl.save()
    weather.columns = ""
    weather.save()
    saved.fill_due(marl)
    (kept,) = SavedAnswer.objects.all()
    assert kept.said["refused"].endswith(".")
