"""Which days of the record are most like a day."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.chance.neighbours import nearest_days


@st.composite
def records(draw):
    """State and day of the year of a few days, some of them not known."""
    n_days, n_variables = draw(st.integers(1, 40)), draw(st.integers(1, 3))
    rng = np.random.default_rng(draw(st.integers(0, 2**32)))
    state = rng.normal(size=(n_days, n_variables))
    state[rng.random(n_days) < 0.2] = np.nan
    return state, rng.integers(1, 367, n_days)


def by_brute_force(state, day_of_year, asking, half_window, size):
    """The nearest days of one day, found by looking at every other."""
    apart = np.abs(day_of_year - day_of_year[asking])
    near = np.minimum(apart, 366 - apart) <= half_window
    distance = np.sum((state - state[asking]) ** 2, axis=-1)
    order = [d for d in np.argsort(distance) if near[d] and not np.isnan(distance[d])]
    return (order + [-1] * size)[:size]


@given(records(), st.integers(0, 200), st.integers(1, 12))
def test_the_nearest_days_are_those_that_brute_force_finds(record, half_window, size):
    state, day_of_year = record
    every_day = np.ones(len(state), dtype=bool)
    found = nearest_days(state, day_of_year, every_day, half_window, size)
    for day in range(len(state)):
        expected = by_brute_force(state, day_of_year, day, half_window, size)
        assert found[day].tolist() == expected


@given(records(), st.integers(0, 200))
def test_every_known_day_is_its_own_nearest(record, half_window):
    state, day_of_year = record
    known = ~np.isnan(state).any(axis=-1)
    found = nearest_days(state, day_of_year, known, half_window, 3)
    assert found[known, 0].tolist() == np.flatnonzero(known).tolist()


def test_new_years_eve_and_new_years_day_are_neighbours():
    day_of_year = np.array([366, 1, 180])
    found = nearest_days(np.zeros((3, 1)), day_of_year, np.full(3, True), 1, 3)
    assert set(found[0]) == {0, 1, -1}
    assert found[2].tolist() == [2, -1, -1]


def test_a_day_without_data_is_nobodys_neighbour_and_has_none():
    state = np.array([[0.0], [np.nan], [5.0]])
    found = nearest_days(state, np.full(3, 200), np.full(3, True), 7, 3)
    assert found.tolist() == [[0, 2, -1], [-1, -1, -1], [2, 0, -1]]


def test_days_not_wanted_are_not_looked_up_but_may_be_found():
    state, wanted = np.array([[0.0], [1.0]]), np.array([True, False])
    found = nearest_days(state, np.full(2, 200), wanted, 7, 2)
    assert found.tolist() == [[0, 1], [-1, -1]]
