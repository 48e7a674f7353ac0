"""Allotments keep every rule, and none is better: against every one that there is."""

import dataclasses
import itertools

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from sheafwright.core.errors import NoPlan
from sheafwright.planning.allocation import solve as solver
from sheafwright.planning.allocation.check import broken_rules, suits, worth_of
from sheafwright.planning.allocation.problem import (
    Pin,
    Plan,
    Problem,
    Rates,
    Stock,
    Want,
)
from sheafwright.planning.allocation.reasons import against


def solve(problem):
    return solver.solve(problem, gap=0.0, seconds=20.0)


def cost_of_filling(problem, plan, want):
    return solver.cost_of_filling(problem, plan, want, gap=0.0, seconds=20.0)


UNIT = 100.0
"""Everything is a multiple of it, so that the best allotment is too. [kg]"""
RATES = Rates(promise_gbp=80.0, load_kg=300.0, haulage_gbp_per_km=0.5, lot_gbp=3.0)
PENNIES = 0.02
MOST = 40_000
"""Allotments that are all tried."""

units = st.integers(1, 4).map(lambda n: n * UNIT)
maybe = st.sampled_from


GRADED = ({"coat": 1.0}, {"coat": 0.8, "ridge": 0.95}, {"coat": 0.3, "ridge": 0.9}, {})


@st.composite
def wants(draw, name):
    return Want(
        name=name,
        kind=draw(maybe(("reed", "reed", "grain"))),
        kg=draw(units),
        gbp_per_kg=draw(maybe((0.9, 1.2, 1.5))),
        by=draw(maybe((None, 10, 40))),
        least_length=draw(maybe((None, 0.8, 1.0))),
        grades=draw(maybe((frozenset(), frozenset(("coat",))))),
        varieties=draw(maybe((frozenset(), frozenset(("Widgeon",))))),
        organic=draw(st.booleans()),
        most_lots=draw(maybe((None, 1, 2))),
        whole=draw(st.booleans()),
        first_refusal=draw(maybe((False, False, True))),
        promised=draw(st.booleans()),
        distance=draw(maybe((0.0, 5.0, 60.0))),
        weight=draw(maybe((1.0, 2.0))),
        customer=draw(maybe(("", "Ada"))),
    )


@st.composite
def stocks(draw, name):
    return Stock(
        name=name,
        kind=draw(maybe(("reed", "reed", "grain"))),
        kg=draw(units),
        length=draw(maybe((None, 0.9, 1.1))),
        grades=draw(maybe(GRADED)),
        grades_for=draw(maybe(({}, {"Ada": {"coat": 0.7}}, {"Ada": {}}))),
        variety=draw(maybe(("Widgeon", "Red"))),
        organic=draw(maybe((True, True, False))),
        ready=draw(maybe((0, 0, 30))),
        apart=draw(maybe((False, False, False, True))),
        chance=draw(maybe((1.0, 0.8))),
        ageing_gbp_per_kg=draw(maybe((0.0, 0.1))),
    )


@st.composite
def problems(draw):
    asked = tuple(draw(wants(name)) for name in "ABC"[: draw(st.integers(1, 3))])
    there = tuple(draw(stocks(f"L{n}")) for n in range(draw(st.integers(1, 3))))
    pins = ()
    if draw(maybe((False, False, True))):
        pins = (Pin(asked[0].name, there[0].name, UNIT),)
    return Problem(asked, there, RATES, pins)


def every_allotment(problem):
    """Each one there is, in whole units, that the checker lets pass."""
    keys = list(itertools.product(problem.wants, problem.stocks))
    ranges = [
        range(int(min(want.kg, stock.kg) / UNIT) + 1)
        if suits(want, stock) or (want.name, stock.name) in _pinned(problem)
        else (0,)
        for want, stock in keys
    ]
    count = 1
    for each in ranges:
        count *= len(each)
    assume(count <= MOST)
    for amounts in itertools.product(*ranges):
        yield {
            (want.name, stock.name): n * UNIT
            for (want, stock), n in zip(keys, amounts, strict=True)
            if n
        }


def _pinned(problem):
    return {(pin.want, pin.stock) for pin in problem.pins}


def best_of_all(problem):
    """By trying every allotment; None where none keeps the rules."""
    best = None
    for amounts in every_allotment(problem):
        worth = worth_of(problem, amounts)
        if best is not None and worth <= best:
            continue
        if not list(broken_rules(problem, Plan(amounts, worth, worth))):
            best = worth
    return best


slow = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))


@slow
@given(problems())
def test_no_allotment_is_better_and_ours_keeps_every_rule(problem):
    best = best_of_all(problem)
    if best is None:
        with pytest.raises(NoPlan):
            solve(problem)
        return
    plan = solve(problem)
    assert list(broken_rules(problem, plan)) == []
    assert plan.worth == pytest.approx(best, abs=PENNIES)
    assert plan.bound == pytest.approx(best, abs=PENNIES)


@slow
@given(problems())
def test_the_reasons_and_the_checker_agree_on_what_suits(problem):
    for want, stock in itertools.product(problem.wants, problem.stocks):
        assert suits(want, stock) == (not against(want, stock))


@slow
@given(problems())
def test_one_more_lot_is_never_worth_less(problem):
    assume(not any(want.first_refusal for want in problem.wants))
    more = dataclasses.replace(
        problem, stocks=(*problem.stocks, Stock("more", "reed", 300.0))
    )
    try:
        worth = solve(problem).worth
    except NoPlan:
        return
    assert solve(more).worth >= worth - PENNIES


