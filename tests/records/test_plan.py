"""What the cropping plan is asked from the book, and how it is made anew."""

import datetime
import time
import uuid

import pytest
from django.core.exceptions import ValidationError

from sheafwright.answers.cropping import cropping
from sheafwright.answers.cropping_again import compared, kept_answer
from sheafwright.core.inputs.cropping import Pin, Wanted
from sheafwright.feeds.cropping import tables
from sheafwright.planning.cropping.rotation import State
from sheafwright.records import fill
from sheafwright.records.demo import demo_make
from sheafwright.records.due.cropping import Depth
from sheafwright.records.models import Field, Ley, PastCrop, SavedAnswer, Sowing
from sheafwright.records.selectors.borne import state_after, unsaid
from sheafwright.records.selectors.plan import plan_asked, plan_kept
from sheafwright.records.services.ground import field_status_add, ley_add, past_crop_add
from sheafwright.records.services.plan import area_want, plan_fix

RULES = tables({})["rules"]


@pytest.fixture
def on_day(marl):
    def stand(*day):
        marl.looked_at_as_of = datetime.date(*day)
        marl.save()

    stand(2026, 8, 20)
    return stand


@pytest.fixture
def told(write, long_meadow, on_day):
    """Long Meadow: ley of 2021 to 2023, wheat, oats; what 2026 bore isn't said."""
    write(
        ley_add,
        field=long_meadow,
        what="red clover",
        sown=datetime.date(2021, 4, 5),
        ploughed=datetime.date(2023, 9, 20),
    )
    for year, crop in ((2024, "wheat"), (2025, "oats")):
        write(past_crop_add, field=long_meadow, harvest_year=year, crop=crop)
    return long_meadow


def history(holding, name="Long Meadow"):
    asked = plan_asked(holding=holding).question
    return next(each.history for each in asked.fields if each.name == name)


def test_what_a_field_bore_is_read_from_leys_crops_and_sowings(marl, told, sowing):
    assert history(marl) == (
        *("ley", "ley", "ley", "autumn_wheat", "oats", "autumn_wheat"),
    )


@pytest.mark.parametrize(
    ("sown", "wheat"), [((2025, 10, 3), "autumn_wheat"), ((2026, 2, 26), "late_wheat")]
)
def test_wheat_of_the_new_year_is_february_wheat(marl, told, sowing, sown, wheat):
    Sowing.objects.update(date=datetime.date(*sown))
    assert history(marl)[-1] == wheat


def test_a_ley_ploughed_in_spring_is_not_that_harvests_crop(marl, told, on_day):
    Ley.objects.update(ploughed=datetime.date(2023, 3, 1))
    assert history(marl)[:3] == ("ley", "ley", "unsaid")


def test_a_ley_written_down_again_when_ploughed_lies_no_longer(
    marl, write, long_meadow, on_day
):
    said = {"field": long_meadow, "what": "clover"}
    write(ley_add, sown=datetime.date(2021, 4, 5), **said)
    assert history(marl) == ("ley",) * 6
    write(ley_add, ploughed=datetime.date(2024, 9, 1), **said)
    assert history(marl) == ("ley", "ley", "ley", "ley", "unsaid", "unsaid")


def test_a_ley_of_which_no_sowing_is_known_lay_one_summer(
    marl, write, long_meadow, on_day
):
    write(ley_add, field=long_meadow, what="old grass")
    assert history(marl) == (*("unsaid",) * 5, "ley")


def test_the_state_is_what_the_rules_make_of_it():
    crops = ("ley", "ley", "autumn_wheat", "late_wheat", "oats", None)
    assert state_after(crops, RULES) == State(
        ley=0, arable=4, rich=False, wheats=0, rest=2
    )


def test_a_harvest_is_asked_for_only_where_it_would_change_what_may_be_grown():
    # Wheat then would still count, and ley make the ley a long one.
    assert unsaid((None, None, None, "ley", "ley", "oats"), 2027, RULES) == (2022, 2023)
    assert unsaid((None, None, None, "ley", "ley", "ley"), 2027, RULES) == (2023,)
    assert unsaid(("ley", "ley", "ley", "ley", "roots", None), 2027, RULES) == (2026,)
    assert unsaid((None, "ley", "ley", "ley", "ley", "ley"), 2027, RULES) == ()


def test_beans_rest_the_ground_as_corn_does(marl, write, told):
    write(past_crop_add, field=told, harvest_year=2026, crop=PastCrop.Crop.BEANS)
    assert history(marl)[-1] == "beans"
    assert plan_asked(holding=marl).unsaid == {}
    said = [state_after(("ley", "ley", x), RULES) for x in ("beans", "oats", "ley")]
    assert said[0] == said[1] != said[2]


