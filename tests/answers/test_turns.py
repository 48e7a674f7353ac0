"""Which field can wait its turn: its schema, what moves it, and what it refuses."""

import dataclasses
import datetime
import json
from importlib import resources
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from sheafwright.answers import turns_wording as wording
from sheafwright.answers.crew_problem import cutting_wins
from sheafwright.answers.turns import Turn, TurnsQuestion, turns
from sheafwright.answers.turns_plan import gains_of, pieces_of
from sheafwright.core.errors import NotEnoughWeather, OutOfRange
from sheafwright.feeds.crew_day import (
    CrewQuestion,
    HalfAsked,
    Standing,
    of_turns,
    with_turns,
)
from sheafwright.feeds.holding import demo_holding
from sheafwright.feeds.telling import Reader, Said, again, read_by
from sheafwright.feeds.turns import Waiting, read_harvest
from sheafwright.feeds.work import work_rates
from told import FOREIGN, METRIC, loose

HOLDING = demo_holding()
HARVEST = read_harvest(resources.files("sheafwright") / "data/demo/turns.toml")
SCHEMA = json.loads((Path(__file__).parent / "schemas/turns.json").read_text("utf-8"))
DAY = HOLDING.as_of
RIPE = datetime.date(2025, 8, 17)
"""A day on which most of the demo's fields are ripe."""
SEPTEMBER = datetime.date(2025, 9, 1)
NAMES = {each.name for each in HARVEST.fields} | {"Marl Hollow"}
KILN_GROUND = HARVEST.fields[0]
NONE = {"half_days": [], "left": []}


@pytest.fixture(scope="session")
def ask():
    """The answer of the demo's fields on a ripe day, some of the harvest changed."""
    given = {}

    def ask(plan=None, as_of=RIPE, **changes):
        asked = repr((plan, as_of, changes))
        if asked not in given:
            said = {"first": None, "until": None} | changes
            question = TurnsQuestion(
                weather=HOLDING.weather,
                columns=HOLDING.columns,
                as_of=as_of,
                harvest=dataclasses.replace(HARVEST, **said),
                summers=60,
            )
            given[asked] = turns(question, plan)
        return given[asked]

    return ask


def crops(n, area_ha=3.0):
    """Fields all alike, sown on one day."""
    sown = datetime.date(2024, 10, 10)
    seen = {"flowering": datetime.date(2025, 6, 19)}
    return tuple(
        Waiting(f"Field {k}", area_ha, sown, "Marl Hollow", seen=seen) for k in range(n)
    )


def planned(name, area_ha, date=RIPE):
    """A plan that cuts so much of one field."""
    cut = {"task": "binding", "fields": [{"field": name, "area_ha": area_ha}]}
    return NONE | {"half_days": [{"date": str(date), "rows": [cut]}]}


def mean_of(answer, name):
    return np.mean([getattr(each, name) for each in answer.turns])


