"""Seed: first what wants doing, then the dates of sowing side by side."""

import datetime
import html
import re
import uuid

import pytest
from django.core.files.base import ContentFile

from sheafwright.answers.sowing_dates import sowings
from sheafwright.answers.sowing_dates_question import SowingsQuestion
from sheafwright.charts.save import svg
from sheafwright.charts.sowings import sowings_chart
from sheafwright.feeds.holding import demo_holding
from sheafwright.records.models import SavedAnswer, SeedHealthTest, WeatherSource


@pytest.fixture
def page(client, ann, marl):
    """The words of Seed, as Ann reads it."""
    client.force_login(ann)

    def read():
        text = re.sub(r"<[^>]+>", " ", client.get("/marl-hollow/seed/").text)
        return re.sub(r"\s+", " ", html.unescape(text))

    return read


@pytest.fixture
def source(marl, ann, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    said = {"name": "The station", "record": ContentFile(b"-", "record.csv")}
    return WeatherSource.objects.create(holding=marl, made_by=ann, **said)


@pytest.fixture(scope="module")
def compared():
    """Two dates at the demo's place."""
    demo = demo_holding()
    return sowings(
        SowingsQuestion(
            weather=demo.weather,
            columns=demo.columns,
            latitude=demo.latitude,
            altitude=demo.altitude,
            sown=((10, 10), (2, 26)),
            plants=(170.0,),
        )
    )


def keep(source, said, chart=""):
    SavedAnswer.objects.create(
        holding=source.holding,
        question="sowings",
        subject=source.pk,
        day=datetime.date(2026, 7, 1),
        inputs_sha256="0",
        tables_sha256="",
        engine_version="",
        seed=1,
        said=said,
        chart=chart,
    )


def test_dates_of_sowing_stand_side_by_side_as_the_answer_has_them(
    page, source, compared, client
):
    said = compared.to_json()
    keep(source, said, svg(sowings_chart(compared, titled=False)))
    words = page()
    for sentence in said["sentence"].split(". "):
        assert re.sub(r"\s+", " ", sentence) in words
    autumn, spring = said["by_sowing"]
    for row, cold in ((autumn, "safe"), (spring, "at risk")):
        spells = f"{row['fit_week_seasons']} of {said['seasons']} years {cold}"
        assert spells in words
        assert f"£{round(row['gbp_per_ha']['mean'], -1):,.0f}" in words
    assert 'class="chart"' in client.get("/marl-hollow/seed/").text


def test_until_they_are_compared_it_says_so(page, source):
    assert "When to sow Being worked out" in page()


def test_why_they_cannot_be_compared_is_said(page, source):
    keep(source, {"refused": "The record has no whole season."})
    assert "The record has no whole season." in page()


def test_without_a_record_it_says_what_to_add(page):
    assert "Add the weather record" in page()


def test_before_a_sowing_the_questions_come_first_and_after_it_what_was_sown(
    page, marl, sowing
):
    for day, first in (((2026, 9, 1), "How thick"), ((2026, 3, 1), "What was sown")):
        marl.looked_at_as_of = datetime.date(*day)
        marl.save()
        words = page().split("Settings", 1)[1]
        places = {words.index(each): each for each in ("How thick", "What was sown")}
        assert places[min(places)] == first


def test_each_lot_leads_to_its_own_question(client, page, seed_lot):
    client.force_login(seed_lot.made_by)
    text = client.get("/marl-hollow/seed/").text
    assert f"/ask/seed-rate/?seed_lot={seed_lot.pk}" in text
    smells = f"?seed_lot={seed_lot.pk}&amp;sickness=bunt&amp;found=found"
    assert f"/write/seed-health/{smells}" in text
    form = client.get(f"/marl-hollow/write/seed-health/{smells}".replace("&amp;", "&"))
    assert form.context["form"]["found"].value() == "found"


def test_as_many_questions_of_the_book_for_many_sowings_as_for_few(
    client, ann, sowing, source, django_assert_max_num_queries
):
    client.force_login(ann)
    for _each in range(60):
        sowing.pk, sowing._state.adding = uuid.uuid4(), True
        sowing.save()
    with django_assert_max_num_queries(16):
        client.get("/marl-hollow/seed/")


def test_seed_that_is_sown_takes_a_line_unless_it_is_sick(client, page, ann, sowing):
    words = page()
    assert "Seed that is sown Lot Came up Not looked for W-25" in words
    SeedHealthTest.objects.create(
        holding=sowing.holding,
        made_by=ann,
        seed_lot=sowing.seed_lot,
        date=datetime.date(2026, 6, 1),
        sickness="bunt",
        found="found",
    )
    words = page()
    assert "Seed that is sown" not in words
    assert "Bunt was found on" in words