@pytest.mark.parametrize(
    ("said", "began"),
    [
        ((), None),
        ((("converting", 2024),), 2024),
        ((("converting", 2020), ("organic", 2022)), 2020),
        ((("organic", 2022),), 2020),
        ((("organic", 2020), ("conventional", 2023)), None),
    ],
)
def test_conversion_counts_from_when_it_began(marl, write, told, said, began):
    for way, year in said:
        day = datetime.date(year, 3, 25)
        write(field_status_add, field=told, way=way, since=day)
    (field,) = plan_asked(holding=marl).question.fields
    found = field.conversion_from
    assert began == (found and found.year)
    assert plan_asked(holding=marl).unfarmed == (() if said else ("Long Meadow",))


def test_the_last_word_on_a_field_and_year_counts(marl, write, told):
    for crop in ("oats", "roots", ""):
        write(plan_fix, field=told, harvest_year=2028, crop=crop)
    for crop in ("roots", "ley"):
        write(plan_fix, field=told, harvest_year=2027, crop=crop)
    for least_ha in (1.0, None):
        write(area_want, harvest_year=2028, crop="oats", least_ha=least_ha)
    for most_ha in (2.0, 1.5):
        write(area_want, harvest_year=2028, crop="roots", most_ha=most_ha)
    asked = plan_asked(holding=marl).question
    assert asked.pins == (Pin("Long Meadow", 2027, "ley"),)
    assert asked.wanted == (Wanted(2028, "roots", most_ha=1.5),)


def test_what_is_sown_stands_against_a_wish(marl, write, told, sowing, on_day):
    write(plan_fix, field=told, harvest_year=2027, crop="ley")
    Sowing.objects.update(date=datetime.date(2026, 10, 3), harvest_year=2027)
    # Behind a ley, so that wheat is allowed.
    PastCrop.objects.all().delete()
    Ley.objects.update(ploughed=datetime.date(2026, 8, 1), sown="2024-04-01")
    on_day(2026, 11, 1)
    asked = plan_asked(holding=marl)
    assert asked.question.pins == (Pin("Long Meadow", 2027, "autumn_wheat"),)
    assert asked.sown == {("Long Meadow", 2027)}
    with pytest.raises(ValidationError, match="sown for that harvest already"):
        write(plan_fix, field=told, harvest_year=2027, crop="oats")


def test_a_field_sown_against_the_rules_is_left_out_and_told(
    marl, write, told, sowing, on_day
):
    Field.objects.create(holding=marl, made_by=told.made_by, name="Hill", area_ha=1.0)
    Sowing.objects.update(date=datetime.date(2026, 10, 3), harvest_year=2027)
    on_day(2026, 11, 1)
    asked = plan_asked(holding=marl)
    assert [each.name for each in asked.question.fields] == ["Hill"]
    assert "between one run of wheat and the next" in asked.against["Long Meadow"]


def test_a_field_that_stays_in_grass_takes_no_part(marl, write, told):
    Field.objects.update(stays_grass=True)
    assert plan_asked(holding=marl).question is None
    fill.fill_plan(marl)
    assert not SavedAnswer.objects.exists()
    told.refresh_from_db()
    with pytest.raises(ValidationError, match="Long Meadow stays in grass"):
        write(plan_fix, field=told, harvest_year=2028, crop="oats")


@pytest.mark.parametrize(
    ("day", "first"), [((2026, 4, 30), 2026), ((2026, 5, 1), 2027)]
)
def test_it_begins_with_the_harvest_that_may_still_be_sown_for(
    marl, told, on_day, day, first
):
    on_day(*day)
    assert plan_asked(holding=marl).first_year == first


# The plan that is kept


@pytest.fixture(scope="module")
def demo(django_db_setup, django_db_blocker, tmp_path_factory):
    """A demo, with its plan kept."""
    from django.db import transaction
    from django.test import override_settings

    kept = tmp_path_factory.mktemp("kept")
    with (
        django_db_blocker.unblock(),
        override_settings(MEDIA_ROOT=kept),
        transaction.atomic(),
    ):
        made = demo_make(seasons=3, fields=6).holding
        _fill(made)
        yield made
        transaction.set_rollback(True)


