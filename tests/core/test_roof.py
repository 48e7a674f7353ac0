"""A roof covers its outline once, rises as its sides say, and knows no direction.

Shapely, which knows no roofs, cuts and unites the faces, and draws outlines in.
"""

import numpy as np
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, box, unary_union

from sheafwright.core.errors import OutOfRange
from sheafwright.core.roof import outline
from sheafwright.core.roof.features import eyebrow_area, eyebrow_plan
from sheafwright.core.roof.slope import area_factor, rise
from sheafwright.core.roof.surface import (
    height,
    lengths,
    plan_areas,
    raise_roof,
    rings,
    sizes,
    slope_areas,
)

CELL, CLOSE = 2.0, 1e-6
T_PLAN = [(0, 0), (12, 0), (12, 6), (9, 6), (9, 11), (3, 11), (3, 6), (0, 6)]
U_PLAN = [(0, 0), (14, 0), (14, 10), (10, 10), (10, 4), (4, 4), (4, 10), (0, 10)]
DEEP_YARD = [(x if x < 10 else x - 2, 20 if y == 10 else y) for x, y in U_PLAN]
COMB = [
    *[(0, 0), (22, 0), (22, 9), (18, 9), (18, 4), (13, 4), (13, 9)],
    *[(9, 9), (9, 4), (4, 4), (4, 9), (0, 9)],
]
pitches = st.floats(40, 65)


@st.composite
def stars(draw, least=2.5):
    """Corners at their bearings round a middle, some of them turned inwards."""
    n = draw(st.integers(3, 14))
    steps = np.array(draw(st.lists(st.floats(0.4, 1), min_size=n, max_size=n)))
    bearing = 2 * np.pi * np.cumsum(steps) / steps.sum()
    far = np.array(draw(st.lists(st.floats(least, 8), min_size=n, max_size=n)))
    corners = np.column_stack([far * np.cos(bearing), far * np.sin(bearing)])
    whole = Polygon(corners)
    assume(whole.is_valid and whole.area > 5 and whole.exterior.is_ccw)
    return corners


@st.composite
def wings(draw, turn=True):
    """Squares set side by side: all their events come at once."""
    cells = [(0, 0)]
    for pick, (dx, dy) in draw(st.lists(st.tuples(
        st.integers(0, 30), st.sampled_from([(1, 0), (-1, 0), (0, 1), (0, -1)])
    ), min_size=2, max_size=14)):  # fmt: skip
        x, y = cells[pick % len(cells)]
        cells.append((x + dx, y + dy))
    whole = unary_union([box(x, y, x + 1, y + 1) for x, y in set(cells)]).simplify(0)
    assume(whole.geom_type == "Polygon" and not whole.interiors)
    ring = whole.exterior if whole.exterior.is_ccw else whole.exterior.reverse()
    corners = CELL * np.array(ring.coords)[:-1]
    # Squares that touch at a corner only make an outline that touches itself.
    assume(len(set(map(tuple, corners))) == len(corners))
    return turned(corners, draw(st.floats(0, 6)) if turn else 0)


@st.composite
def convex_outlines(draw):
    """Corners on a circle."""
    n = draw(st.integers(3, 9))
    steps = np.array(draw(st.lists(st.floats(0.3, 1), min_size=n, max_size=n)))
    bearing = 2 * np.pi * np.cumsum(steps) / steps.sum()
    return 6 * np.column_stack([np.cos(bearing), np.sin(bearing)])


def turned(corners, by):
    cos, sin = np.cos(by), np.sin(by)
    return np.asarray(corners) @ np.array([[cos, sin], [-sin, cos]])


def faces(roof):
    """Plane and plan of each part of each slope."""
    for plane in np.flatnonzero(roof.planes.run).tolist():
        for ring in rings(roof, plane):
            if len(ring) > 2:
                yield plane, Polygon(roof.nodes[list(ring), :2])


def assert_covers_once(roof, corners):
    parts = [face for _, face in faces(roof)]
    whole = Polygon(corners)
    assert all(part.is_valid for part in parts)
    assert sum(part.area for part in parts) == pytest.approx(whole.area, rel=CLOSE)
    # On a grid: without one Shapely loses parts that all but touch along a line.
    united = unary_union(parts, grid_size=1e-6)
    missed = united.symmetric_difference(whole, grid_size=1e-6).area
    assert missed < 1e-5 * whole.area


