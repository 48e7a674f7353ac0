"""The cropping plan on Ground: told, pinned, freed, and where nothing fits."""

import datetime
import html
import re

import pytest

from sheafwright.records import fill
from sheafwright.records.models import Field, PlanFixed, SavedAnswer
from sheafwright.records.services.ground import ley_add, past_crop_add
from sheafwright.records.services.plan import area_want, plan_fix

GROUND = "/marl-hollow/ground/"
DEMO = "/marl-hollow-2"


@pytest.fixture
def told(writes, marl, long_meadow):
    """Long Meadow, after two harvests of ley and one that nobody told of."""
    marl.looked_at_as_of = datetime.date(2026, 8, 20)
    marl.save()
    years = {"sown": datetime.date(2024, 4, 5), "ploughed": datetime.date(2025, 9, 20)}
    writes(ley_add, field=long_meadow, what="red clover", **years)
    return long_meadow


@pytest.fixture
def page(client, ann):
    """Ground as Ann reads it, and its words."""
    client.force_login(ann)

    def read():
        found = client.get(GROUND)
        text = re.sub(r"<[^>]+>", " ", found.text)
        return found, re.sub(r"\s+", " ", html.unescape(text))

    return read


def work_out(holding):
    for due in fill.due_answers(holding):
        fill._fill(holding, due)


def test_the_answer_comes_first_and_its_worth_beneath(page, marl, told):
    work_out(marl)
    found, words = page()
    said = SavedAnswer.objects.order_by("-made_at").first().said
    first, rest = said["sentence"].split(". ", 1)
    assert re.search(r"<h1>(.*)</h1>", found.text)[1] == f"{first}."
    assert re.sub(r"\s+", " ", rest) in words
    for total in said["totals"]:
        assert f"£{round(total['worst_season_gbp'], -1):,}" in words


def test_why_is_told_field_by_field_with_what_else_might_be_grown(page, marl, told):
    work_out(marl)
    said = SavedAnswer.objects.order_by("-made_at").first().said
    first = said["fields"][0]["years"][0]
    assert first["next_best"]
    _found, words = page()
    assert f"in 2027: {first['reason']}." in words
    assert first["next_best"]["why"][1:] in words
    for blocked in first["blocked"]:
        assert f"{blocked['why']}." in words


def test_what_nobody_said_is_asked_for(page, marl, told, writes):
    _found, words = page()
    assert "Say what Long Meadow bore in 2022, 2023 and 2026: until then" in words
    assert "Say how Long Meadow is farmed" in words
    for year in (2022, 2023, 2026):
        writes(past_crop_add, field=told, harvest_year=year, crop="oats")
    assert "Say what Long Meadow bore" not in page()[1]


def test_until_it_is_worked_out_the_page_says_so(page, told):
    _found, words = page()
    assert "1 field. Being worked out" in words


def test_a_plan_of_older_words_says_that_it_is(page, marl, told):
    work_out(marl)
    assert "being worked out anew" not in page()[1]
    Field.objects.update(area_ha=1.5)
    assert "being worked out anew" in page()[1]


def test_a_square_leads_to_its_pin_and_a_pinned_one_to_its_freeing(
    client, page, marl, told
):
    work_out(marl)
    crop = SavedAnswer.objects.first().said["fields"][0]["years"][0]["crop"]
    place = f"/write/plan-fixed/?field={told.pk}&harvest_year=2027&crop="
    assert html.escape(f"{place}{crop}") in page()[0].text
    form = client.get(f"/marl-hollow{place}{crop}").context["form"]
    assert form["crop"].value() == crop
    said = {"field": told.pk, "harvest_year": 2027, "crop": crop}
    answer = client.post("/marl-hollow/write/plan-fixed/", said | {"id": told.pk})
    assert answer["Location"] == GROUND
    found, words = page()
    assert html.escape(f'{place}"') not in found.text
    assert f'{html.escape(place)}"' in found.text
    assert "pinned" in words


def test_a_pin_that_is_refused_keeps_what_was_typed(client, page, told):
    page()
    said = {"id": told.pk, "field": told.pk, "harvest_year": 2190, "crop": "roots"}
    answer = client.post("/marl-hollow/write/plan-fixed/", said)
    assert answer.status_code == 400
    assert "A plan is for harvests from 2026 to 2046." in answer.text
    form = answer.context["form"]
    assert form["harvest_year"].value() == "2190"
    assert form["crop"].value() == "roots"
    assert not PlanFixed.objects.exists()


