"""The surface of a roof over an outline: its faces, its lines, its height.

Faces and lines are of slopes that rise from the sides of the outline, each at its own
pitch; a side of 90° bears a gable, and one may be cut off by a half-hip.
"""

from typing import NamedTuple

import numpy as np

from sheafwright.core.errors import OutOfRange
from sheafwright.core.roof import outline
from sheafwright.core.roof.slope import area_factor, run
from sheafwright.core.roof.wavefront import (
    ABUTMENT,
    EAVES,
    HIP,
    RIDGE,
    VALLEY,
    VERGE,
    Arc,
    Planes,
    rise_over,
)

LINES = (RIDGE, HIP, VALLEY, EAVES, VERGE, ABUTMENT)
NEARLY_LEVEL = np.sin(np.radians(20))
"""Slopes that face each other so nearly meet in a ridge, though it falls a little."""
CLOSES = 1e-6
"""Share of the plan by which the faces may miss it."""


class Roof(NamedTuple):
    """What `raise_roof` makes."""

    nodes: np.ndarray
    """Corners of the outline, then all other points, shape (node, 3). [m]"""
    arcs: tuple[Arc, ...]
    """Every line, those of the outline too."""
    planes: Planes
    pitch: np.ndarray
    """Of each plane. [°]"""


def raise_roof(corners, pitch, hip_from=0.0):
    """The `Roof` over an outline.

    Parameters
    ----------
    corners : array_like, shape (corner, 2)
        Of the eaves, anticlockwise. [m]
    pitch : array_like, shape (side,) or ()
        90 bears a gable. [°]
    hip_from : array_like, shape (side,) or ()
        Height up to which a side bears a gable, and its pitch only above. [m]
    """
    corners = np.asarray(corners, dtype=float)
    outline.check(corners)
    if outline.signed_area(corners) < 0:
        raise OutOfRange("The corners go clockwise; they should go anticlockwise.")
    pitch = np.broadcast_to(np.asarray(pitch, dtype=float), len(corners))
    hip_from = np.broadcast_to(np.asarray(hip_from, dtype=float), len(corners))
    # Away from the origin the last digits of a grid reference would be lost.
    middle = corners.mean(axis=0)
    planes, pitches, turns = _planes(corners - middle, pitch, hip_from)
    nodes, arcs = rise_over(corners - middle, planes, turns)
    roof = Roof(
        nodes=nodes + np.append(middle, 0.0),
        arcs=_joined(_named((*_base(planes, len(corners)), *arcs), planes, nodes)),
        planes=planes,
        pitch=pitches,
    )
    _check_closed(roof, outline.signed_area(corners))
    return roof


def _planes(corners, pitch, hip_from):
    """Planes of sides, and of half-hips; their pitches; walls that become slopes."""
    hipped = np.flatnonzero((hip_from > 0) & (pitch < 90))
    walls = pitch.copy()
    walls[hipped] = 90
    side = np.concatenate([np.arange(len(corners)), hipped])
    into = outline.inward(outline.directions(corners))
    pitches = np.concatenate([walls, pitch[hipped]])
    planes = Planes(
        normal=into[side],
        level=np.sum(into * corners, axis=-1)[side],
        run=run(pitches),
        start=np.concatenate([np.zeros(len(corners)), hip_from[hipped]]),
        side=side,
    )
    turns = {
        int(each): (float(hip_from[each]), len(corners) + n)
        for n, each in enumerate(hipped)
    }
    return planes, pitches, turns


def _base(planes, n):
    """Lines of the outline; below a wall there are no eaves."""
    for k in range(n):
        kind = EAVES if planes.run[k] else ""
        yield Arc(kind, k, (k + 1) % n, k, -1)


def _named(arcs, planes, nodes):
    """With hips of slopes that all but face each other as ridges."""
    n = int(planes.side.max()) + 1
    for arc in arcs:
        if arc.kind == HIP:
            one, other = planes.normal[[arc.left, arc.right]]
            apart = (planes.side[arc.right] - planes.side[arc.left]) % n
            facing = one @ other < 0 and outline.cross(one, other) < NEARLY_LEVEL
            if facing and apart not in (1, n - 1):
                yield arc._replace(kind=RIDGE)
                continue
        yield arc