def height_at(roof, plane, point):
    """Height of a plane above a point, by the side that it rises from."""
    tail = roof.nodes[plane, :2]
    return roof.planes.normal[plane] @ (point - tail) / roof.planes.run[plane]


every_outline = st.one_of(stars(), wings())


@given(every_outline, pitches)
@settings(max_examples=80, deadline=None)
@example(np.array(T_PLAN), 50.0)
@example(np.array(U_PLAN), 50.0)
@example(np.array(COMB), 50.0)
def test_faces_of_one_pitch_cover_the_outline_once(corners, pitch):
    roof = raise_roof(corners, pitch)
    assert_covers_once(roof, corners)
    assert slope_areas(roof).sum() == pytest.approx(
        Polygon(corners).area * area_factor(pitch), rel=CLOSE
    )


@given(every_outline, st.data())
@settings(max_examples=80, deadline=None)
def test_faces_of_unequal_pitches_cover_the_outline_once(corners, data):
    n = len(corners)
    each = data.draw(st.lists(pitches, min_size=n, max_size=n))
    assert_covers_once(raise_roof(corners, each), corners)


@given(every_outline, pitches, st.data())
@settings(max_examples=60, deadline=None)
def test_gables_and_half_hips_hide_no_part_of_the_plan(corners, pitch, data):
    n = len(corners)
    kinds = st.sampled_from(["hip", "hip", "half", "gable"])
    ends = np.array(data.draw(st.lists(kinds, min_size=n, max_size=n)))
    pitch = np.where(ends == "gable", 90, pitch)
    try:
        roof = raise_roof(corners, pitch, np.where(ends == "half", 1.0, 0))
    except OutOfRange as error:
        # Some gables leave a roof that nothing closes, or slopes that leave one line.
        assume(not any(each in str(error) for each in ("never closes", "one line")))
        raise
    assert_covers_once(roof, corners)


@given(wings(turn=False), pitches, st.floats(0.05, 0.95))
@settings(max_examples=60, deadline=None)
@example(np.array(COMB), 50.0, 0.4)
def test_a_section_of_square_walls_is_what_no_square_on_them_reaches(
    corners, pitch, share
):
    roof = raise_roof(corners, pitch)
    by = share * height(roof) / rise(pitch)
    reached = [
        box(*np.minimum(a, b) - by, *np.maximum(a, b) + by)
        for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True)
    ]
    left = Polygon(corners).difference(unary_union(reached), grid_size=1e-7)
    assert area_above(roof, share * height(roof)) == pytest.approx(left.area, abs=1e-4)


@given(stars(least=5), pitches, st.floats(0.05, 0.95))
@settings(max_examples=60, deadline=None)
def test_a_section_of_slanting_walls_is_the_outline_drawn_in(corners, pitch, share):
    # At sharper corners Shapely bevels what it draws in.
    along = outline.directions(corners)
    turns = np.sum(np.roll(along, 1, 0) * along, axis=-1)
    assume(turns.min() > np.cos(np.radians(100)))
    roof = raise_roof(corners, pitch)
    level, steps = share * height(roof), 40
    drawn = Polygon(corners)
    for _ in range(steps):
        # Little by little: Shapely leaves out what is small beside one step.
        by = -level / rise(pitch) / steps
        drawn = drawn.buffer(by, join_style="mitre", mitre_limit=1e6)
    assert area_above(roof, level) == pytest.approx(
        drawn.area, abs=1e-4 * Polygon(corners).area
    )


def area_above(roof, level):
    """Plan of all that lies higher."""
    return sum(f.intersection(_beyond(roof, p, level)).area for p, f in faces(roof))


def _beyond(roof, plane, level):
    """Where a plane lies above a level: a half-plane, as far as matters."""
    into = roof.planes.normal[plane]
    tail = roof.nodes[plane, :2] + into * level * roof.planes.run[plane]
    along = 100 * np.array([into[1], -into[0]])
    return Polygon([tail - along, tail + along, tail + along + 100 * into,
                    tail - along + 100 * into])  # fmt: skip


