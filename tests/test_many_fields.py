"""The benchmark of many fields is fair: no look-ahead, and foresight above them all."""

import dataclasses
from pathlib import Path

import numpy as np
import pytest

from sheafwright.core.decide import gang_day
from sheafwright.feeds import decision

BENCHMARKS = Path(__file__).parents[1] / "benchmarks"
SEASON, SUMMERS, DAY = 3, 15, 25
"""A day on which much is ripe, of a season of the demo's record."""


@pytest.fixture(scope="module")
def parts():
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(BENCHMARKS)
        from parts import foresight, judged_fields, shared_binder

        yield foresight, judged_fields, shared_binder


@pytest.fixture(scope="module")
def made(parts):
    return parts[2].made("none", decision.losses(), small=True)


def wishes(judged_fields, made):
    """What is wished for on a few days running, the binder not having been out."""
    lived = judged_fields.Lived(made, SEASON, seed=1, summers=SUMMERS)
    morning = gang_day.unbegun(made.fields, 0)
    return [lived.today(morning, day) for day in range(DAY - 4, DAY + 1)]


def test_no_day_knows_a_later_one(parts, made):
    """With another season's days from tomorrow on, today's wish is the same."""
    position, ripeness = made.position.copy(), made.ripeness.copy()
    position[SEASON, DAY + 2 :] = position[0, DAY + 2 :]
    ripeness[SEASON, :, DAY + 1 :] = 2.0
    other = dataclasses.replace(made, position=position, ripeness=ripeness)
    before, after = (wishes(parts[1], each) for each in (made, other))
    assert any((wish.order > gang_day.UNWANTED).any() for wish in before)
    for one, another in zip(before, after, strict=True):
        np.testing.assert_array_equal(one.order, another.order)
        np.testing.assert_array_equal(one.advantage, another.advantage)


def test_the_judged_season_and_its_neighbours_teach_nothing(parts, made):
    """With another crop in those seasons, what is learned for it is the same."""
    ripeness = made.ripeness.copy()
    near = np.abs(made.years - made.years[SEASON]) < 2
    assert near.sum() == 3
    ripeness[near] += 0.1
    other = dataclasses.replace(made, ripeness=ripeness)
    lived = [parts[1].Lived(each, SEASON, 1, SUMMERS) for each in (made, other)]
    one, another = (each.policy.advantage for each in lived)
    np.testing.assert_array_equal(one, another)
    assert (lived[0].earned, lived[0].hurry) == (lived[1].earned, lived[1].hurry)


def test_no_way_passes_foresight(parts, made):
    foresight, judged_fields, _ = parts
    rules = judged_fields.as_set(made)
    bound, found = foresight.most(
        made.seasons, SEASON, made.fields, made.gang, made.past.losses, seconds=2.0
    )
    assert found <= bound
    lived = judged_fields.judge(made, SEASON, 1, SUMMERS)
    assert bound > max(*lived, *(worth[SEASON] for worth in rules.values()))


def test_foresight_of_one_small_field_is_its_best_day(parts, made):
    """With a binder and hands to spare, the program has only a day to choose."""
    foresight = parts[0]
    fields = gang_day.Fields(np.full(12, 0.01), np.zeros(12, dtype=int))
    one = dataclasses.replace(made, fields=fields)
    ahead, losses = one.seasons, made.past.losses
    bound, _ = foresight.most(ahead, SEASON, fields, made.gang, losses, seconds=2.0)
    best = [_best_day(one, ahead, field) for field in range(12)]
    assert bound == pytest.approx(np.mean(best), abs=0.003)


def _best_day(made, ahead, field):
    position = made.position[SEASON, 1 : made.ripeness.shape[-1] + 1]
    share = made.past.stook_share[position]
    worth = np.maximum(ahead.worth[SEASON, field] * share, 0.2)
    return worth[ahead.can_cut[SEASON, field]].max()


HARVESTS = 12


@pytest.mark.prove
def test_plans_by_roll_outs_are_not_worse_than_the_guess_nor_than_the_plain_rule():
    """In summers that no plan was made from; harvests paired, nine times in ten."""
    pytest.importorskip("ortools", reason="CP-SAT is not installed")
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(BENCHMARKS)
        from parts.turns_case import interval, judge

        found = [judge(seed, fresh=200) for seed in range(1, 1 + HARVESTS)]
    over_the_guess = [(each.roll_outs - each.guess).mean() for each in found]
    assert interval(over_the_guess).high > 0
    assert interval([each.roll_outs.mean() for each in found]).high > 0
