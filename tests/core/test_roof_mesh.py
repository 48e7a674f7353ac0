"""A roof as a mesh: closed with its gables and its floor, each slope at its pitch.

Trimesh, which knows no roofs and no plan, measures triangles in space. What it finds is
held against the plan over the cosine.
"""

import numpy as np
import pytest
import trimesh
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import Polygon, constrained_delaunay_triangles

from core.test_roof import (
    COMB,
    T_PLAN,
    U_PLAN,
    convex_outlines,
    pitches,
    stars,
    turned,
    wings,
)
from sheafwright.core.errors import OutOfRange
from sheafwright.core.roof.slope import area_factor
from sheafwright.core.roof.surface import plan_areas, raise_roof, rings, slope_areas

CLOSE = 1e-6
SHAPES = {
    "rectangle": [(0, 0), (12, 0), (12, 7), (0, 7)],
    "L": [(0, 0), (12, 0), (12, 6), (6, 6), (6, 11), (0, 11)],
    "T": T_PLAN,
    "U": U_PLAN,
    "comb": COMB,
    "free": [(0, 0), (9, -1), (12, 5), (7, 9), (1, 6)],
}


def triangles(ring, flat):
    """A ring of nodes in triangles that go round as it does, by Shapely in a plane."""
    spots = {tuple(flat[node]): node for node in ring}
    shape = Polygon(flat[list(ring)])
    for part in constrained_delaunay_triangles(shape).geoms:
        alike = part.exterior.is_ccw == shape.exterior.is_ccw
        yield [spots[tuple(spot)] for spot in part.exterior.coords[:3]][
            :: 2 * alike - 1
        ]


def mesh_of(roof, corners):
    """The mesh of all that a roof closes in, and the plane of each of its triangles."""
    faces, planes = [], []
    for plane in range(len(roof.pitch)):
        for ring in rings(roof, plane):
            if len(ring) < 3:
                continue
            flat = roof.nodes[:, :2]
            if not roof.planes.run[plane]:
                along = roof.planes.normal[plane][::-1] * [1, -1]
                flat = np.column_stack([roof.nodes[:, :2] @ along, roof.nodes[:, 2]])
            found = list(triangles(ring, flat))
            faces += found
            planes += [plane] * len(found)
    floor = list(range(len(corners)))[::-1]
    faces += triangles(floor, roof.nodes[:, :2])
    planes += [-1] * (len(faces) - len(planes))
    mesh = trimesh.Trimesh(roof.nodes, faces, process=False)
    return mesh, np.array(planes)


def assert_is_one_closed_solid(roof, corners):
    """Its areas, its pitches and its floor are what the roof says of itself."""
    mesh, planes = mesh_of(roof, corners)
    assert mesh.is_watertight and mesh.is_winding_consistent
    assert mesh.euler_number == 2
    assert mesh.volume > 0
    slopes = np.flatnonzero(roof.planes.run)
    for plane in slopes:
        mine = planes == plane
        assert mesh.area_faces[mine].sum() == pytest.approx(
            slope_areas(roof)[plane], rel=CLOSE, abs=1e-5
        )
        up = mesh.face_normals[mine, 2][mesh.area_faces[mine] > 1e-4]
        np.testing.assert_allclose(up, np.cos(np.radians(roof.pitch[plane])), 1e-3)
    level = mesh.area_faces[planes == -1].sum()
    assert level == pytest.approx(plan_areas(roof)[slopes].sum(), rel=CLOSE)
    over = np.isin(planes, slopes)
    return mesh.area_faces[over].sum()


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("pitch", [40, 50, 60])
def test_each_usual_shape_has_its_plan_over_the_cosine(shape, pitch):
    corners = np.array(SHAPES[shape], dtype=float)
    area = assert_is_one_closed_solid(raise_roof(corners, pitch), corners)
    assert area == pytest.approx(Polygon(corners).area * area_factor(pitch))


@given(st.one_of(stars(), wings(), convex_outlines()), pitches)
@settings(max_examples=60, deadline=None)
def test_any_outline_of_one_pitch_has_its_plan_over_the_cosine(corners, pitch):
    area = assert_is_one_closed_solid(raise_roof(corners, pitch), corners)
    whole = Polygon(corners).area * area_factor(pitch)
    assert area == pytest.approx(whole, rel=CLOSE)


@given(st.one_of(stars(), wings(), convex_outlines()), st.data())
@settings(max_examples=60, deadline=None)
def test_any_outline_of_unequal_pitches_is_closed(corners, data):
    n = len(corners)
    each = data.draw(st.lists(pitches, min_size=n, max_size=n))
    assert_is_one_closed_solid(raise_roof(corners, each), corners)


@given(st.floats(6, 20), st.floats(4, 9), pitches, st.floats(0, 6), st.data())
@settings(max_examples=40, deadline=None)
def test_gables_and_half_hips_close_the_roof_too(length, width, pitch, by, data):
    assume(width < length)
    corners = turned([(0, 0), (length, 0), (length, width), (0, width)], by)
    ends = data.draw(st.lists(st.sampled_from(["gable", "half"]), min_size=2))[:2]
    each = [pitch, pitch, pitch, pitch]
    hip_from = np.zeros(4)
    for side, end in zip((1, 3), ends, strict=True):
        if end == "gable":
            each[side] = 90
        else:
            hip_from[side] = 0.3 * width * np.tan(np.radians(pitch))
    area = assert_is_one_closed_solid(raise_roof(corners, each, hip_from), corners)
    assert area == pytest.approx(length * width * area_factor(pitch))


def test_a_hole_in_the_roof_is_found_out():
    corners = np.array(SHAPES["L"], dtype=float)
    roof = raise_roof(corners, 50)
    mesh, planes = mesh_of(roof, corners)
    mesh.update_faces(planes != 2)
    assert not mesh.is_watertight


def test_what_is_no_roof_is_no_mesh():
    with pytest.raises(OutOfRange):
        raise_roof(np.array([(0, 0), (9, 6), (9, 0), (0, 6)], dtype=float), 50)
