"""The crew's half-days are asked from the book, and planned anew when it changes."""

import dataclasses
import datetime
import uuid

import pytest
from django.core.exceptions import ValidationError

from crew_book import DAY, binder, dates, keep, outlook, people, stooks
from sheafwright.records.fill import fill_crew
from sheafwright.records.models import SavedAnswer, Sowing
from sheafwright.records.selectors import crew as selector
from sheafwright.records.selectors.crew import crew_asked, turns_asked
from sheafwright.records.services.crew import breakdown_record, shower_record
from sheafwright.records.services.hands import (
    coming_say,
    hand_add,
    machine_check_record,
    machine_move,
)

MORNING, AFTERNOON = f"{DAY} morning", f"{DAY} afternoon"


@pytest.fixture(autouse=True)
def in_august(marl):
    marl.looked_at_as_of = DAY
    marl.save()


@pytest.fixture
def standing(marl, sowing):
    """Long Meadow, whose outlook is kept."""
    keep(marl, "outlook", sowing, outlook(0.8, 0.8, 0.75, 0.6, 0.5))
    return sowing


@pytest.fixture
def ready(standing, write):
    """A field, four people and a binder."""
    people(write, ("Ann", "Ben", "Dan", "Eve"))
    return binder(write)


def question(marl):
    return crew_asked(holding=marl).question


def test_a_standing_field_is_asked_with_its_outlook(marl, ready):
    asked = question(marl)
    (field,) = asked.fields
    assert (field.name, field.area_ha, field.as_of) == ("Long Meadow", 2.0, DAY)
    assert field.worth[DAY] == 0.8
    assert [half.name for half in asked.half_days] == [
        f"{date} {half}" for date in dates(3) for half in ("morning", "afternoon")
    ]
    assert {half.dry_chance for half in asked.half_days} == {0.9}


def test_two_crops_of_one_field_are_told_apart_by_their_days(marl, ready, standing):
    other = Sowing.objects.get(pk=standing.pk)
    other.pk, other.date = uuid.uuid4(), standing.date + datetime.timedelta(9)
    other.save(force_insert=True)
    keep(marl, "outlook", other, outlook(0.7, 0.7, 0.6))
    named = {f"Long Meadow sown on {s.date:%-d %B}" for s in (standing, other)}
    assert {field.name for field in question(marl).fields} == named
    assert {
        name for _sowing, name, _left in turns_asked(holding=marl).standing
    } == named
    fill_crew(marl)
    assert "half_days" in SavedAnswer.objects.get(question="crew").said


def test_a_field_far_from_ripe_is_not_spoken_of(marl, sowing, write):
    people(write, ("Ann",))
    said = outlook(0.8) | {"by_cutting_day": []}
    said["stages"] = {"soft_dough": {"p50": str(DAY + datetime.timedelta(30))}}
    keep(marl, "outlook", sowing, said)
    assert question(marl) is None


def test_stooks_are_asked_with_what_is_left_of_them(marl, cut, write):
    people(write, ("Ann",))
    keep(marl, "stooks", cut.stook_set, stooks(0.8, 0.3))
    (stooked,) = question(marl).stooks
    assert stooked.field == cut.sowing.field.name
    assert 0 < stooked.area_ha <= cut.area_ha
    assert (stooked.fit_chance[DAY], stooked.rain_chance[DAY]) == (0.8, 0.3)
    assert question(marl).half_days[0].dry_chance == pytest.approx(0.7)


def test_who_said_that_they_cannot_come_is_away(marl, ready, write):
    ben = people(write, ("Zoe",))[0]
    write(coming_say, hand=ben, date=DAY, when="morning", can_come=False)
    away = {each.name: each.away for each in question(marl).people}
    assert away == {"Ann": (), "Ben": (), "Dan": (), "Eve": (), "Zoe": (MORNING,)}


def test_a_neighbour_comes_only_when_they_said_so(marl, ready, write):
    una = write(hand_add, name="Una", farm="Over Wick", may_cart=True)
    assert "Una" not in [each.name for each in question(marl).people]
    write(coming_say, hand=una, date=DAY, when="day")
    (una,) = (each for each in question(marl).people if each.name == "Una")
    assert una.may == ("carting",)
    assert MORNING not in una.away and f"{dates(2)[1]} morning" in una.away


