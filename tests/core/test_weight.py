"""Drying takes water and leaves dry matter."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.moisture.weight import dry_matter, weight_at

moistures = st.floats(0, 0.9)
weights = st.floats(0, 1e6)


@given(weights, moistures, moistures)
def test_dry_matter_stays_whatever_the_moisture(weight, moisture, wanted):
    dried = weight_at(weight, moisture, wanted)
    assert dry_matter(dried, wanted) == pytest.approx(dry_matter(weight, moisture))


@given(weights, moistures)
def test_at_its_own_moisture_a_weight_is_what_it_was(weight, moisture):
    assert weight_at(weight, moisture, moisture) == pytest.approx(weight)
