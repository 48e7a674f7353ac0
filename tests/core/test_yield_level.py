"""What a holding weighs comes to outweigh the book, by the conjugate normal."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.crop.yield_level import (
    Level,
    draw_level,
    harvest_covariance,
    learn_level,
    prior_level,
    years_worth,
)
from sheafwright.core.crop.yields import draw_luck, grown
from sheafwright.feeds import yields

PRIOR = prior_level(yields.part("level"))
HARVEST = harvest_covariance(yields.part("years"), 0.37)
logs = st.floats(-1.5, 1.5)
ALONE = Level(np.array([0.4, 0.4]), np.diag([0.09, 0.09]))
APART = np.diag([0.12, 0.12])
"""A prior and harvests that tie straw to nothing of grain."""


@given(st.lists(logs, min_size=1, max_size=8))
def test_alone_straw_is_learnt_as_a_textbook_normal_with_known_variance(seen):
    learned = learn_level(ALONE, [(each, np.nan) for each in seen], APART)
    precision = 1 / 0.09 + len(seen) / 0.12
    mean = (0.4 / 0.09 + sum(seen) / 0.12) / precision
    assert learned.mean[0] == pytest.approx(mean, abs=1e-9)
    assert learned.covariance[0, 0] == pytest.approx(1 / precision)
    assert learned.mean[1] == pytest.approx(0.4)
    assert learned.covariance[1, 1] == pytest.approx(0.09)


@given(st.lists(st.tuples(logs, logs), min_size=1, max_size=8))
def test_together_they_are_learnt_as_the_normal_of_two(seen):
    learned = learn_level(PRIOR, seen, HARVEST)
    prior, harvest = map(np.linalg.inv, (PRIOR.covariance, HARVEST))
    covariance = np.linalg.inv(prior + len(seen) * harvest)
    mean = covariance @ (prior @ PRIOR.mean + harvest @ np.sum(seen, axis=0))
    np.testing.assert_allclose(learned.mean, mean, atol=1e-9)
    np.testing.assert_allclose(learned.covariance, covariance, atol=1e-12)


@given(st.permutations([(0.1, 0.3), (np.nan, -0.2), (0.5, np.nan), (-0.4, 0.0)]))
def test_the_order_of_years_is_nothing(seen):
    one = learn_level(PRIOR, seen, HARVEST)
    other = learn_level(PRIOR, sorted(seen, key=str), HARVEST)
    np.testing.assert_allclose(one.mean, other.mean, atol=1e-12)


@pytest.mark.parametrize("seen", [[], [(np.nan, np.nan)]])
def test_nothing_weighed_leaves_the_prior(seen):
    learned = learn_level(PRIOR, seen, HARVEST)
    for left, before in zip(learned, PRIOR, strict=True):
        np.testing.assert_array_equal(left, before)


def test_grain_alone_tells_something_of_straw_but_less():
    learned = learn_level(PRIOR, [(np.nan, 0.0)] * 5, HARVEST)
    moved = PRIOR.mean - learned.mean
    assert 0 < moved[0] < moved[1]


def test_many_harvests_of_ones_own_outweigh_the_book():
    learned = learn_level(PRIOR, [(-0.5, 0.8)] * 200, HARVEST)
    np.testing.assert_allclose(learned.mean, [-0.5, 0.8], atol=0.02)
    assert (np.diag(learned.covariance) < 0.002).all()


def test_as_many_harvests_as_the_book_is_worth_go_half_the_way():
    worth = 4
    level = Level(ALONE.mean, APART / worth)
    assert years_worth(level, APART) == pytest.approx([worth, worth])
    learned = learn_level(level, [(1.0, 1.0)] * worth, APART)
    np.testing.assert_allclose(learned.mean, 0.7)


def test_a_harvest_strays_as_the_drawn_ones_do():
    stand, response = yields.part("stand"), yields.part("nitrogen")
    luck = draw_luck(yields.part("years"), stand, 40_000, np.random.default_rng(3))
    drawn = np.cov(np.log(grown(90, 1e9, 1e-9, 1, response, luck)))
    np.testing.assert_allclose(drawn, HARVEST, atol=0.006)


def test_drawn_levels_are_those_that_are_known():
    drawn = np.log(draw_level(PRIOR, 40_000, np.random.default_rng(4)))
    np.testing.assert_allclose(drawn.mean(axis=1), PRIOR.mean, atol=0.005)
    np.testing.assert_allclose(np.cov(drawn), PRIOR.covariance, atol=0.002)


def test_known_levels_are_covered_as_often_as_is_said():
    rng, held = np.random.default_rng(9), []
    for true in rng.multivariate_normal(*PRIOR, 2000):
        seen = rng.multivariate_normal(true, HARVEST, 4)
        mean, covariance = learn_level(PRIOR, seen, HARVEST)
        held.append(np.abs(true - mean) < 1.2816 * np.sqrt(np.diag(covariance)))
    np.testing.assert_allclose(np.mean(held, axis=0), 0.8, atol=0.025)