def _joined(arcs):
    """With arcs that only go on from one another as one."""
    arcs = list(arcs)
    touched = {}
    for arc in arcs:
        for node in (arc.tail, arc.head):
            touched.setdefault(node, []).append(arc)
    after = {}
    for node, (one, *others) in touched.items():
        if len(others) == 1 and _goes_on(one, others[0]):
            first, second = sorted((one, others[0]), key=lambda a: a.tail == node)
            after[first] = second
    later = set(after.values())
    return tuple(_whole(arc, after) for arc in arcs if arc not in later)


def _goes_on(one, other):
    alike = (one.kind, *one[3:]) == (other.kind, *other[3:])
    return alike and (one.head == other.tail or one.tail == other.head)


def _whole(arc, after):
    last = arc
    while last in after:
        last = after[last]
    return arc._replace(head=last.head)


def _check_closed(roof, plan):
    areas = plan_areas(roof)
    if abs(areas.sum() - plan) > CLOSES * plan or areas.min() < -CLOSES * plan:
        raise OutOfRange("No roof was found over this outline with these pitches.")


def half_edges(roof):
    """Every arc as its faces have it, anticlockwise: plane, from node, to node."""
    for arc in roof.arcs:
        yield arc.left, arc.tail, arc.head
        if arc.right >= 0:
            yield arc.right, arc.head, arc.tail


def plan_areas(roof):
    """Area of the plan below each plane, 0 for a wall. [m²]

    Parameters
    ----------
    roof : Roof
    """
    areas = np.zeros(len(roof.pitch))
    middle = roof.nodes[:, :2].mean(axis=0)
    for plane, tail, head in half_edges(roof):
        one, other = roof.nodes[[tail, head], :2] - middle
        areas[plane] += outline.cross(one, other) / 2
    return areas


def slope_areas(roof):
    """Area of each slope, 0 for a wall. [m²]

    Parameters
    ----------
    roof : Roof
    """
    walls = roof.planes.run == 0
    factor = area_factor(np.where(walls, 0.0, roof.pitch))
    return np.where(walls, 0.0, plan_areas(roof) * factor)


def arc_lengths(roof):
    """Length of each of a roof's arcs, shape (arc,). [m]

    Parameters
    ----------
    roof : Roof
    """
    ends = np.array([(arc.tail, arc.head) for arc in roof.arcs])
    return np.linalg.norm(roof.nodes[ends[:, 1]] - roof.nodes[ends[:, 0]], axis=-1)


def lengths(roof):
    """Length of each of ``LINES``, in their order. [m]

    Parameters
    ----------
    roof : Roof
    """
    kinds = np.array([arc.kind for arc in roof.arcs])
    each = arc_lengths(roof)
    return np.array([each[kinds == kind].sum() for kind in LINES])


def height(roof):
    """Height of the highest ridge above the eaves. [m]

    Parameters
    ----------
    roof : Roof
    """
    return roof.nodes[:, 2].max()


def rings(roof, plane):
    """Nodes round each part of one face, anticlockwise: most have one part.

    Parameters
    ----------
    roof : Roof
    plane : int
    """
    onward = {}
    for which, tail, head in half_edges(roof):
        if which == plane:
            onward.setdefault(tail, []).append(head)
    found = []
    while onward:
        found.append(_walk(onward))
    return found


def _walk(onward):
    """One ring out of {node: nodes after it}, which it uses up."""
    start = node = min(onward)
    walked = []
    while node in onward:
        walked.append(node)
        after = onward[node].pop()
        if not onward[node]:
            del onward[node]
        node = after
        if node == start:
            break
    return tuple(walked)


def sizes(corners, pitch, hip_from=0.0):
    """A roof's slopes, ridge, hips, valleys, eaves, verges and rise. [m², then m]

    Parameters
    ----------
    corners, pitch, hip_from : array_like
        As `raise_roof` has them.
    """
    roof = raise_roof(corners, pitch, hip_from)
    return np.array([slope_areas(roof).sum(), *lengths(roof)[:5], height(roof)])
