"""A budget file: what it changes, what may be tried, and whatever stands in it."""

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.answers.budget import BudgetQuestion, budget
from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.budget import (
    KINDS,
    KNOBS,
    changed,
    example_file,
    terms_of,
)
from sheafwright.feeds.tables import Row, shipped

FIELDS = {"Long Meadow": 2.4}
ROWS = [(section, name) for section in KINDS for name in shipped("budget")[section]]
NUMBERS = st.one_of(
    st.floats(), st.integers(-(10**12), 10**12), st.sampled_from([0, 1, 1e-300, 1e300])
)
VALUES = st.one_of(
    NUMBERS,
    st.booleans(),
    st.text(max_size=5),
    st.lists(NUMBERS, max_size=4),
    st.lists(NUMBERS, min_size=3, max_size=3).map(
        lambda ends: sorted(ends) if all(x == x for x in ends) else ends
    ),
)


def with_own(section, name, value):
    return terms_of(FIELDS, {section: {name: Row("mine.toml", name, value)}}, "mine")


@pytest.mark.parametrize("knob", KNOBS)
def test_every_knob_moves_what_it_names_and_nothing_else(knob):
    terms = terms_of(FIELDS)
    section, name = KNOBS[knob]
    was = getattr(getattr(terms, section), name)
    value = (was[1] if section == "ranges" else was) * 0.9
    moved = changed(terms, {knob: value})
    now = getattr(getattr(moved, section), name)
    assert (now[1] if section == "ranges" else now) == pytest.approx(value)
    assert moved.given == {(section, name)}


def test_a_range_keeps_its_proportions_when_it_is_moved():
    moved = changed(terms_of(FIELDS), {"reed_price": 1600})
    assert moved.ranges.reed_price == pytest.approx((1200, 1600, 2600))


def test_a_share_never_passes_all():
    assert changed(terms_of(FIELDS), {"kept": 0.99}).ranges.kept[2] == 1.0


def test_what_is_tried_leaves_ones_own_values():
    terms = with_own("outlay", "twine_gbp_per_ha", 40.0)
    moved = changed(terms, {"wage": 20.0})
    assert moved.outlay.twine_gbp_per_ha == 40.0
    assert moved.given == {("outlay", "twine_gbp_per_ha"), ("outlay", "wage_gbp_per_h")}


def test_the_example_names_every_value_there_is():
    lines = "\n".join(line.removeprefix("# ") for line in example_file())
    said = tomllib.loads(lines)
    assert said.pop("fields") == {"Long Meadow": "6 acres"}
    assert {(s, name) for s, rows in said.items() for name in rows} == set(ROWS)


@settings(max_examples=400, deadline=None)
@given(st.sampled_from(ROWS), VALUES)
def test_whatever_stands_in_a_row_is_reckoned_with_or_refused(row, value):
    try:
        answer = budget(BudgetQuestion(with_own(*row, value), 2027, draws=100))
        assert answer.sentence
        assert answer.months
        assert answer.margin_pence == answer.margin_pence
    except SheafwrightError as error:
        assert "\n" not in str(error)


def test_an_hour_of_hands_costs_the_same_in_the_budget_and_in_the_plan():
    planned = shipped("rotation")["hands"]["gbp_per_h"]
    assert planned.value == shipped("budget")["outlay"]["wage_gbp_per_h"].value
