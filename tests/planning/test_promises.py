"""Days on which orders are filled, season by season, as counted by hand."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.planning.allocation.promises import NEVER, filled_on, seasons

IN_STORE = [[1000.0, 1000.0]]
NOW = [[0.0, 0.0]]


def test_what_is_in_store_is_ready_now():
    day = filled_on([400], np.array([[400.0]]), IN_STORE, np.array(NOW), [[True]])
    np.testing.assert_array_equal(day, [[0, 0]])


def test_a_short_season_leaves_the_last_order_unfilled():
    kg, ready = np.array([[1000.0, 600.0]]), np.array([[30.0, 30.0]])
    given_ = np.array([[500.0], [500.0]])
    day = filled_on([500, 500], given_, kg, ready, [[True], [True]])
    np.testing.assert_array_equal(day, [[30, 30], [30, NEVER]])


def test_what_nobody_is_allotted_makes_up_what_lacks():
    kg = np.array([[100.0, 100.0], [300.0, 50.0]])
    ready = np.array([[0.0, 0.0], [60.0, 60.0]])
    day = filled_on([200], np.array([[100.0, 0.0]]), kg, ready, [[True, True]])
    np.testing.assert_array_equal(day, [[60, NEVER]])


def test_what_does_not_suit_makes_up_nothing():
    kg, ready = np.array([[100.0], [300.0]]), np.zeros((2, 1))
    day = filled_on([200], np.array([[100.0, 0.0]]), kg, ready, [[True, False]])
    np.testing.assert_array_equal(day, [[NEVER]])


def test_an_order_of_two_lots_waits_for_the_later():
    kg, ready = np.array([[100.0], [100.0]]), np.array([[5.0], [90.0]])
    day = filled_on([200], np.array([[100.0, 100.0]]), kg, ready, [[True, True]])
    np.testing.assert_array_equal(day, [[90]])


def test_half_of_the_seasons_are_below_the_middle():
    kg, ready = seasons([[800, 1000, 1100]], [[10, 20, 40]])
    assert kg.shape == ready.shape == (1, 200)
    assert np.median(kg) == pytest.approx(1000, rel=0.03)
    assert np.median(ready) == pytest.approx(20, rel=0.2)
    assert 0.05 < (kg < 800).mean() < 0.15


@given(st.lists(st.floats(1, 5000), min_size=3, max_size=3).map(sorted))
def test_no_season_gives_less_than_nothing(band):
    kg, _ready = seasons([band], [[0, 1, 2]])
    assert (kg >= 0).all()


@given(st.lists(st.floats(1, 500), min_size=1, max_size=4), st.floats(0, 2000))
def test_more_in_store_never_makes_an_order_later(wants, more):
    given_ = np.zeros((len(wants), 1))
    fit = np.ones((len(wants), 1), dtype=bool)
    few = filled_on(wants, given_, [[500.0]], np.array([[0.0]]), fit)
    many = filled_on(wants, given_, [[500.0 + more]], np.array([[0.0]]), fit)
    assert (many <= few).all()