def test_a_binder_is_broken_from_when_it_was_said_until_mended(marl, ready, write):
    said = {"machine": ready, "date": DAY}
    write(breakdown_record, **said, half="afternoon", state="broken")
    (asked,) = question(marl).binders
    assert asked.broken[0] == AFTERNOON and len(asked.broken) == 5
    write(breakdown_record, **said, half="afternoon", state="mended")
    assert question(marl).binders[0].broken == ()


def test_a_part_found_broken_breaks_the_binder_until_it_is_mended(marl, ready, write):
    write(machine_check_record, machine=ready, date=DAY, knotter="broken")
    assert len(question(marl).binders[0].broken) == 6
    said = {"machine": ready, "date": DAY, "half": "morning"}
    write(breakdown_record, **said, state="mended")
    assert question(marl).binders[0].broken == ()


def test_a_binder_that_a_neighbour_has_is_not_counted_on(marl, ready, write):
    write(machine_move, machine=ready, since=DAY, holder="Una")
    assert question(marl).binders == ()


def test_a_shower_is_told(marl, ready, write):
    write(shower_record, date=DAY, half="morning")
    assert question(marl).showers == (MORNING,)


@pytest.mark.parametrize("service", [breakdown_record, shower_record])
def test_nothing_breaks_before_it_happens(service, ready, write):
    said = {"machine": ready, "state": "broken"} if service is breakdown_record else {}
    tomorrow = DAY + datetime.timedelta(1)
    with pytest.raises(ValidationError, match="still to come"):
        write(service, date=tomorrow, half="morning", **said)


def test_half_days_that_are_past_are_not_planned(marl, monkeypatch):
    marl.looked_at_as_of = None
    counted = []
    for hour in (8, 14, 20):
        at = datetime.datetime(2026, 8, 20, hour, tzinfo=datetime.UTC)
        monkeypatch.setattr(selector, "now", lambda holding, at=at: at)
        monkeypatch.setattr(selector, "today", lambda holding: DAY)
        counted.append(selector._half_days(marl)[0].name)
    assert counted == [MORNING, AFTERNOON, f"{dates(2)[1]} morning"]


def test_it_is_said_when_nobody_is_written_down(marl, standing):
    asked = crew_asked(holding=marl)
    assert asked.question is None and asked.wants_hands


def plans(marl):
    return list(SavedAnswer.objects.filter(question="crew").order_by("made_at"))


@pytest.fixture
def planned(marl, ready):
    pytest.importorskip("ortools", reason="CP-SAT is not installed")
    fill_crew(marl)
    (plan,) = plans(marl)
    return plan


def test_a_plan_is_kept_once(marl, planned):
    fill_crew(marl)
    assert plans(marl) == [planned]
    assert planned.said["cut_ha"] == 2.0 and planned.said["changed"] is None


def test_a_breakdown_makes_the_plan_anew_and_says_what_changed(
    marl, planned, ready, write
):
    said = {"machine": ready, "date": DAY, "half": "morning"}
    write(breakdown_record, **said, state="broken")
    fill_crew(marl)
    broken = plans(marl)[-1].said
    assert broken["changed"][0] == "The old binder is broken."
    assert broken["cut_ha"] == 0
    # Mended, all is as it was, and that is said, too.
    write(breakdown_record, **said, state="mended")
    fill_crew(marl)
    mended = plans(marl)[-1].said
    assert mended["changed"][0] == "The old binder is mended."
    assert mended["cut_ha"] == 2.0


def test_without_the_solver_it_is_said_what_to_install(marl, ready, monkeypatch):
    monkeypatch.setattr("sheafwright.answers.crew.is_there", lambda: False)
    fill_crew(marl)
    (plan,) = plans(marl)
    assert "pip install 'sheafwright[crew]'" in plan.said["refused"]
    monkeypatch.undo()
    pytest.importorskip("ortools", reason="CP-SAT is not installed")
    fill_crew(marl)
    assert "half_days" in plans(marl)[-1].said


def test_a_large_plan_is_left_to_the_worker(marl, ready, monkeypatch):
    monkeypatch.setattr("sheafwright.records.due.crew.FEW", 0)
    fill_crew(marl)
    assert plans(marl) == []


def test_carts_that_are_here_are_counted_and_the_way_is_the_fields_own(
    marl, ready, write, sowing
):
    from sheafwright.records.services.hands import machine_add

    assert question(marl).carts is None
    write(machine_add, kind="cart", name="The long cart")
    sowing.field.to_rick_m = 400.0
    sowing.field.save()
    asked = question(marl)
    assert (asked.carts, asked.distance_km) == (1, 0.4)
    assert dataclasses.replace(asked, carts=None).carts is None
