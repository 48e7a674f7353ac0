"""A rick's room is that of its solid, however it is reckoned, and it only sinks."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.inputs.rick import Settling
from sheafwright.core.rick.shape import (
    days_to_settle,
    hipped_ridge,
    oblong_volume,
    room_for,
    round_plan,
    round_volume,
    settled_height,
    sheaves_in,
    slope_factor,
)

sizes = st.floats(0.5, 20)
SETTLING = Settling(share=0.1, time_constant=10)
CELLS = 1000
"""A side is cut into so many, to add a solid up from columns."""


def middles(length):
    return (np.arange(CELLS) + 0.5) * length / CELLS


@pytest.mark.parametrize("size", [(10, 6, 3, 2.5), (7, 7, 1, 4), (14, 5, 0, 3)])
def test_a_hipped_rick_is_the_sum_of_its_columns(size):
    length, width, eaves, top = size
    x, y = np.meshgrid(middles(length), middles(width))
    to_edge = np.minimum.reduce([x, length - x, y, width - y])
    height = eaves + top * to_edge / (width / 2)
    ours = oblong_volume(length, width, eaves, top, hipped_ridge(length, width))
    assert ours == pytest.approx(height.mean() * length * width, rel=1e-4)


def test_a_round_rick_is_the_sum_of_its_rings():
    radius, eaves, top = 3.0, 2.5, 3.5
    r = middles(radius)
    rings = 2 * np.pi * r * (eaves + top * (1 - r / radius)) * radius / CELLS
    assert round_volume(2 * radius, eaves, top) == pytest.approx(rings.sum(), rel=1e-4)


# Tops of one pitch, by their plan: worked apart. [m, m, °, m²]
TOPS = [
    (12, 7, 50, 130.6808),
    (10, 6, 45, 84.8528),
    (10, 5, 55, 87.1723),
    (14, 8, 47.5, 165.7810),
]


@pytest.mark.parametrize(("length", "width", "pitch", "area"), TOPS)
def test_the_area_of_a_top_is_its_plan_by_its_slope(length, width, pitch, area):
    rise = width / 2 * np.tan(np.radians(pitch))
    ours = length * width * slope_factor(rise, width / 2)
    assert ours == pytest.approx(area, abs=5e-5)


@given(sizes, sizes)
def test_a_cone_is_its_plan_by_its_slope_too(diameter, top):
    slant = np.hypot(diameter / 2, top)
    ours = round_plan(diameter) * slope_factor(top, diameter / 2)
    assert ours == pytest.approx(np.pi * diameter / 2 * slant)


# Rules of the tape thrown over a haystack, over O, width W, length L, round C: from
# memory, W. H. Hosterman, USDA Technical Bulletin 239, 1931. Real stacks bulge.
def test_the_tape_finds_about_a_tenth_more_in_stacks_that_bulge():
    over = 2 * (3 + np.hypot(3, 3))
    tape = (0.04 * over - 0.012 * np.pi * 6) * (np.pi * 6) ** 2
    assert 1.0 < tape / round_volume(6, 3, 3) < 1.2
    over = 2 * (3 + np.hypot(2.5, 3))
    tape = (0.52 * over - 0.44 * 5) * 5 * 8
    assert 1.0 < tape / oblong_volume(8, 5, 3, 3, 8) < 1.2


@given(sizes, sizes, sizes, sizes)
def test_a_hipped_top_holds_no_more_than_a_gabled_one(a, b, eaves, top):
    width, length = sorted([a, b])
    hipped, gabled = (
        oblong_volume(length, width, eaves, top, ridge)
        for ridge in (hipped_ridge(length, width), length)
    )
    assert length * width * eaves <= hipped <= gabled * (1 + 1e-12)


@given(sizes, sizes, sizes, st.floats(0.1, 10))
def test_twice_the_size_is_eight_times_the_room(diameter, eaves, top, times):
    grown = round_volume(times * diameter, times * eaves, times * top)
    assert grown == pytest.approx(times**3 * round_volume(diameter, eaves, top))


@given(st.floats(0, 5000), st.floats(60, 250), st.floats(4, 14))
def test_sheaves_fill_the_room_that_they_need(sheaves, density, sheaf):
    room = room_for(sheaves, density, sheaf)
    assert sheaves_in(room, density, sheaf) == pytest.approx(sheaves)


@given(st.floats(0, 300), st.floats(0, 300))
def test_a_rick_only_sinks_and_never_by_more_than_its_share(days, more):
    now, later = settled_height(np.array([days, days + more]), SETTLING)
    assert 1 >= now >= later >= 1 - SETTLING.share


@given(st.floats(0, 60))
def test_the_day_of_a_height_is_found_again(days):
    height = float(settled_height(days, SETTLING))
    assert days_to_settle(height, SETTLING) == pytest.approx(days, abs=1e-6)