@pytest.mark.parametrize("plan", [None, planned("Kiln Ground", 1.8)])
def test_the_answer_follows_its_schema(ask, plan):
    said = json.loads(json.dumps(ask(plan).to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    assert {each["field"] for each in said["fields"]} == NAMES - {"Marl Hollow"}


def test_who_loses_most_comes_first(ask):
    lost = [each.lost for each in ask().turns]
    assert lost == sorted(lost, reverse=True)


def test_what_is_lost_is_its_own_and_what_it_holds_up(ask):
    for each in ask().turns:
        assert each.lost == pytest.approx(each.own_loss + each.holds_up)
        assert each.lost == pytest.approx(each.if_cut - each.if_left)


def test_a_field_alone_holds_nobody_up(ask):
    (one,) = ask(fields=crops(1, 0.5)).turns
    assert one.holds_up == pytest.approx(0, abs=1e-9)
    assert one.error > 0


def test_the_more_fields_wait_the_more_each_holds_up(ask):
    few, many = (ask(fields=crops(n)) for n in (2, 8))
    assert mean_of(many, "holds_up") > mean_of(few, "holds_up") + 0.02
    assert mean_of(many, "own_loss") == pytest.approx(
        mean_of(few, "own_loss"), abs=0.03
    )


def test_with_another_binder_and_more_hands_less_is_held_up(ask):
    more = {"binders": HARVEST.binders * 2, "hands": 2 * HARVEST.hands}
    one, two = (ask(fields=crops(8), **said) for said in ({}, more))
    assert mean_of(two, "holds_up") < mean_of(one, "holds_up")


def test_nothing_later_than_the_day_of_the_question_is_looked_at(ask, tmp_path, lines):
    """The same answer from a record that ends on that day."""
    path = tmp_path / "weather.csv"
    upto = [line for line in lines[1:] if line.split(",")[0] <= str(RIPE)]
    path.write_text("\n".join([lines[0], *upto]))
    whole = ask()
    question = dataclasses.replace(whole.question, weather=str(path))
    assert turns(question).turns == whole.turns


def test_a_plan_is_set_beside_the_plain_rule_in_the_same_summers(ask):
    """A plan that cuts nothing leaves hours unused; one that cuts what the rule cuts
    first, and lets what wants hours follow, brings about as much as the rule."""
    fields = crops(4)
    idle = ask(NONE, fields=fields).plan
    assert idle.high < 0
    waits = [{"field": f.name, "task": "binding", "is_ready": True} for f in fields]
    same = ask(planned("Field 0", 3.0) | {"left": waits}, fields=fields).plan
    assert abs(same.gbp) < 0.05 * abs(idle.gbp)


def test_what_rain_puts_off_is_cut_on_the_plans_next_day(ask):
    made = ask(fields=crops(2)).summers
    pieces = pieces_of(made, crops(2), [(RIPE, "Field 1", 1.0)], {"Field 0"})
    assert [(p.field, p.area, p.day) for p in pieces] == [
        (1, 1.0, 0), (0, 3.0, 0), (1, 2.0, None),
    ]  # fmt: skip
    planned, _ruled = gains_of(made, pieces)
    assert planned.shape == (60,)


def test_the_crew_wins_what_the_roll_outs_say(ask):
    answer = ask()
    lost = of_turns(json.loads(json.dumps(answer.to_json())))
    field = Standing("Kiln Ground", 1.8, {RIPE: 0.8})
    question = CrewQuestion(
        half_days=(HalfAsked(RIPE, "morning", 0.9),), fields=(field,)
    )
    (told,) = with_turns(question, lost).fields
    assert told.if_left == pytest.approx(0.8 - lost["Kiln Ground"])
    guessed, won = (
        cutting_wins(each, question, work_rates()).by_half_day[0]
        for each in (field, told)
    )
    gbp = answer.to_json()["perfect_gbp_per_ha"]
    assert won == pytest.approx(max(lost["Kiln Ground"], -1) * gbp, abs=0.5)
    assert guessed != pytest.approx(won, abs=1)


def test_what_a_field_says_itself_is_not_overruled():
    field = Standing("A", 1.0, {RIPE: 0.8}, if_left=0.3)
    other = Standing("B", 1.0, {RIPE: 0.8})
    question = CrewQuestion((HalfAsked(RIPE, "morning", 0.9),), (field, other))
    told = with_turns(question, {"A": 0.1})
    assert [each.if_left for each in told.fields] == [0.3, None]


@pytest.mark.parametrize(
    ("lost", "error", "own", "held", "verdict"),
    [
        (-0.05, 0.01, -0.05, 0.0, wording.GAINS),
        (-0.05, 0.03, -0.05, 0.0, wording.CAN_WAIT),
        (0.01, 0.01, 0.01, 0.0, wording.CAN_WAIT),
        (0.06, 0.01, 0.04, 0.02, wording.LOSES),
        (0.06, 0.01, 0.02, 0.04, wording.HOLDS_UP),
    ],
)
def test_a_field_is_called_by_what_it_loses(lost, error, own, held, verdict):
    assert Turn("A", 0.8, 0.8 - lost, lost, error, own, held).verdict == verdict


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"fields": ()}, "0 fields were given; it should be from 1 to 60"),
        ({"fields": HARVEST.fields * 2}, "The field Kiln Ground stands twice"),
        ({"hands": 0}, "0 hands can't be right; it should be from 1 to 100 hands"),
        ({"binders": ()}, "0 binders can't be right"),
        ({"first": DAY}, "it should begin on 17 August 2025, the last day known"),
        ({"until": DAY}, "it should be of 1 to 7 days"),
        ({"until": RIPE + datetime.timedelta(9)}, "it should be of 1 to 7 days"),
        ({"fields": (dataclasses.replace(KILN_GROUND, area_ha=0.0),)},
         "0 ha to cut can't be right"),
        ({"fields": (dataclasses.replace(KILN_GROUND, sown=SEPTEMBER),)},
         "the day of sowing should come first"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said_in_one_sentence(ask, changes, says):
    with pytest.raises((OutOfRange, NotEnoughWeather), match=says):
        ask(**changes)


def test_a_plan_of_other_fields_is_refused(ask):
    with pytest.raises(OutOfRange, match="The plan cuts Sheepcote, which is not among"):
        ask(planned("Sheepcote", 1.0))


def test_a_plan_of_other_days_is_refused(ask):
    with pytest.raises(OutOfRange, match="The plan cuts on 7 August 2025; it should"):
        ask(planned("Kiln Ground", 1.0, date=DAY))


SAID = {
    "as it is": {},
    "a queue": {"fields": crops(8)},
    "a plan": {"plan": planned("Kiln Ground", 1.8)},
    "idle": {"plan": NONE, "fields": crops(4)},
    "green": {"as_of": DAY},
}


@pytest.mark.parametrize("name", SAID)
def test_all_of_it_is_told_in_every_language_and_in_acres(ask, name):
    said = ask(**SAID[name]).to_json()
    names = NAMES | {f"Field {k}" for k in range(8)}
    for each in (said["sentence"], *(step["says"] for step in said["working"])):
        assert isinstance(each, Said), each
        assert not list(loose(each, names)), each
        with read_by(FOREIGN):
            assert "⟦" in again(each)
        with read_by(Reader("imperial")):
            assert not METRIC.search(again(each)), again(each)
