"""When to cut: what following a policy brings, and policies learned from summers."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from sheafwright.core.chance import markov, runs
from sheafwright.core.decide.stopping import (
    Policy,
    Stopping,
    advantage,
    cut_or_wait_in_spells,
    learn_policy,
    says_cut,
    takings,
    terms,
)

KNOTS = (0.0, 0.5, 0.9, 1.0)
DRY_AFTER_DRY, DRY_AFTER_WET, RUN, REWARD, DAYS = 0.75, 0.45, 7, 1000.0, 20
SHAPE = (5, 6)
IN_SPELLS = Stopping(KNOTS, cut_anyway_from=2.0, begin_at=0.5, rounds=4, ridge=1.0)


@given(
    arrays(float, SHAPE, elements=st.floats(0, 1)),
    arrays(bool, SHAPE),
    arrays(bool, SHAPE),
)
def test_takings_are_those_of_the_first_day_that_is_cut(worth, can_cut, cut):
    brought = takings(worth, can_cut, cut, 0.2)
    for draw in range(SHAPE[0]):
        for day in range(SHAPE[1] + 1):
            later = [d for d in range(day, 6) if can_cut[draw, d] and cut[draw, d]]
            expected = worth[draw, later[0]] if later else 0.2
            assert brought[draw, day] == expected


@given(arrays(float, SHAPE, elements=st.floats(0, 1)), arrays(bool, SHAPE))
def test_no_policy_takes_more_than_hindsight(worth, cut):
    best = np.maximum.accumulate(worth[:, ::-1], axis=-1)[:, ::-1]
    always = np.ones(SHAPE, bool)
    assert (takings(worth, always, cut, 0.0)[:, :-1] <= best).all()


@given(st.floats(0.5, 1.5))
def test_terms_between_two_knots_are_shared_by_nearness(ripeness):
    knots, known = (0.7, 0.9, 1.2), np.array([1.0, 3.0])
    each = terms(ripeness, known, np.zeros(2), knots).reshape(3, 4)
    np.testing.assert_allclose(each.sum(axis=0), [1, 3, 0, 0], atol=1e-12)
    held = np.clip(ripeness, 0.7, 1.2)
    assert np.interp(held, knots, knots) == pytest.approx(each[:, 0] @ knots)
    assert (each[:, 0] > 0).sum() <= 2


def test_the_expected_share_is_a_term_and_so_is_its_square():
    each = terms(0.7, np.array([1.0, 2.0]), np.array([0.1, 0.2]), (0.7, 0.9))
    assert each.tolist() == pytest.approx([1, 2, 0.5, 0.25, 0, 0, 0, 0])


@given(st.floats(-2, 3))
def test_an_expected_share_stays_between_nothing_and_all(share):
    each = terms(0.7, np.array([1.0]), np.array([share]), (0.7, 0.9))
    assert 0 <= each[1] <= 1


def a_policy(at_each_knot):
    """A policy that knows nothing but ripeness, with an advantage at each knot."""
    coefficients = np.zeros((len(KNOTS), 3))
    coefficients[:, 0] = at_each_knot
    return Policy(
        np.zeros(1), coefficients.ravel(), Stopping(KNOTS, 1.3, 0.9, 3, ridge=1.0)
    )


def test_a_policy_cuts_where_cutting_has_the_advantage():
    policy, nothing_known = a_policy([-0.4, -0.2, 0.2, 0.3]), np.ones((4, 1))
    ripeness = np.array([0.25, 0.7, 0.7001, 0.95])
    gain = advantage(policy, ripeness, nothing_known)
    assert gain.tolist() == pytest.approx([-0.3, 0, 0.0001, 0.25], abs=1e-9)
    cuts = says_cut(policy, np.array([0.25, 0.69, 0.71, 0.95]), nothing_known)
    assert cuts.tolist() == [False, False, True, True]


def test_past_the_last_of_its_waiting_a_policy_cuts_whatever_it_thinks():
    policy = a_policy([-1.0] * 4)
    assert says_cut(policy, np.array([1.29, 1.3]), np.ones((2, 1))).tolist() == [0, 1]


def test_a_day_that_is_not_known_is_waited_on():
    assert not says_cut(a_policy([1.0] * 4), np.array([0.9]), np.full((1, 1), np.nan))


class Spells:
    """Summers of wet and dry days where only a whole dry week pays."""

    def __init__(self, cost, n_summers, rng):
        chances = 1 - DRY_AFTER_DRY, 1 - DRY_AFTER_WET
        self.dry = ~markov.simulate(*chances, n_summers, DAYS + RUN, rng)
        ahead = np.lib.stride_tricks.sliding_window_view(self.dry[:, 1:], RUN, axis=-1)
        self.waited = cost / REWARD * np.arange(DAYS)
        self.worth = ahead.all(axis=-1) - self.waited
        self.known = np.stack([np.ones((n_summers, DAYS)), self.dry[:, :DAYS]], axis=-1)
        self.ripeness = np.tile(np.arange(DAYS) / DAYS, (n_summers, 1))
        self.left = -cost / REWARD * DAYS

    def learned(self):
        chances = [
            runs.next_days_dry(RUN, first, DRY_AFTER_DRY)
            for first in (DRY_AFTER_WET, DRY_AFTER_DRY)
        ]
        expected = np.array([chances[0], chances[1] - chances[0]])
        every_day = np.ones(self.worth.shape, bool)
        made = self.ripeness, every_day, self.worth, self.known
        return learn_policy(*made, expected, self.left, IN_SPELLS)

    def value(self, policy):
        """Money brought by a policy from a dry and from a wet first day."""
        cut = says_cut(policy, self.ripeness, self.known)
        brought = takings(self.worth, np.ones_like(cut), cut, self.left)[:, 0]
        return [REWARD * brought[self.dry[:, 0] == dry].mean() for dry in (True, False)]


@pytest.mark.parametrize("cost", [10.0, 30.0])
def test_a_policy_learned_from_spells_is_worth_what_the_best_is(cost):
    learning, judging = (
        Spells(cost, 30_000, np.random.default_rng(seed)) for seed in (1, 2)
    )
    exact = cut_or_wait_in_spells(DRY_AFTER_DRY, DRY_AFTER_WET, RUN, REWARD, cost, DAYS)
    # Three standard errors of what such a gamble brings on average.
    error = 3 * REWARD * np.sqrt(0.12 / 10_000)
    np.testing.assert_allclose(
        judging.value(learning.learned()), exact, rtol=0, atol=error
    )


@pytest.mark.parametrize(("cost", "cuts_when_wet"), [(10.0, False), (30.0, True)])
def test_a_policy_learned_from_spells_waits_through_the_wet_if_waiting_is_cheap(
    cost, cuts_when_wet
):
    policy = Spells(cost, 30_000, np.random.default_rng(3)).learned()
    early = np.full(2, 0.25)
    cuts = says_cut(policy, early, np.array([[1.0, 1.0], [1.0, 0.0]]))
    assert cuts.tolist() == [True, cuts_when_wet]


@pytest.mark.parametrize(("run", "dearest"), [(7, 24.02710), (5, 42.71484)])
def test_a_wet_day_is_waited_on_up_to_what_the_next_dry_day_gains(run, dearest):
    wet_days = [
        cut_or_wait_in_spells(DRY_AFTER_DRY, DRY_AFTER_WET, run, REWARD, cost, 500)[1]
        for cost in (dearest - 0.0001, dearest + 0.0001)
    ]
    at_once = REWARD * runs.next_days_dry(run, DRY_AFTER_WET, DRY_AFTER_DRY)
    assert wet_days[0] > at_once
    assert wet_days[1] == pytest.approx(at_once, abs=1e-12)


@st.composite
def summers(draw):
    """A few summers to learn from, of any worth: ripeness, can cut, worth, known."""
    rng = np.random.default_rng(draw(st.integers(0, 999)))
    known = np.concatenate([np.ones((40, 8, 1)), rng.normal(size=(40, 8, 2))], axis=-1)
    ripeness = np.tile(np.linspace(0.1, 1.4, 8), (40, 1))
    return ripeness, rng.random((40, 8)) < 0.6, rng.random((40, 8)), known


def learned(made, left=0.2, rounds=3, shift=0.0):
    ripeness, can_cut, worth, known = made
    asked = Stopping(KNOTS, 1.3, 0.9, rounds, ridge=1.0)
    expected = np.array([0.5, 0.1, 0.0])
    made = ripeness, can_cut, worth + shift, known
    return learn_policy(*made, expected, left + shift, asked)


@settings(max_examples=25, deadline=None)
@given(summers(), st.floats(-3, 3))
def test_adding_a_constant_to_every_worth_changes_no_advantage(made, constant):
    plain, moved = learned(made, rounds=1), learned(made, rounds=1, shift=constant)
    np.testing.assert_allclose(plain.advantage, moved.advantage, rtol=0, atol=1e-9)


@settings(max_examples=25, deadline=None)
@given(summers())
def test_worth_on_days_that_cannot_be_cut_changes_nothing(made):
    ripeness, can_cut, worth, known = made
    changed = ripeness, can_cut, np.where(can_cut, worth, 0.99), known
    np.testing.assert_array_equal(learned(made).advantage, learned(changed).advantage)
