"""The page of stooks says in what order they are carted, and what they want in rain."""

import datetime

import pytest

from sheafwright.records.models import SavedAnswer
from sheafwright.records.services.ground import field_correct
from sheafwright.records.services.store import rick_correct, rick_reading_record

DAY = datetime.date(2026, 8, 20)
BAY = {"shape": "bay", "length_m": 10.0, "width_m": 6.0, "eaves_m": 4.0}


def days(first, **columns):
    """A row a day, from so many days after the day of the page on."""
    rows = zip(*columns.values(), strict=True)
    return [
        {"date": str(DAY + datetime.timedelta(day))}
        | dict(zip(columns, row, strict=True))
        for day, row in enumerate(rows, first)
    ]


SAID = {
    "sentence": "Wait.",
    "action": "wait",
    "carting_by_day": days(
        0,
        chance_fit=[0.3, 0.8, 0.8],
        chance_fit_by=[0.3, 0.8, 0.9],
        chance_of_rain=[0.6, 0.1, 0.1],
    ),
    "moisture_by_day": days(
        -2,
        known=[True, True, True, False],
        rain_mm=[9.0, 4.0, 2.0, 7.0],
        grain_moisture_p50_share=[0.27, 0.27, 0.26, 0.24],
    ),
    "working": [],
}


@pytest.fixture(autouse=True)
def in_august(marl):
    marl.looked_at_as_of = DAY
    marl.save()


@pytest.fixture
def answered(marl, cut):
    return SavedAnswer.objects.create(
        holding=marl,
        question="stooks",
        subject=cut.stook_set.pk,
        day=DAY,
        seed=1,
        said=SAID,
    )


@pytest.fixture
def page(client, ann):
    client.force_login(ann, "django.contrib.auth.backends.ModelBackend")

    def page(address="stooks/", **said):
        ask = client.post if said else client.get
        return ask(f"/marl-hollow/{address}", said or None).content.decode()

    return page


def test_the_order_has_its_day_loads_hours_and_rick(page, writes, answered, rick):
    writes(rick_correct, rick=rick, why="measured", **BAY)
    said = page()
    assert "Cart Long Meadow first, on Friday 21 August: 8 chances in 10" in said
    assert "That is 4 to 6 loads" in said
    assert "It fits Barn end." in said
    # 240 m³ hold 2,160 to 3,120 sheaves, loosely; 1,000 go in.
    assert "1,160 to 2,120" in said


def test_what_they_want_after_rain_stands_with_them(page, answered):
    said = page()
    assert "Go round and set up what has fallen: 15 mm fell in 3 days." in said
    assert "Open and turn them on Friday 21 August" in said
    assert "Look into the ears for sprouts: the grain is at about 26%." in said


def test_today_says_to_see_to_them(page, answered):
    said = page("today/")
    assert "See to the stooks of Long Meadow." in said
    assert "15 mm fell in 3 days." in said


def test_ann_reads_inches_if_she_thinks_in_them(page, ann, answered):
    ann.units = "imperial"
    ann.save()
    assert "0.59\u00a0in fell in 3 days" in page()


def test_a_hot_rick_is_no_place_to_cart_to(page, writes, answered, rick):
    at = datetime.datetime(2026, 8, 19, 12, tzinfo=datetime.UTC)
    rick.built = datetime.date(2026, 8, 19)
    rick.save()
    writes(rick_reading_record, rick=rick, at=at, temperature_c=62)
    assert "No rick stands that it may go to." in page()


def test_the_way_to_the_rick_is_the_fields_own(page, writes, answered, long_meadow):
    assert "it is taken as 0.5 km" in page()
    writes(field_correct, field=long_meadow, to_rick_m=4000.0, why="by the map")
    assert "it is taken as" not in page()


def test_with_one_cart_and_few_hands_it_is_asked_anew(page, answered):
    said = page("ask/carting/", hands="2", carts="1")
    assert "with 1 cart and 2 hands" in said


def test_too_many_carts_are_refused_in_a_sentence(page, answered):
    assert "500 carts can&#x27;t be right" in page("ask/carting/", carts="500")


def test_stooks_without_an_answer_are_in_no_order(page, cut):
    assert "The order of carting" not in page()