@given(convex_outlines(), st.data())
@settings(max_examples=60, deadline=None)
def test_over_a_convex_outline_the_lowest_plane_is_the_roof(corners, data):
    n = len(corners)
    roof = raise_roof(corners, data.draw(st.lists(pitches, min_size=n, max_size=n)))
    weights = np.array(data.draw(st.lists(st.floats(0.1, 1), min_size=n, max_size=n)))
    point = weights @ corners / weights.sum()
    heights = [height_at(roof, plane, point) for plane in range(n)]
    found = [p for p, face in faces(roof) if face.distance(Point(point)) < CLOSE]
    assert found
    assert heights[found[0]] == pytest.approx(min(heights), abs=1e-5)


@given(every_outline, st.data())
@settings(max_examples=60, deadline=None)
def test_every_line_lies_in_both_of_its_planes(corners, data):
    n = len(corners)
    roof = raise_roof(corners, data.draw(st.lists(pitches, min_size=n, max_size=n)))
    for arc in roof.arcs:
        for plane in filter(lambda p: p >= 0, (arc.left, arc.right)):
            for node in (arc.tail, arc.head):
                point = roof.nodes[node]
                assert height_at(roof, plane, point[:2]) == pytest.approx(
                    point[2], abs=1e-5
                )


@given(wings(), pitches)
@settings(max_examples=40, deadline=None)
def test_ridges_between_walls_side_by_side_are_level(corners, pitch):
    roof = raise_roof(corners, pitch)
    ridges = [arc for arc in roof.arcs if arc.kind == "ridge"]
    for arc in ridges:
        assert roof.nodes[arc.tail, 2] == pytest.approx(roof.nodes[arc.head, 2])
        facing = roof.planes.normal[arc.left] @ roof.planes.normal[arc.right]
        assert facing == pytest.approx(-1)


@given(every_outline, pitches)
@settings(max_examples=60, deadline=None)
def test_rain_runs_down_each_face_to_its_own_eaves(corners, pitch):
    # Whatever the place along the eaves, a face has one stretch up from there.
    roof = raise_roof(corners, pitch)
    along = outline.directions(corners)
    for plane in range(len(corners)):
        ((*ring,),) = rings(roof, plane)
        moves = np.diff(roof.nodes[[*ring, ring[0]], :2] @ along[plane])
        signs = np.sign(moves[np.abs(moves) > 1e-6])
        assert np.count_nonzero(signs != np.roll(signs, 1)) == 2


@given(every_outline, st.data(), st.floats(0, 6), st.floats(0.5, 3), st.booleans())
@settings(max_examples=60, deadline=None)
def test_a_roof_knows_no_direction_and_no_size(corners, data, by, times, mirrored):
    n = len(corners)
    each = np.array(data.draw(st.lists(pitches, min_size=n, max_size=n)))
    there = times * turned(corners, by) + [300, -200]
    other = each
    if mirrored:
        # The corners go round the other way, side k from what was corner n - k - 1.
        there, other = (there * [1, -1])[::-1], np.roll(each[::-1], -1)
    one, two = sizes(corners, each), sizes(there, other)
    # What falls by all but the angle between a ridge and a hip may be called either.
    one[1], two[1] = one[1] + one[2], two[1] + two[2]
    scaled = one * [times**2, *[times] * 6]
    np.testing.assert_allclose(np.delete(two, 2), np.delete(scaled, 2), 1e-5, 1e-4)


@given(every_outline, pitches)
@settings(max_examples=40, deadline=None)
def test_a_steeper_roof_is_higher_and_its_plan_the_same(corners, pitch):
    low, high = (raise_roof(corners, each) for each in (pitch, pitch + 5))
    assert height(high) / rise(pitch + 5) == pytest.approx(height(low) / rise(pitch))
    np.testing.assert_allclose(plan_areas(high), plan_areas(low), atol=1e-4)


def test_a_corner_that_is_straight_changes_nothing():
    plain = [(0, 0), (12, 0), (12, 7), (0, 7)]
    more = [(0, 0), (5, 0), (12, 0), (12, 7), (0, 7)]
    np.testing.assert_allclose(sizes(more, 50), sizes(plain, 50))


