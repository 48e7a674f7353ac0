"""What the advice would have done in past seasons, on the page that gives it."""

import datetime

import pytest

from sheafwright.records.models import SavedAnswer, WeatherSource
from sheafwright.records.wording import replayed

DAY = datetime.date(2026, 8, 5)
SAID = {
    "seasons": 41,
    "best_plain_rule": "first_fit_day",
    "policies": {
        "advice": {"mean": 0.71, "p10": 0.3, "spoiled": 3},
        "first_fit_day": {"mean": 0.68, "p10": 0.2, "spoiled": 7},
        "foresight": {"mean": 0.84, "p10": 0.5, "spoiled": 1},
    },
    "working": [{"says": "Sown on 10 October.", "source": "You", "standing": "given"}],
}


@pytest.fixture
def as_ann(client, marl, ann, sowing):
    marl.looked_at_as_of = DAY
    marl.save()
    client.force_login(ann, "django.contrib.auth.backends.ModelBackend")
    return client


@pytest.fixture
def keep(marl, ann):
    """Keep a replay of Marl Hollow's record."""
    source = WeatherSource.objects.create(
        holding=marl, made_by=ann, name="The station", record="weather/a"
    )

    def write(said):
        SavedAnswer.objects.create(
            holding=marl,
            question="replay",
            subject=source.pk,
            day=DAY,
            inputs_sha256=str(len(SavedAnswer.objects.all())),
            tables_sha256="",
            engine_version="",
            seed=1,
            said=said,
        )

    return write


def page(client):
    return client.get("/marl-hollow/cutting/").content.decode()


def test_it_says_how_many_crops_were_spoiled_and_how_that_is_known(as_ann, keep):
    keep(SAID)
    shown = page(as_ann)
    assert "Of 41 seasons, crops spoiled: 3 by this advice, 7 by the plain rule." in (
        shown
    )
    assert "Sown on 10 October." in shown


def test_nothing_is_said_before_it_is_worked_out_or_where_it_cannot_be(as_ann, keep):
    assert "crops spoiled" not in page(as_ann)
    keep({"refused": "The record is too short."})
    assert "would have done here" not in page(as_ann)


@pytest.mark.parametrize(("mean", "as_good"), [(0.68, True), (0.6, True), (0.7, False)])
def test_where_the_plain_rule_is_as_good_it_is_said(mean, as_good):
    advice = SAID["policies"]["advice"] | {"mean": mean}
    said = replayed(SAID | {"policies": SAID["policies"] | {"advice": advice}})
    assert ("plain rule would have brought as much, or more" in said) is as_good


def test_a_field_whose_outlook_is_refused_says_why(as_ann, marl, sowing):
    SavedAnswer.objects.create(
        holding=marl,
        question="outlook",
        subject=sowing.pk,
        day=DAY,
        seed=1,
        said={"refused": "The record lacks the rain of 40 days."},
    )
    assert "The record lacks the rain of 40 days." in page(as_ann)
