"""A roof seen from one side: what lies before what, exactly.

Cut by upright planes along the view, a roof is a row of straight stretches, and which
is nearer is plain. Between two cuts with no point and no crossing between them that
order stays, so what is seen is found strip by strip, the nearest stretch first.
"""

import itertools
from typing import NamedTuple

import numpy as np

from sheafwright.core.roof.surface import half_edges, rings

HAIR = 1e-6
"""[m]"""


class Part(NamedTuple):
    """What is seen of a face."""

    plane: int
    corners: np.ndarray
    """Across the view and up, shape (point, 2). [m]"""


class Line(NamedTuple):
    """A part of an arc that is seen."""

    kind: str
    ends: np.ndarray
    """Across the view and up, shape (2, 2). [m]"""


def turned(points, into):
    """Points as they are seen: across to the right, away, and up, shape (..., 3). [m]

    Parameters
    ----------
    points : array_like, shape (..., 3)
        [m]
    into : ndarray, shape (2,)
        Unit vector along which it is looked.
    """
    points = np.asarray(points, dtype=float)
    right = np.array([into[1], -into[0]])
    level = points[..., :2]
    return np.stack([level @ right, level @ into, points[..., 2]], axis=-1)


def cuts(seen, arcs):
    """Where across the view nothing but straight stretches lies between. [m]

    Parameters
    ----------
    seen : ndarray, shape (node, 3)
        `turned` nodes. [m]
    arcs : sequence of Arc
    """
    found = list(seen[:, 0])
    flat = seen[:, [0, 2]]
    for one, other in itertools.combinations(arcs, 2):
        a, b, c, d = flat[[one.tail, one.head, other.tail, other.head]]
        across = np.linalg.det([b - a, d - c])
        if abs(across) > HAIR:
            share = np.linalg.det([c - a, d - c]) / across
            if 0 < share < 1:
                found.append(a[0] + share * (b - a)[0])
    found = np.sort(found)
    return found[np.append(True, np.diff(found) > HAIR)]


def parts(roof, seen, where):
    """Every `Part` of slopes and walls.

    Parameters
    ----------
    roof : Roof
    seen : ndarray, shape (node, 3)
        `turned` nodes. [m]
    where : ndarray, shape (cut,)
        `cuts`. [m]
    """
    begun = []
    for left, right in itertools.pairwise(where):
        strip = list(_of_strip(roof, seen, left, right))
        begun, ended = _continued(begun, strip)
        yield from map(_closed, ended)
    yield from map(_closed, begun)


def _of_strip(roof, seen, left, right):
    """What is seen between two cuts: plane, and its lower and upper line."""
    found = [
        stretch
        for plane in range(len(roof.pitch))
        for stretch in _of_plane(roof, seen, plane, left, right)
    ]
    covered = None
    for plane, low, high, _ in sorted(found, key=lambda each: each[3]):
        below = low if covered is None else np.maximum(low, covered)
        if (high - below)[:, 1].sum() > HAIR:
            yield plane, [*below], [*high]
        covered = high if covered is None else np.maximum(high, covered)


def _continued(begun, strip):
    """Parts begun before with what goes on from them; and those that have ended."""
    ended = list(begun)
    onward = []
    for plane, low, high in strip:
        for part in ended:
            on = part[0] == plane and _meets(part[1], low) and _meets(part[2], high)
            if on:
                ended.remove(part)
                low, high = [*part[1], low[1]], [*part[2], high[1]]
                break
        onward.append((plane, low, high))
    return onward, ended


def _meets(line, onward):
    return abs(line[-1][1] - onward[0][1]) <= HAIR


def _closed(part):
    plane, low, high = part
    return Part(plane, np.array([*low, *high[::-1]]))


