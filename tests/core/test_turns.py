"""Which field can wait its turn: closed forms, and what must hold of any harvest."""

import dataclasses

import numpy as np
import pytest

from sheafwright.core.decide.gang_day import (
    UNWANTED,
    Ahead,
    Fields,
    Gang,
    Wish,
    a_day,
    ahead,
    unbegun,
)
from sheafwright.core.decide.many import follow, followed
from sheafwright.core.decide.turns import Held, ripest_first, turns
from sheafwright.core.drying.stook import drying_rate, stooks
from sheafwright.feeds.decision import losses

LOSSES = losses()
GANG = Gang(
    binder=0.5, move=0.0, fit_hours=6.0, fit_hours_after_rain=4.0, wet_from=2.0,
    hands=1000.0, cutting=5.0, carting=10.0,
)  # fmt: skip
DAILY = GANG.binder * GANG.fit_hours
N_DAYS, N_DRAWS, DAYS = 20, 6, 3
FALLS = 0.02


def falling(n_fields):
    """Days without rain; each day that a crop stands takes the same of its worth."""
    ripe = np.ones((1, n_fields, N_DAYS))
    longer = N_DAYS + LOSSES.stook.longest_days
    return Ahead(
        ripeness=ripe, worth=0.9 - FALLS * np.arange(N_DAYS) * ripe, can_cut=ripe > 0,
        hours=np.full((1, N_DAYS), GANG.fit_hours), keeps=np.zeros((1, longer)),
        gains=np.zeros((1, longer)), takes=np.zeros((1, longer)),
        carries=np.ones((1, longer), dtype=bool),
    )  # fmt: skip


def broken(seed, n_fields=4):
    """Crops a few days apart in broken weather, and the weather."""
    rng = np.random.default_rng(seed)
    longer = N_DAYS + LOSSES.stook.longest_days + 1
    wet = rng.random((N_DRAWS, longer)) < 0.4
    rain = np.where(wet, rng.gamma(0.8, 5.0, wet.shape), 0.0).ravel()
    rate = drying_rate(rng.uniform(1, 4, rain.size), LOSSES.drying)
    paths = np.arange(rain.size).reshape(N_DRAWS, longer)
    ripe = rng.uniform(0.9, 1.0, (1, n_fields, 1)) + 0.02 * np.arange(N_DAYS)
    ripe = np.broadcast_to(ripe, (N_DRAWS, n_fields, N_DAYS))
    made = ahead(paths, ripe, np.full((1, n_fields), -1), rain, rate, LOSSES, GANG)
    return made, stooks(paths[:, 1:], rain, rate, N_DAYS, LOSSES)[0]


def test_one_field_with_hands_to_spare_is_left_for_the_first_fit_day_after_the_plan():
    made, share = broken(3, n_fields=1)
    found = turns(made, DAYS, 0, Fields(np.array([0.5]), np.array([0])), GANG, LOSSES)
    for draw in range(N_DRAWS):
        later = DAYS + made.can_cut[draw, 0, DAYS:].argmax()
        expected = max(made.worth[draw, 0, later] * share[draw, later], 0.2)
        assert found.if_left[0, draw] == pytest.approx(expected)
    np.testing.assert_allclose(found.holds_up, 0.0, atol=1e-12)


@pytest.mark.parametrize("n", [2, 3, 4, 6, 8])
def test_a_field_holds_up_the_others_by_what_their_days_of_waiting_cost(n):
    """Fields of a binder's day each, all equal, so that worth is a matter of days.

    If the others are cut in the plan, those then left each come a day later for it; if
    they are not, all others do.
    """
    fields = Fields(np.full(n, DAILY), np.zeros(n, dtype=int))
    found = turns(falling(n), DAYS, 0, fields, GANG, LOSSES)
    if_cut, if_left = max(n - 1 - DAYS, 0), n - 1
    np.testing.assert_allclose(found.own_loss, DAYS * FALLS)
    np.testing.assert_allclose(
        found.holds_up, (if_cut + if_left) / 2 * FALLS, atol=1e-9
    )


@pytest.mark.parametrize("seed", range(5))
def test_each_field_is_followed_as_if_it_were_asked_alone(seed):
    """The choices share summers and nothing else."""
    made, _ = broken(seed, n_fields=9)
    fields = Fields(1.0 + np.arange(9) % 4, np.arange(9) // 3)
    gang = dataclasses.replace(GANG, hands=40.0, move=1.0)
    found, start = turns(made, DAYS, 1, fields, gang, LOSSES), unbegun(fields, 1)
    rule, none = ripest_first(made.ripeness, DAYS), np.zeros(9, dtype=bool)
    for field, area in enumerate(fields.area):
        this = np.arange(9) == field
        ways = (none, this), (this, none), (~this, this), (~none, none)
        cut, left, only, nothing = (
            followed(start, made, way, way.on(0), fields, gang, LOSSES)[0]
            for way in (Held(rule, DAYS, *which) for which in ways)
        )
        expected = (cut - left + only - nothing) / 2 / area
        np.testing.assert_allclose(found.lost[field], expected, atol=1e-12)


def test_held_by_nothing_the_rule_is_the_rule_where_all_is_ripe():
    made, _ = broken(1)
    fields = Fields(np.array([4.0, 2.0, 3.0, 1.0]), np.array([0, 0, 1, 2]))
    rule, none = ripest_first(made.ripeness, DAYS), np.zeros((1, 1, 4), dtype=bool)
    start = unbegun(fields, 0)
    free, held = (
        follow(start, made, way, way.on(0), fields, GANG, LOSSES)
        for way in (rule, Held(rule, DAYS, none, none))
    )
    np.testing.assert_array_equal(free, held)


def test_what_is_spared_takes_neither_binder_nor_hands():
    fields = Fields(np.full(2, DAILY), np.zeros(2, dtype=int))
    spared = np.array([True, False])
    wish = Wish(1.0, np.array([UNWANTED, 1.0]), spared=spared)
    start = unbegun(fields, 0)
    evening = a_day(start, 0, wish, falling(2), fields, GANG, LOSSES)
    assert evening.left.tolist() == [[[0.0, 0.0]]]
    assert evening.area.sum() == pytest.approx(2 * DAILY)


def test_the_plain_rule_leaves_green_crops_and_knows_only_what_is_expected_yet():
    ripeness = np.array([[[0.86, 0.86]], [[0.96, 0.88]]])
    rule = ripest_first(ripeness, days=1)
    assert (rule.advantage[:, 0] >= 0).tolist() == [[True, False], [True, False]]
    np.testing.assert_allclose(rule.order[:, 0], [[0.91, 0.86], [0.91, 0.88]])
