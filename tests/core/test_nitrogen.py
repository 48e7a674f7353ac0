"""Bands and indices agree, and richer ground never counts as poorer."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.soil.nitrogen import (
    Supply,
    beside_sound,
    index_of,
    manure_nitrogen,
    supply_of,
)
from sheafwright.feeds import nitrogen

BANDS, SOUND = nitrogen.index_bands(), nitrogen.sound_supply()
INDICES = np.arange(7)


def test_bands_follow_one_another_without_holes():
    low, high = supply_of(INDICES, BANDS)
    np.testing.assert_array_equal(low[1:], high[:-1])
    assert (high > low).all()


@pytest.mark.parametrize("index", INDICES)
def test_a_supply_within_a_band_has_its_index(index):
    low, high = supply_of(index, BANDS)
    assert index_of(np.linspace(low + 1, high, 5), BANDS).tolist() == [index] * 5


@given(st.floats(0, 300), st.floats(0, 100), st.floats(0, 100))
def test_more_supply_is_never_called_poorer(low, width, more):
    here = Supply(low, low + width)
    richer = Supply(low + more, low + width + more)
    assert beside_sound(richer, SOUND) >= beside_sound(here, SOUND)


@pytest.mark.parametrize(("dressing", "rich_from"), [(0, 3), (5, 2), (30, 2), (40, 1)])
def test_ground_is_too_rich_from_index_three_or_two_where_it_is_manured(
    dressing, rich_from
):
    of_manure = manure_nitrogen(dressing, nitrogen.cattle_manure())
    supply = Supply(*(end + of_manure for end in supply_of(INDICES, BANDS)))
    too_rich = beside_sound(supply, SOUND) == 1
    assert np.flatnonzero(too_rich).tolist() == list(range(rich_from, 7))
