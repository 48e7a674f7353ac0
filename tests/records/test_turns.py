"""Which field can wait is asked of the book, kept, and taken by the crew's plan."""

import datetime

import pytest

from crew_book import DAY, binder, dates, keep, outlook, people, turns
from sheafwright.records import fill
from sheafwright.records.due import common_asks
from sheafwright.records.due.turns import turns_due
from sheafwright.records.models import SavedAnswer
from sheafwright.records.selectors.crew import crew_asked, turns_asked, turns_kept
from sheafwright.records.services.crew import breakdown_record
from sheafwright.records.services.harvest import cut_record

UNTIL = dates(3)[-1]


@pytest.fixture(autouse=True)
def in_august(marl):
    marl.looked_at_as_of = DAY
    marl.save()


@pytest.fixture
def ready(marl, sowing, write):
    """Long Meadow, nearly ripe, four people and a binder."""
    keep(marl, "outlook", sowing, outlook(0.8, 0.8, 0.75, 0.6, 0.5))
    people(write, ("Ann", "Ben", "Dan", "Eve"))
    return binder(write)


def field(marl):
    (field,) = crew_asked(holding=marl).question.fields
    return field


def test_it_is_asked_of_the_days_that_are_planned_with_those_who_come(
    marl, ready, sowing
):
    asked = turns_asked(holding=marl)
    assert asked.standing == ((sowing, "Long Meadow", 2.0),)
    assert (asked.first, str(asked.until)) == (DAY, UNTIL)
    assert (asked.hands, asked.binders) == (4, ("The old binder",))


def test_it_is_asked_of_what_is_left_of_a_field(marl, ready, sowing, write):
    said = {"sowing": sowing, "date": DAY, "area_ha": 0.5, "sheaves": 400}
    write(cut_record, **said)
    ((_sowing, _name, left),) = turns_asked(holding=marl).standing
    assert left == 1.5


def test_a_broken_binder_is_no_reason_to_ask_again(marl, ready, write):
    before = turns_asked(holding=marl)
    said = {"machine": ready, "date": DAY, "half": "morning", "state": "broken"}
    write(breakdown_record, **said)
    assert turns_asked(holding=marl) == before


def test_it_is_not_asked_without_a_field_that_is_soon_ripe(marl, sowing, write):
    people(write, ("Ann",))
    binder(write)
    assert turns_asked(holding=marl) is None
    said = outlook(0.8) | {"by_cutting_day": []}
    said["stages"] = {"soft_dough": {"p50": str(DAY + datetime.timedelta(30))}}
    keep(marl, "outlook", sowing, said)
    assert turns_asked(holding=marl) is None


@pytest.mark.parametrize("wanting", ["binder", "people"])
def test_it_is_not_asked_without_a_binder_or_anybody(marl, sowing, write, wanting):
    keep(marl, "outlook", sowing, outlook(0.8, 0.7))
    if wanting == "people":
        binder(write)
    else:
        people(write, ("Ann",))
    assert turns_asked(holding=marl) is None


def test_the_crew_is_planned_by_what_was_kept(marl, ready):
    assert field(marl).if_left is None
    keep(marl, "turns", marl, turns({"Long Meadow": 0.07}, UNTIL))
    assert field(marl).if_left == pytest.approx(0.73)


def test_what_was_kept_of_other_days_or_refused_is_not_taken(marl, ready):
    keep(marl, "turns", marl, turns({"Long Meadow": 0.07}, dates(2)[-1]))
    keep(marl, "turns", marl, {"refused": "The weather is missing."})
    assert turns_kept(holding=marl) is None
    assert field(marl).if_left is None


def test_the_worker_keeps_it_before_the_plan(marl, sowing, weather, write):
    sowing.date, sowing.harvest_year = datetime.date(2024, 10, 10), 2025
    sowing.save()
    said = outlook(0.8, 0.8, 0.75) | {"as_of": "2025-08-07"}
    shown = said["by_cutting_day"]
    for day, date in zip(shown, dates(3, marl.looked_at_as_of), strict=True):
        day["date"] = date
    keep(marl, "outlook", sowing, said)
    people(write, ("Ann", "Ben", "Dan", "Eve"))
    binder(write)
    due = turns_due(turns_asked(holding=marl), weather, common_asks(marl, weather))
    fill._fill(marl, due)
    kept = SavedAnswer.objects.get(question="turns")
    assert kept == turns_kept(holding=marl)
    (told,) = kept.said["fields"]
    assert (told["field"], kept.said["until"]) == ("Long Meadow", "2025-08-09")
    assert field(marl).if_left == pytest.approx(0.8 - told["lost_by_waiting"])
    order = [each.question for each in fill._of_what_grows(marl, weather, due.asks)]
    assert order.index("outlook") < order.index("turns") < order.index("crew")


def test_a_breakdown_is_planned_on_the_spot_by_what_was_kept(
    marl, ready, write, monkeypatch
):
    pytest.importorskip("ortools", reason="CP-SAT is not installed")
    keep(marl, "turns", marl, turns({"Long Meadow": 0.25}, UNTIL))
    fill.fill_crew(marl)
    monkeypatch.setattr(
        "sheafwright.answers.turns.turns", lambda *_: pytest.fail("followed again")
    )
    said = {"machine": ready, "date": DAY, "half": "morning", "state": "broken"}
    write(breakdown_record, **said)
    fill.fill_crew(marl)
    plan = SavedAnswer.objects.filter(question="crew").latest("made_at").said
    assert plan["changed"][0] == "The old binder is broken."
    assert "each followed through the same" in plan["working"][1]["says"]
