"""What is seen on a walk moves the dates, as far as it can and no further."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.crop.signs import level_chances, likelihood
from sheafwright.core.errors import OutOfRange
from sheafwright.core.inputs.crop import SignLadder
from sheafwright.feeds import crop

LADDERS = crop.sign_ladders()
FIT = {"grain": "soft dough", "below_ear": "yellow", "nodes": "green"}
RIPENESS = np.linspace(0, 1.4, 141)


def mean_ripeness_after(seen):
    """Mean ripeness when, before the walk, anything was as likely as anything else."""
    weights = likelihood(RIPENESS, seen, LADDERS)
    return weights @ RIPENESS / weights.sum()


def test_the_chances_are_the_ordered_logistic():
    ladder = SignLadder(("a", "b", "c"), (0.8, 1.0), width=0.1, misread=0.0)
    # Two widths past the first midpoint, none past the second: worked by hand.
    passed = 1 / (1 + np.exp(-2))
    expected = [1 - passed, passed - 0.5, 0.5]
    assert level_chances(1.0, ladder) == pytest.approx(expected)


def test_a_sign_read_at_random_says_nothing():
    ladder = SignLadder(("green", "yellow"), (0.9,), width=0.05, misread=1.0)
    assert np.all(level_chances(RIPENESS, ladder) == 0.5)


@given(st.floats(0, 5), st.sampled_from(sorted(LADDERS)))
def test_one_level_or_another_is_always_seen(ripeness, kind):
    chances = level_chances(ripeness, LADDERS[kind])
    assert chances.sum() == pytest.approx(1)
    assert chances.min() > 0


@pytest.mark.parametrize("kind", LADDERS)
def test_a_riper_level_tells_of_a_riper_crop(kind):
    learnt = [mean_ripeness_after({kind: each}) for each in LADDERS[kind].levels]
    assert np.all(np.diff(learnt) > 0.1)


def test_the_old_sign_for_cutting_points_to_the_opening_of_the_window():
    # No milk under the thumbnail and yellow below the ear, the nodes still green.
    opens_at = crop.cutting_window().opens_at
    assert mean_ripeness_after(FIT) == pytest.approx(opens_at, abs=0.02)


def test_signs_together_say_more_than_one_alone():
    together = likelihood(RIPENESS, FIT, LADDERS)
    apart = [likelihood(RIPENESS, {k: v}, LADDERS) for k, v in FIT.items()]
    np.testing.assert_allclose(together, np.prod(apart, axis=0))


def test_nothing_seen_weighs_every_draw_alike():
    assert np.all(likelihood(RIPENESS, {}, LADDERS) == 1)


def test_a_draw_of_unknown_ripeness_has_no_likelihood():
    assert np.isnan(likelihood(np.array([0.9, np.nan]), FIT, LADDERS)).tolist() == [
        False,
        True,
    ]


@pytest.mark.parametrize(
    "seen, says",
    [
        ({"leaves": "green"}, "one of grain, below_ear, nodes"),
        ({"grain": "cheese"}, "one of milk, soft dough, thumbnail dent, hard"),
    ],
)
def test_an_unknown_sign_is_refused_with_the_choices(seen, says):
    with pytest.raises(OutOfRange, match=says):
        likelihood(RIPENESS, seen, LADDERS)