@pytest.fixture
def say(demo, db):
    """Write on the demo, and make its plan at once."""

    def say(service, **said):
        who = demo.memberships.get(role="owner").person
        service(id=uuid.uuid4(), holding=demo, made_by=who, **said)
        fill.fill_plan(demo)
        return plan(demo)

    return say


def _fill(holding):
    for due in fill._of_the_plan(holding):
        fill._fill(holding, due)


def plan(holding):
    return plan_kept(holding=holding, asked=plan_asked(holding=holding))


def crop_of(said, field, year):
    row = next(each for each in said["fields"] if each["field"] == field)
    return next(each for each in row["years"] if each["year"] == year)


def test_the_demos_plan_keeps_to_its_pin_and_its_area(demo, db):
    kept = plan(demo)
    assert kept.is_new
    pinned = crop_of(kept.said, "Kiln Ground", 2026)
    assert (pinned["crop"], pinned["pinned"]) == ("oats", True)
    assert kept.said["totals"][1]["area_ha"]["roots"] <= 2.0
    assert len(kept.said["years"]) == 6


def test_the_plan_is_kept_first_and_what_else_might_be_grown_after_it(demo, db):
    dues = list(fill._of_the_plan(demo))
    assert [due.asks["compared_years"] for due in dues] == list(Depth)
    first, rest = (
        SavedAnswer.objects.get(inputs_sha256=due.inputs_sha256()).said for due in dues
    )
    crops = [[y["crop"] for y in f["years"]] for f in first["fields"]]
    assert crops == [[y["crop"] for y in f["years"]] for f in rest["fields"]]
    assert not any(f["years"][0]["blocked"] for f in first["fields"])
    assert any(f["years"][0]["blocked"] for f in rest["fields"])
    assert plan(demo).said == rest


def test_a_pin_changes_the_plan_at_once_and_freed_it_is_what_it_was(demo, say):
    before = plan(demo)
    field = Field.objects.get(holding=demo, name="Hanger Piece")
    was = crop_of(before.said, field.name, 2027)["crop"]
    other = "oats" if was != "oats" else "roots"
    begun = time.perf_counter()
    pinned = say(plan_fix, field=field, harvest_year=2027, crop=other)
    assert time.perf_counter() - begun < 3
    assert pinned.is_new
    assert crop_of(pinned.said, field.name, 2027)["crop"] == other
    freed = say(plan_fix, field=field, harvest_year=2027, crop="")
    assert freed.said == before.said


def test_an_area_that_is_wanted_is_grown_at_once(demo, say):
    kept = say(area_want, harvest_year=2028, crop="oats", least_ha=3.0)
    assert kept.is_new
    assert kept.said["totals"][2]["area_ha"]["oats"] >= 3.0


def test_what_clashes_is_kept_as_one_sentence(demo, say):
    field = Field.objects.get(holding=demo, name="Kiln Ground")
    kept = say(plan_fix, field=field, harvest_year=2027, crop="autumn_wheat")
    assert kept.is_new
    assert "Kiln Ground is pinned to autumn wheat in 2027" in kept.said["refused"]
    assert [due.asks["compared_years"] for due in fill._of_the_plan(demo)] == [0]


def test_a_plan_of_older_words_is_shown_as_such_and_no_older_refusal(demo, say):
    field = Field.objects.get(holding=demo, name="Kiln Ground")
    assert (
        "refused"
        in say(plan_fix, field=field, harvest_year=2027, crop="autumn_wheat").said
    )
    Field.objects.filter(holding=demo, name="Kiln Ground").update(area_ha=1.7)
    kept = plan(demo)
    assert not kept.is_new
    assert kept.said["fields"]


def test_many_fields_wait_for_the_worker(demo, db, monkeypatch):
    monkeypatch.setattr("sheafwright.records.due.cropping.FEW", 3)
    Field.objects.filter(holding=demo, name="Kiln Ground").update(area_ha=1.7)
    fill.fill_plan(demo)
    assert not plan(demo).is_new


def test_a_kept_plan_goes_on_from_where_it_was(demo, db):
    question = plan_asked(holding=demo).question
    answer = cropping(question, compared_years=0)
    again = kept_answer(question, answer.to_json())
    assert again.plan.grown == answer.plan.grown
    assert again.plan.pins == answer.plan.pins
    assert again.plan.score == pytest.approx(answer.plan.score)
    assert again.plan.bound >= answer.plan.bound - 1e-6
    assert again.plan.gap == pytest.approx(answer.plan.gap, abs=3e-5)
    more = compared(question, answer.to_json()).to_json()
    assert more["totals"] == answer.to_json()["totals"]
