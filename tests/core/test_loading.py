"""Loads hold every bundle and no more than they may; no way round is shorter."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.core.work.loading import (
    bundles_aboard,
    room,
    shared_out,
    shortest_round,
    way_round,
)

counts = st.lists(st.integers(1, 400), min_size=1, max_size=6)
places = st.lists(
    st.tuples(st.floats(-50, 50), st.floats(-50, 50)), min_size=1, max_size=5
)


def test_a_deck_of_straw_is_full_before_it_is_heavy():
    # 5 m by 2 m by 2 m, nine tenths full, is 18 m³: at 100 kg/m³ 1800 kg.
    assert room(5, 2, 2, 0.9) == pytest.approx(18.0)
    assert bundles_aboard(18.0, 3000, 100, 6) == 300


def test_a_small_payload_counts_before_the_room():
    assert bundles_aboard(18.0, 600, 100, 6) == 100


@given(counts, st.integers(1, 300))
def test_every_bundle_is_on_one_load_and_no_load_is_too_full(wanted, aboard):
    loads = shared_out(wanted, aboard)
    np.testing.assert_array_equal(loads.sum(axis=0), wanted)
    assert (loads.sum(axis=1) <= aboard).all()
    assert (loads.sum(axis=1)[:-1] == aboard).all()


@given(counts, st.integers(1, 300))
def test_drops_are_loaded_in_their_order(wanted, aboard):
    loads = shared_out(wanted, aboard)
    _rows, drops = np.nonzero(loads)
    assert (np.diff(drops) >= 0).all()


@settings(deadline=None)
@given(places)
def test_no_order_of_drops_is_shorter(at):
    best = way_round([at[n] for n in shortest_round(at)])
    for order in itertools.permutations(at):
        assert best <= way_round(order) + 1e-6


def test_a_square_is_driven_round_and_not_across():
    assert shortest_round([(0, 10), (10, 0), (10, 10)]) == (0, 2, 1)
    assert way_round([(0, 10), (10, 10), (10, 0)]) == pytest.approx(40)
