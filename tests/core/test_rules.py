"""Plain rules on three tiny harvests made by hand, and perfect foresight."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from sheafwright.core.decide import rules
from sheafwright.core.decide.rules import NEVER, Seasons

T, F = True, False
# A fair summer; one that is wet until the sixth day; one that is never dry enough.
HARVESTS = Seasons(
    day_of_year=np.tile(np.arange(210, 217), (3, 1)),
    ripeness=np.tile([0.80, 0.85, 0.90, 0.95, 1.00, 1.05, 1.10], (3, 1)),
    can_cut=np.array([[T, T, T, T, T, T, T], [F, F, F, F, F, T, T], [F] * 7]),
    worth=np.array(
        [
            [0.60, 0.75, 0.80, 0.95, 0.90, 0.85, 0.70],
            [0.99, 0.99, 0.99, 0.99, 0.99, 0.60, 0.65],
            [0.99, 0.99, 0.99, 0.99, 0.99, 0.99, 0.99],
        ]
    ),
    dry_before=np.array([[0, 1, 2, 3, 4, 5, 6], [0, 0, 0, 0, 0, 1, 2], [0] * 7]),
    dry_ahead=np.array([[1, 2, 3, 4, 5, 5, 5], [0, 0, 0, 0, 2, 1, 0], [0] * 7]),
)


def cuts(says):
    return rules.first_cut(HARVESTS, says).tolist()


def test_a_fixed_date_is_kept_or_followed_by_the_first_day_that_can_be_cut():
    assert cuts(rules.fixed_date(HARVESTS, 212)) == [2, 5, NEVER]


def test_the_first_fit_day_is_ripe_and_dry_since_yesterday():
    assert cuts(rules.first_fit_day(HARVESTS, 0.80)) == [2, 6, NEVER]
    assert cuts(rules.first_fit_day(HARVESTS, 0.95)) == [3, 6, NEVER]


def test_dry_days_in_sight_are_waited_for_however_ripe_it_gets():
    assert cuts(rules.wait_for_dry_days(HARVESTS, 0.85, 2)) == [1, NEVER, NEVER]
    assert cuts(rules.wait_for_dry_days(HARVESTS, 0.85, 1)) == [1, 5, NEVER]
    assert cuts(rules.wait_for_dry_days(HARVESTS, 0.85, 5)) == [4, NEVER, NEVER]


def test_the_ripeness_sign_waits_for_nothing_else():
    assert cuts(rules.ripeness_sign(HARVESTS, 0.85)) == [1, 5, NEVER]


def test_foresight_takes_the_best_day_that_can_be_cut():
    assert rules.foresight(HARVESTS).tolist() == [3, 6, NEVER]


def test_a_crop_never_cut_has_what_is_left():
    worth = rules.worth_of(HARVESTS, rules.foresight(HARVESTS), 0.2)
    assert worth.tolist() == [0.95, 0.65, 0.2]


RULES = {
    rules.fixed_date: (st.integers(200, 220),),
    rules.first_fit_day: (st.floats(0.7, 1.2),),
    rules.ripeness_sign: (st.floats(0.7, 1.2),),
    rules.wait_for_dry_days: (st.floats(0.7, 1.2), st.integers(0, 7)),
}


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.__name__)
@given(
    data=st.data(),
    worth=arrays(float, (3, 7), elements=st.floats(0.2, 1)),
    can_cut=arrays(bool, (3, 7)),
)
def test_no_rule_with_any_setting_does_better_than_foresight(
    rule, data, worth, can_cut
):
    some = dataclasses.replace(HARVESTS, worth=worth, can_cut=can_cut)
    setting = data.draw(st.tuples(*RULES[rule]))
    followed = rules.worth_of(some, rules.first_cut(some, rule(some, *setting)), 0.2)
    assert (followed <= rules.worth_of(some, rules.foresight(some), 0.2)).all()


@given(
    arrays(float, (3, 12), elements=st.floats(0, 1)),
    st.integers(0, 11),
    arrays(float, 3, elements=st.floats(0, 1)),
)
def test_a_rules_setting_does_not_depend_on_the_season_judged(worth, judged, other):
    years = np.arange(1990, 2002)
    chosen = rules.setting_without_season(worth, years, apart=2)
    changed = worth.copy()
    changed[:, judged] = other
    again = rules.setting_without_season(changed, years, apart=2)
    assert chosen[judged] == again[judged]


def test_the_seasons_beside_the_judged_one_are_not_looked_at_either():
    worth = np.array([[0.0, 1.0, 0.0, 0.4], [0.5, 0.0, 0.5, 0.3]])
    years = np.array([2000, 2001, 2002, 2010])
    assert rules.setting_without_season(worth, years, apart=1).tolist() == [0, 1, 0, 0]
    assert rules.setting_without_season(worth, years, apart=2).tolist() == [1, 0, 1, 0]


@given(
    arrays(float, (4, 9), elements=st.floats(0, 1)),
    st.integers(-8, 8).map(lambda n: n / 4),
)
def test_adding_a_constant_to_every_worth_changes_no_setting(worth, constant):
    # Whole quarters, so that the sums stay exact.
    worth, years = np.round(worth * 64) / 64, np.arange(9)
    np.testing.assert_array_equal(
        rules.setting_without_season(worth, years, 2),
        rules.setting_without_season(worth + constant, years, 2),
    )


@given(arrays(bool, st.integers(1, 30)))
def test_a_run_is_counted_day_by_day(days):
    length, slow = 0, []
    for dry in days:
        length = length + 1 if dry else 0
        slow.append(length)
    assert rules.running(days).tolist() == slow


@given(arrays(bool, st.integers(1, 10)))
def test_a_run_ahead_is_the_run_that_begins_at_once(leads):
    slow = next((n for n, dry in enumerate(leads) if not dry), leads.size)
    assert rules.run_ahead(leads) == slow


def test_every_season_has_its_own_run():
    assert rules.running([[T, T], [T, F]]).tolist() == [[1, 2], [1, 0]]