def test_a_roof_within_a_circle_of_many_sides_is_nearly_a_cone():
    turn = np.linspace(0, 2 * np.pi, 60, endpoint=False)
    area, ridge, *_ = sizes(3 * np.column_stack([np.cos(turn), np.sin(turn)]), 50)
    assert area == pytest.approx(np.pi * 9 * area_factor(50), rel=0.002)
    assert ridge == 0


def test_walls_all_but_side_by_side_make_a_ridge_that_falls_a_little():
    ridge, hips, *_ = lengths(raise_roof([(0, 0), (12, 0), (12, 6), (0, 7)], 50))
    assert ridge == pytest.approx(12 - 3 - 3.5, abs=0.2)
    assert hips > 0


def test_a_half_hip_that_begins_above_the_ridge_is_a_gable():
    plain = [(0, 0), (12, 0), (12, 7), (0, 7)]
    gabled = sizes(plain, [50, 90, 50, 90])
    np.testing.assert_allclose(sizes(plain, 50, [0, 5, 0, 5]), gabled)
    nearly = sizes(plain, 50, [0, 4.17, 0, 4.17])
    np.testing.assert_allclose(nearly, gabled, atol=0.01)


def test_an_eyebrow_all_but_flat_is_its_plan_over_the_cosine():
    area, plan = (f(2.4, 1e-4, 40, 50) for f in (eyebrow_area, eyebrow_plan))
    assert area / plan == pytest.approx(area_factor(40), rel=1e-6)


def test_ends_are_where_gables_would_stand():
    def found(corners):
        return np.flatnonzero(outline.ends(corners)).tolist()

    assert found([(0, 0), (12, 0), (12, 7), (0, 7)]) == [1, 3]
    assert found([(0, 0), (7, 0), (7, 12), (0, 12)]) == [0, 2]
    assert found([(0, 0), (6, 0), (6, 6), (0, 6)]) == [1, 3]
    assert found(T_PLAN) == [1, 4, 7]
    assert found(U_PLAN) == [2, 6]
    # The back of a deep yard is no end, though it is shorter than the wings.
    assert found(DEEP_YARD) == [2, 6]
    assert found([(0, 0), (9, 0), (4, 7)]) == []


@given(every_outline, st.tuples(st.floats(-9, 9), st.floats(-9, 9)))
@settings(max_examples=80, deadline=None)
def test_a_point_is_within_or_not_as_another_library_says(corners, point):
    whole, spot = Polygon(corners), Point(point)
    away = whole.exterior.distance(spot)
    assume(away > CLOSE)
    assert outline.holds(corners, [point])[0] == whole.contains(spot)
    assert outline.away(corners, [point])[0] == pytest.approx(away)


@given(
    st.lists(st.tuples(st.integers(0, 6), st.integers(0, 6)), min_size=4, max_size=8)
)
@settings(max_examples=150, deadline=None)
def test_an_outline_crosses_itself_or_not_as_another_library_says(corners):
    corners = np.array(corners, dtype=float)
    assume((np.roll(corners, -1, axis=0) != corners).any(axis=1).all())
    assert (outline.crossing(corners) is None) == Polygon(corners).is_valid


REFUSED = {
    "at least 3": ([(0, 0), (9, 0)], 50),
    "one point": ([(0, 0), (9, 0), (9, 0), (9, 6)], 50),
    "side 1 meets side 3": ([(0, 0), (9, 6), (9, 0), (0, 6)], 50),
    "clockwise": ([(0, 0), (0, 6), (9, 6), (9, 0)], 50),
    "never closes": ([(0, 0), (9, 0), (9, 6), (0, 6)], 90),
    "sides 1 and 2 go on from one line": (
        [(0, 0), (4, 0), (9, 0), (9, 6), (0, 6)],
        [50, 40, 50, 50, 50],
    ),
}


@pytest.mark.parametrize("part", REFUSED)
def test_an_impossible_roof_is_refused_in_a_sentence(part):
    with pytest.raises(OutOfRange, match=part) as caught:
        raise_roof(*REFUSED[part])
    assert str(caught.value).endswith(".")