@slow
@given(problems(), st.randoms())
def test_another_order_of_the_same_is_worth_the_same(problem, random):
    asked, there = list(problem.wants), list(problem.stocks)
    random.shuffle(asked)
    random.shuffle(there)
    try:
        worth = solve(problem).worth
    except NoPlan:
        return
    other = dataclasses.replace(problem, wants=tuple(asked), stocks=tuple(there))
    assert solve(other).worth == pytest.approx(worth, abs=PENNIES)


def two(**changes):
    """Ada and Bert both want the only lot."""
    ada = Want("Ada", "reed", 400.0, 1.2, promised=False)
    bert = Want("Bert", "reed", 400.0, 1.0, promised=False)
    bert = dataclasses.replace(bert, **changes)
    return Problem((ada, bert), (Stock("24-01", "reed", 400.0),), RATES)


def test_the_better_price_gets_the_lot():
    assert solve(two()).given == {("Ada", "24-01"): pytest.approx(400)}


def test_a_promise_is_kept_before_a_better_price():
    problem = dataclasses.replace(two(promised=True, weight=3.0))
    assert solve(problem).given == {("Bert", "24-01"): pytest.approx(400)}


def test_first_refusal_goes_before_a_better_price():
    plan = solve(two(first_refusal=True, promised=True, weight=0.1))
    assert sum(plan.to("Bert").values()) == pytest.approx(400)
    assert sum(plan.to("Ada").values()) == 0


def test_a_first_refusal_that_nothing_can_fill_holds_nobody_up():
    plan = solve(two(first_refusal=True, kg=900.0, most_lots=1))
    assert sum(plan.to("Ada").values()) == pytest.approx(400)


def test_what_filling_the_other_would_cost_is_told():
    problem = two()
    plan = solve(problem)
    assert cost_of_filling(problem, plan, "Bert") == pytest.approx(80.0)
    assert cost_of_filling(problem, plan, "Ada") == pytest.approx(0.0, abs=1e-6)


def test_what_nothing_can_fill_has_no_cost():
    problem = two(kg=900.0)
    assert cost_of_filling(problem, solve(problem), "Bert") is None


def test_the_lot_that_is_surer_of_its_grade_goes_to_who_asks_for_it():
    sure = Stock("24-01", "reed", 400.0, grades={"coat": 0.95})
    unsure = Stock("24-02", "reed", 400.0, grades={"coat": 0.6})
    picky, easy = two().wants
    picky = dataclasses.replace(picky, grades=frozenset(("coat",)))
    plan = solve(Problem((picky, easy), (unsure, sure), RATES))
    assert set(plan.to("Ada")) == {"24-01"}
    assert set(plan.to("Bert")) == {"24-02"}


def test_a_buyers_own_rule_grades_for_him_alone():
    lot = Stock(
        "24-01",
        "reed",
        400.0,
        grades={"coat": 0.9},
        grades_for={"Ada's": {"coat": 0.2}},
    )
    ada, bert = (
        dataclasses.replace(want, grades=frozenset(("coat",)), customer=who)
        for want, who in zip(two().wants, ("Ada's", "Bert's"), strict=True)
    )
    assert solve(Problem((ada, bert), (lot,), RATES)).given == {
        ("Bert", "24-01"): pytest.approx(400)
    }


def test_one_lot_alone_is_not_made_up_of_two():
    small, large = (
        Stock("24-01", "reed", 300.0, ageing_gbp_per_kg=0.1),
        Stock("24-02", "reed", 400.0),
    )
    problem = Problem(two().wants[:1], (small, large), RATES)
    alone = dataclasses.replace(
        problem, wants=(dataclasses.replace(problem.wants[0], most_lots=1, whole=True),)
    )
    assert set(solve(problem).to("Ada")) == {"24-01", "24-02"}
    assert set(solve(alone).to("Ada")) == {"24-02"}


def test_what_is_ready_after_its_window_is_nobodys():
    late = Stock("barn", "reed", 400.0, ready=50)
    ada = dataclasses.replace(two().wants[0], by=40)
    assert solve(Problem((ada,), (late,), RATES)).given == {}


def test_the_old_lot_goes_first():
    old = Stock("22-07", "reed", 400.0, ageing_gbp_per_kg=0.05)
    new = Stock("24-01", "reed", 400.0)
    problem = Problem((two().wants[0],), (new, old), RATES)
    assert set(solve(problem).to("Ada")) == {"22-07"}


def test_more_reserved_than_a_lot_holds_is_told():
    problem = two()
    pins = (Pin("Ada", "24-01", 300.0), Pin("Bert", "24-01", 300.0))
    with pytest.raises(NoPlan, match="reserved"):
        solve(dataclasses.replace(problem, pins=pins))


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({("Ada", "24-01"): 300.0, ("Bert", "24-01"): 300.0}, "which has"),
        ({("Ada", "24-01"): 500.0}, "Ada gets 500"),
        ({("Ada", "none"): 100.0}, "does not suit Ada"),
    ],
)
def test_the_checker_finds_what_is_wrong(given, says):
    problem = two()
    problem = dataclasses.replace(
        problem, stocks=(*problem.stocks, Stock("none", "grain", 500.0))
    )
    plan = Plan(given, worth_of(problem, given), 1e9)
    assert says in " ".join(broken_rules(problem, plan))


@slow
@given(problems())
def test_a_plan_that_is_good_enough_keeps_every_rule_and_its_bound(problem):
    try:
        best = solve(problem)
    except NoPlan:
        return
    plan = solver.solve(problem, gap=0.2)
    assert list(broken_rules(problem, plan)) == []
    assert plan.worth <= best.worth + PENNIES <= plan.bound + 2 * PENNIES
