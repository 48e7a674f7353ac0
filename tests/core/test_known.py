"""What is known on a day: its weather, a memory of the days before, a forecast."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.decide.known import (
    Memory,
    fading,
    foretold,
    foretold_on_paths,
    known_on_paths,
    known_on_record,
    likeness,
    memories,
    sky,
)

MEMORY = Memory(rain=0.2, pressure=0.3, warmth=0.1)
N_DAYS = 500


@pytest.fixture
def rng():
    return np.random.default_rng(12)


def record(rng):
    """A record of made-up days, as the five arguments of `sky`."""
    return (
        np.arange(N_DAYS) % 365 + 1,
        rng.gamma(0.5, 6.0, N_DAYS),
        rng.normal(18, 4, N_DAYS),
        rng.gamma(9, 0.3, N_DAYS),
        rng.normal(1013, 9, N_DAYS),
    )


@given(st.lists(st.floats(-5, 5), min_size=1, max_size=20), st.floats(0.05, 1))
def test_a_memory_is_todays_share_and_the_rest_from_before(values, share):
    remembered, slow = 1.5, []
    for value in values:
        remembered = share * value + (1 - share) * remembered
        slow.append(remembered)
    np.testing.assert_allclose(fading(values, share, 1.5), slow, atol=1e-12)


def test_a_later_day_changes_nothing_that_was_known_before(rng):
    days = record(rng)
    changed = [each.copy() for each in days]
    for each in changed[1:]:
        each[400:] += 3.0
    before, after = (
        known_on_record(sky(*each), memories(sky(*each), MEMORY))
        for each in (days, changed)
    )
    np.testing.assert_array_equal(before[:400], after[:400])
    assert not np.isclose(before[400:], after[400:]).all()


def test_a_path_that_is_the_record_knows_what_the_record_knows(rng):
    state = sky(*record(rng))
    kept = memories(state, MEMORY)
    path = np.arange(100, 131)[np.newaxis]
    on_path = known_on_paths(state, kept, MEMORY, path)
    np.testing.assert_allclose(
        on_path[0], known_on_record(state, kept)[101:131], rtol=0, atol=1e-12
    )


def test_a_path_that_leaps_remembers_the_days_it_came_by(rng):
    state = sky(*record(rng))
    kept = memories(state, MEMORY)
    paths = np.array([[100, 300, 30], [100, 50, 31]])
    known = known_on_paths(state, kept, MEMORY, paths)
    rain = state.rain
    by_hand = 0.2 * rain[30] + 0.8 * (0.2 * rain[300] + 0.8 * kept[100, 0])
    assert known[0, 1, 5] == pytest.approx(by_hand)
    assert known[0, 1, 4] == pytest.approx(state.pressure[30] - state.pressure[300])


def test_the_first_thing_known_is_one(rng):
    state = sky(*record(rng))
    assert (known_on_record(state, memories(state, MEMORY))[:, 0] == 1).all()


def test_where_pressure_is_not_on_record_it_says_nothing(rng):
    *days, _ = record(rng)
    state = sky(*days)
    assert (state.pressure == 0).all()
    assert (likeness(state, memories(state, MEMORY))[:, 2:4] == 0).all()


def test_a_missing_pressure_is_taken_as_usual_and_missing_rain_is_not(rng):
    days = record(rng)
    days[1][7], days[4][7] = np.nan, np.nan
    state = sky(*days)
    like = likeness(state, memories(state, MEMORY))
    assert state.pressure[7] == 0
    assert np.isnan(like[7]).any()
    assert not np.isnan(like[8:]).any()


def test_days_alike_lie_about_one_apart_in_each_direction(rng):
    state = sky(*record(rng))
    spread = likeness(state, memories(state, MEMORY)).std(axis=0)
    assert ((spread > 0.3) & (spread < 3)).all()


def test_a_forecast_of_no_skill_adds_nothing():
    assert not foretold(np.ones((4, 7)), np.zeros(7)).any()


def test_forecasts_of_five_days_or_fewer_leave_the_sums_empty():
    told = foretold([1.0, -1.0], [0.5, 0.5])
    assert told.tolist() == [0.5, -0.5, 0.0, 0.0, 0.5]


def test_a_lead_without_a_forecast_is_not_known():
    assert np.isnan(foretold([np.nan, 1.0], [0.5, 0.5])[[0, -1]]).all()


def test_summers_that_may_come_have_forecasts_of_their_own_days(rng):
    wet = np.where(np.arange(40) % 2, 2.0, -2.0)
    paths = np.tile(np.arange(0, 24, 2), (4_000, 1))
    told = foretold_on_paths(wet, paths, np.array([0.9, 0.5]), rng)
    means = told[:, 0, :2].mean(axis=0)
    # On a path of dry days only: each signal has mean r × wetness, expected r² × it.
    assert means == pytest.approx([-2 * 0.81, -2 * 0.25], abs=0.03)
    assert np.isnan(told[:, -1, 0]).all()
