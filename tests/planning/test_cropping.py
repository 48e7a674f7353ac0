"""Plans keep every rule, and none is better: held against a checker of its own."""

import dataclasses
import datetime

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from planning import by_hand
from sheafwright.answers.cropping_problem import problem_of
from sheafwright.core.inputs.cropping import Buyer, Increase, Pin, Wanted
from sheafwright.feeds.cropping import Busy, CroppingQuestion, FieldAsked
from sheafwright.planning.cropping import solve as solve_module
from sheafwright.planning.cropping.clash import clash
from sheafwright.planning.cropping.model import Model
from sheafwright.planning.cropping.solve import solve, solve_again

FIRST = 2027
PAST = (*by_hand.CROPS, "beans", "grass")
LONG_AGO = datetime.date(2010, 1, 1)
PENNIES = 0.05
MOST = 30_000
"""Combinations of rows that are all tried."""


@st.composite
def fields(draw, name):
    kept = draw(st.sampled_from((False, False, False, True))) if name != "A" else False
    return FieldAsked(
        name=name,
        area_ha=draw(st.sampled_from((0.7, 1.0, 1.6, 2.5, 4.0))),
        history=tuple(draw(st.lists(st.sampled_from(PAST), max_size=6))),
        conversion_from=draw(
            st.sampled_from(
                (
                    LONG_AGO,
                    LONG_AGO,
                    datetime.date(2025, 3, 1),
                    datetime.date(2026, 1, 1),
                )
            )
        ),
        keep_in_grass=kept,
        without=tuple(
            sorted(draw(st.sets(st.sampled_from(by_hand.CROPS[:4]), max_size=2)))
        ),
    )


@st.composite
def questions(draw, most=3):
    years = draw(st.integers(2, most))
    asked = [draw(fields(name)) for name in "ABCD"[: draw(st.integers(1, most))]]
    assume(not all(field.keep_in_grass for field in asked))
    area, when = (
        sum(field.area_ha for field in asked),
        st.integers(FIRST, FIRST + years - 1),
    )
    wanted = st.builds(
        lambda year, crop, least, more, organic: Wanted(
            year, crop, least * area, (least + more) * area, organic
        ),
        when,
        st.sampled_from(("wheat", "late_wheat", "oats", "roots", "ley")),
        st.sampled_from((0.0, 0.2, 0.5)),
        st.sampled_from((0.2, 1.0)),
        st.booleans(),
    )
    pin = st.builds(
        Pin, st.just(asked[0].name), when, st.sampled_from(by_hand.CROPS)
    ).filter(lambda pin: pin.crop not in asked[0].without)
    increase = Increase("Old Red", 5.0, draw(st.sampled_from((0.04, 0.4))), FIRST + 1)
    return CroppingQuestion(
        first_year=FIRST,
        years=years,
        fields=tuple(asked),
        hours_a_week=draw(st.sampled_from((12.0, 40.0, 500.0))),
        busy=draw(st.sampled_from(((), (Busy(30, 37, 45.0),)))),
        binders=draw(st.sampled_from((0.1, 1.0))),
        buyers=draw(st.sampled_from(((), (Buyer(4.0, 600.0), Buyer(3.0, 900.0))))),
        wanted=tuple(draw(st.lists(wanted, max_size=2))),
        varieties=draw(
            st.sampled_from(
                (
                    {},
                    {"autumn_wheat": "Widgeon", "late_wheat": "Bearded"},
                    {
                        "autumn_wheat": "Widgeon",
                        "late_wheat": "Widgeon",
                        "oats": "Black",
                    },
                )
            )
        ),
        increase=draw(st.sampled_from((None, increase))),
        pins=tuple(draw(st.lists(pin, max_size=1))),
        values={"seasons": {"caution": draw(st.sampled_from((0.0, 0.3, 1.0)))}},
    )


def planned(question, **how):
    return solve(problem_of(question), question.pins, gap=0.0, **how)