def test_what_clashes_stands_at_the_top_with_a_button_for_each(
    client, page, marl, told, writes
):
    for year in (2027, 2028, 2029):
        writes(plan_fix, field=told, harvest_year=year, crop="autumn_wheat")
    writes(area_want, harvest_year=2030, crop="ley", least_ha=1.0)
    work_out(marl)
    found, words = page()
    assert "No plan can be made as things stand. No plan can keep" in words
    assert "Long Meadow is pinned to autumn wheat in 2029" in words
    forms = re.findall(
        r'<form method="post" action="(/marl-hollow/write/.*?)".*?</form>',
        found.text,
        re.S,
    )
    assert len(forms) == 4
    assert "Free Long Meadow in 2028 (autumn wheat)" in words
    assert "Any area of ley will do in 2030 (now at least 1.00 ha)" in words.replace(
        "\xa0", " "
    )


def test_who_may_not_run_the_holding_sees_the_plan_and_pins_nothing(
    client, marl, ben, told, writes
):
    writes(plan_fix, field=told, harvest_year=2027, crop="roots")
    work_out(marl)
    client.force_login(ben)
    found = client.get(GROUND).text
    assert "For the harvest of 2027: roots in Long Meadow" in found
    assert "/write/plan-fixed/" not in found
    assert "/write/past-crop/" not in found


def test_february_wheat_has_one_name(page, marl, told, writes):
    writes(plan_fix, field=told, harvest_year=2027, crop="late_wheat")
    work_out(marl)
    words = page()[1]
    assert "February wheat in Long Meadow" in words
    assert "late wheat" not in words


def test_as_many_questions_of_the_book_for_many_fields_as_for_few(
    page, marl, told, django_assert_max_num_queries
):
    for name in range(40):
        Field.objects.create(
            holding=marl, made_by=told.made_by, name=f"F {name}", area_ha=1.0
        )
    with django_assert_max_num_queries(26):
        _found, words = page()
    assert "And of 38 other fields" in words


# In the browser


@pytest.fixture
def ground(page_of):
    """Ground of the demo, on a phone."""
    page = page_of("Ann", viewport={"width": 360, "height": 740})
    page.goto(f"{DEMO}/ground/")
    return page


def square(page, field, year):
    """The square of a field and a year."""
    years = page.locator(".plan thead th").all_inner_texts()
    row = page.locator(".plan tbody tr", has=page.get_by_role("rowheader", name=field))
    return row.locator("td").nth(years.index(str(year)) - 1)


def write(page):
    page.click("main form button")
    page.locator(".messages", has_text="Written down.").wait_for()


def test_ann_pins_a_square_sees_the_plan_change_and_frees_it(ground):
    before, answer = ground.locator(".plan").inner_text(), ground.inner_text("h1")
    was = square(ground, "Hanger Piece", 2026)
    assert "pinned" not in was.inner_text()
    other = "oats" if "oats" not in was.inner_text() else "roots"
    was.locator("a").click()
    assert ground.locator("[name=harvest_year]").input_value() == "2026"
    ground.locator("[name=crop]").select_option(other)
    write(ground)
    assert square(ground, "Hanger Piece", 2026).inner_text().split() == [
        *(other, "in", "Hanger", "Piece,", "2026:", "free", "it", "pinned"),
    ]
    assert "Hanger Piece" in ground.inner_text("h1")
    assert ground.inner_text("h1") != answer
    # Two taps free it again.
    square(ground, "Hanger Piece", 2026).locator("a").click()
    write(ground)
    assert ground.locator(".plan").inner_text() == before


def test_what_cannot_be_stands_at_the_top_and_one_tap_frees_it(ground):
    before = ground.locator(".plan").inner_text()
    square(ground, "Kiln Ground", 2027).locator("a").click()
    ground.locator("[name=crop]").select_option("autumn_wheat")
    write(ground)
    assert ground.inner_text("h1") == "No plan can be made as things stand."
    assert "Kiln Ground is pinned to autumn wheat in 2027" in ground.inner_text(".odds")
    ground.get_by_role("button", name="Free Kiln Ground in 2027").click()
    ground.locator(".plan").wait_for()
    assert ground.locator(".plan").inner_text() == before


def test_on_a_phone_the_field_stays_in_view_while_the_years_are_pushed_aside(ground):
    assert ground.evaluate("document.documentElement.scrollWidth") <= 360
    name = ground.locator(".plan tbody th").first
    box = ground.locator(".scroll", has=ground.locator(".plan"))
    place = name.bounding_box()["x"]
    box.evaluate("each => each.scrollLeft = 400")
    assert box.evaluate("each => each.scrollLeft") > 100
    assert name.bounding_box()["x"] == pytest.approx(place, abs=1)
