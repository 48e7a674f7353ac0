"""Seeds, plants and kilograms turn into each other both ways, and only one way up."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.stand.seed_rate import (
    grain_to_keep_back,
    plants_from,
    rate_of,
    sacks_for,
    seed_needed,
    seeds_for,
    seeds_in_row,
    seeds_of,
)

shares = st.floats(0.01, 1)
plants = st.floats(1, 1000)
weights = st.floats(15, 90)
pairs = st.tuples(plants, plants).map(sorted)


@given(plants, shares, shares, weights)
def test_plants_to_a_rate_and_back_are_the_same_plants(wanted, alive, comes_up, weight):
    rate = rate_of(seeds_for(wanted, alive, comes_up), weight)
    back = plants_from(seeds_of(rate, weight), alive, comes_up)
    assert back == pytest.approx(wanted, rel=1e-12)


@given(plants, shares, shares)
def test_germination_and_establishment_may_change_places(wanted, one, other):
    assert seeds_for(wanted, one, other) == pytest.approx(
        seeds_for(wanted, other, one), rel=1e-12
    )


@given(pairs, shares, shares, weights)
def test_a_denser_stand_takes_no_less_seed(stands, alive, comes_up, weight):
    rates = rate_of(seeds_for(stands, alive, comes_up), weight)
    assert rates[0] <= rates[1]


@given(plants, st.tuples(shares, shares).map(sorted), shares)
def test_seed_that_comes_up_better_takes_no_more_of_it(wanted, comes_up, alive):
    fewer, more = seeds_for(wanted, alive, np.array(comes_up))
    assert fewer >= more


@given(plants, st.floats(0.05, 1), st.floats(0.05, 1))
def test_rows_side_by_side_hold_all_the_seed(seeds, spacing, width):
    rows = width / spacing
    assert seeds_in_row(seeds, spacing) * rows == pytest.approx(seeds * width)


@given(st.floats(1, 1000), st.floats(0.001, 1000), st.floats(0, 0.5))
def test_what_is_kept_back_leaves_what_was_needed(rate, area, spare):
    seed = seed_needed(rate, area, spare)
    kept = grain_to_keep_back(seed, cleaning_loss=0.15, reserve=0.25)
    assert kept * 0.85 / 1.25 == pytest.approx(seed, rel=1e-12)


@given(st.floats(0.001, 1e6), st.floats(1, 100))
def test_sacks_hold_the_seed_and_one_fewer_would_not(seed, sack):
    sacks = sacks_for(seed, sack)
    assert (sacks - 1) * sack < seed <= sacks * sack * (1 + 1e-8)