def rows(plan):
    return {name: list(plan.crops(name)) for name in plan.grown}


def score(question):
    plan = planned(question)
    return plan.score if plan else -np.inf


slow = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
slower = settings(slow, max_examples=400)


def as_good_as_every_plan(question):
    best = by_hand.best(question, MOST)
    assume(best is not None)
    plan = planned(question)
    if plan is None:
        assert best == -np.inf
        return
    assert list(by_hand.broken(question, rows(plan))) == []
    assert plan.score == pytest.approx(best, abs=PENNIES)
    assert plan.bound == pytest.approx(best, abs=PENNIES)


@slow
@given(questions())
def test_a_plan_keeps_every_rule_and_no_plan_is_better(question):
    as_good_as_every_plan(question)


@pytest.mark.prove
@slower
@given(questions(most=4))
def test_many_plans_keep_every_rule_and_no_plan_is_better(question):
    as_good_as_every_plan(question)


@slow
@given(questions(), st.data())
def test_one_more_thing_to_keep_never_raises_the_worth(question, data):
    last = FIRST + question.years - 1
    harder = data.draw(
        st.sampled_from(
            (
                {"hours_a_week": question.hours_a_week / 2, "busy": ()},
                {"binders": question.binders / 2},
                {"wanted": (*question.wanted, Wanted(last, "wheat", 0.5))},
                {"wanted": (*question.wanted, Wanted(last, "wheat", 0.0, 1.0))},
                {"pins": (Pin(question.fields[0].name, last, "ley"),)},
                {"increase": Increase("Old Red", 4.0, 0.04, last)},
            )
        )
    )
    if "hours_a_week" in harder:
        question = dataclasses.replace(question, busy=())
    if "increase" in harder:
        question = dataclasses.replace(question, increase=None)
    if "pins" in harder:
        question = dataclasses.replace(question, pins=())
    more = dataclasses.replace(question, **harder)
    assert score(more) <= score(question) + PENNIES


@slow
@given(questions(), st.randoms())
def test_other_names_and_another_order_of_fields_change_no_worth(question, random):
    renamed = {field.name: f"Field {9 - n}" for n, field in enumerate(question.fields)}
    fields = [
        dataclasses.replace(field, name=renamed[field.name])
        for field in question.fields
    ]
    random.shuffle(fields)
    pins = [pin._replace(field=renamed[pin.field]) for pin in question.pins]
    other = dataclasses.replace(question, fields=tuple(fields), pins=tuple(pins))
    assert score(other) == pytest.approx(score(question), abs=PENNIES)


@pytest.mark.parametrize("near", [(0, 1), solve_module.NEAR], ids=["few", "usual"])
@slow
@given(question=questions(), crop=st.sampled_from(by_hand.CROPS))
def test_a_pinned_plan_keeps_every_rule_and_is_honest_about_its_gap(
    near, question, crop
):
    free = dataclasses.replace(question, pins=())
    before = planned(free)
    assume(before is not None and crop not in free.fields[0].without)
    asked = dataclasses.replace(free, pins=(Pin(free.fields[0].name, FIRST + 1, crop),))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(solve_module, "NEAR", near)
        again = solve_again(before, asked.pins)
    if again is None:
        assert score(asked) == -np.inf
        return
    assert list(by_hand.broken(asked, rows(again))) == []
    assert again.score - PENNIES <= score(asked) <= again.bound + PENNIES
    if near is solve_module.NEAR:
        assert again.gap <= solve_module.GAP_AGAIN


@slow
@given(questions())
def test_rules_said_to_clash_do_and_none_of_them_could_be_spared(question):
    problem = problem_of(question)
    assume(solve(problem, question.pins) is None)
    rules = clash(problem, question.pins)
    assert rules and not can(problem, rules)
    for rule in rules:
        assert can(problem, set(rules) - {rule})


def can(problem, rules):
    model = Model(problem, rules)
    return model.possible and not model.program.run(10).impossible