def _of_plane(roof, seen, plane, left, right):
    """Stretches of one plane between two cuts: itself, lower and upper line, depth.

    Those of a wall are parted by height, those of a slope by depth.
    """
    by = 1 if roof.planes.run[plane] else 2
    edges = []
    for ring in rings(roof, plane):
        for tail, head in zip(ring, (*ring[1:], ring[0]), strict=True):
            a, b = sorted(seen[[tail, head]].tolist())
            if a[0] <= left + HAIR and b[0] >= right - HAIR and b[0] - a[0] > HAIR:
                edges.append([_at(a, b, left), _at(a, b, right)])
    edges.sort(key=lambda edge: edge[0][by] + edge[1][by])
    for one, other in zip(edges[::2], edges[1::2], strict=False):
        both = np.array([one, other])
        low, high = np.sort(both[..., 2], axis=0)
        across = both[0, :, 0]
        depth = float(both[..., 1].mean())
        yield (
            plane,
            np.column_stack([across, low]),
            np.column_stack([across, high]),
            depth,
        )


def _at(a, b, across):
    a, b = np.array(a), np.array(b)
    return a + (b - a) * (across - a[0]) / (b[0] - a[0])


def lines(roof, seen, where, kinds):
    """Every `Line` that is seen, the nearest last.

    Parameters
    ----------
    roof, seen, where
        As `parts` has them.
    kinds : collection of str
        Of arcs, to be drawn.
    """
    kept = [arc for arc in roof.arcs if arc.kind in kinds]
    kept.sort(key=lambda arc: -seen[[arc.tail, arc.head], 1].mean())
    for arc in kept:
        a, b = sorted(seen[[arc.tail, arc.head]].tolist())
        if b[0] - a[0] <= HAIR:
            if any(_is_seen(roof, seen, a, b, a[0] + by) for by in (-HAIR, HAIR)):
                yield Line(arc.kind, np.array([a, b])[:, [0, 2]])
            continue
        inner = where[(where > a[0] + HAIR) & (where < b[0] - HAIR)]
        stops = [a[0], *inner, b[0]]
        for left, right in _shown(roof, seen, a, b, stops):
            ends = np.array([_at(a, b, left), _at(a, b, right)])
            yield Line(arc.kind, ends[:, [0, 2]])


def _shown(roof, seen, a, b, stops):
    """Where a line is seen from and to, across the view."""
    begins = None
    for left, right in itertools.pairwise(stops):
        if _is_seen(roof, seen, a, b, (left + right) / 2):
            begins = left if begins is None else begins
        elif begins is not None:
            yield begins, left
            begins = None
    if begins is not None:
        yield begins, stops[-1]


def _is_seen(roof, seen, a, b, across):
    """Whether no nearer part of the roof is higher than a line's point."""
    if b[0] - a[0] <= HAIR:
        point = (np.array(a) + np.array(b)) / 2
    else:
        point = _at(a, b, across)
    return point[2] >= highest_before(roof, seen, across, point[1] - HAIR) - 10 * HAIR


def highest_before(roof, seen, across, depth):
    """Highest point of the roof at one place across the view, nearer than a depth. [m]

    Parameters
    ----------
    roof, seen
        As `parts` has them.
    across, depth : float
        [m]
    """
    highest = -np.inf
    for _, tail, head in half_edges(roof):
        a, b = sorted(seen[[tail, head]].tolist())
        if a[0] <= across <= b[0] and b[0] - a[0] > HAIR:
            at = _at(a, b, across)
            if at[1] < depth:
                highest = max(highest, at[2])
    return highest


def hull(points):
    """Corners of the convex outline round points in a plane, anticlockwise.

    Parameters
    ----------
    points : array_like, shape (point, 2)
    """
    points = sorted(set(map(tuple, np.asarray(points, dtype=float).tolist())))
    return np.array([*_half(points), *_half(points[::-1])])


def _half(points):
    kept = []
    for point in points:
        while len(kept) > 1 and _turns_right(kept[-2], kept[-1], point):
            kept.pop()
        kept.append(point)
    return kept[:-1]


def _turns_right(a, b, c):
    return (b[0] - a[0]) * (c[1] - a[1]) <= (b[1] - a[1]) * (c[0] - a[0])
