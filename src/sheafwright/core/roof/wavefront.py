"""How a roof rises: at each height a section of what still lies above.

Every side of the outline bears a slope, or a wall, and the section's sides draw in as
it rises. Where one has shrunk to nothing, or a corner that points inwards meets a side
across, the section parts or closes: a straight skeleton, its sides each of their own
pitch. Whatever meets at one height is settled at once, as one drawing of lines: what
lies on itself is a ridge, and the rest goes round in loops again.
"""

import dataclasses
import itertools
from typing import NamedTuple

import numpy as np

from sheafwright.core.errors import OutOfRange
from sheafwright.core.roof.outline import FLAT, cross, crossings

RIDGE, HIP, VALLEY, EAVES, VERGE = "ridge", "hip", "valley", "eaves", "verge"
ABUTMENT, SEAM, CORNER = "abutment", "seam", "corner"
"""Where a slope meets a wall that rises on; lines that nobody sees; and of walls."""
STILL = 1e-12
"""What moves no faster does not move. [1]"""


class Planes(NamedTuple):
    """Slopes and walls; those of the outline's sides first, in their order."""

    normal: np.ndarray
    """Level, square to the side, inwards, shape (plane, 2). [1]"""
    level: np.ndarray
    """How far along it the side lies. [m]"""
    run: np.ndarray
    """Level run for each metre of rise; 0 is a wall. [1]"""
    start: np.ndarray
    """Height at which it begins. [m]"""
    side: np.ndarray
    """Of the outline, that it belongs to."""

    def at(self, which, height):
        """How far along their normals planes lie at a height. [m]"""
        return self.level[which] + self.run[which] * (height - self.start[which])


class Arc(NamedTuple):
    """A line where two planes meet; the left one has it on its way anticlockwise."""

    kind: str
    tail: int
    """Node where it begins, the lower one."""
    head: int
    left: int
    right: int
    """Planes."""


class Loop(NamedTuple):
    """A section at one height, anticlockwise."""

    planes: np.ndarray
    """Of each side."""
    nodes: np.ndarray
    """Where each side begins."""
    height: float


@dataclasses.dataclass
class Rising:
    """What a roof has come to so far."""

    planes: Planes
    turns: dict
    """Wall to the height at which it becomes a slope, and that plane."""
    tolerance: float
    """Points no further apart are one. [m]"""
    nodes: list
    arcs: list


def rise_over(corners, planes, turns):
    """Nodes (node, 3), the corners first, and arcs of the roof over an outline.

    Parameters
    ----------
    corners : ndarray, shape (corner, 2)
        Anticlockwise. [m]
    planes : Planes
    turns : dict
        As `Rising` has it.
    """
    n, extent = len(corners), np.ptp(corners, axis=0).max()
    nodes = [(*corner, 0.0) for corner in corners.tolist()]
    rising = Rising(planes, turns, 1e-7 * extent, nodes, [])
    waiting = [Loop(np.arange(n), np.arange(n), 0.0)]
    # A corner that points inwards parts a section once, a side is lost once.
    for _ in range(8 * len(planes.run)):
        if not waiting:
            return np.array(rising.nodes), tuple(rising.arcs)
        waiting.extend(_step(rising, waiting.pop()))
    raise OutOfRange("No roof was found over this outline with these pitches.")


def _step(rising, loop):
    """The loops that are left of one at the next height where anything happens."""
    before = np.roll(loop.planes, 1)
    _check_flat(rising.planes, before, loop.planes)
    where = np.array([rising.nodes[node][:2] for node in loop.nodes])
    height = loop.height + _next_rise(rising, loop, before, where)
    turning = [rising.turns[p][0] for p in loop.planes.tolist() if p in rising.turns]
    height = min([height, *(each for each in turning if each > loop.height)])
    if not np.isfinite(height):
        raise OutOfRange("The roof never closes: more of its sides should slope.")
    where = _corners_at(rising.planes, before, loop.planes, where, loop.height, height)
    same = _same(where, rising.tolerance)
    first = len(rising.nodes)
    found = sorted(set(same.tolist()))
    rising.nodes.extend((*where[each].tolist(), height) for each in found)
    numbers = np.array([first + found.index(each) for each in same.tolist()])
    _trace(rising, loop, before, numbers)
    pieces = _pieces(rising, loop, numbers, first)
    return _loops(rising, _turned(rising, _ridged(rising, pieces), height), height)


def _turn(planes, before, after):
    """Sine of the turn from one plane's side to the other's: above 0, a convex one."""
    return cross(planes.normal[before], planes.normal[after])


def _check_flat(planes, before, after):
    """Refuse slopes of two pitches that would go on from one line."""
    flat = np.abs(_turn(planes, before, after)) <= FLAT
    apart = np.abs(planes.run[before] - planes.run[after]) > FLAT
    against = np.sum(planes.normal[before] * planes.normal[after], axis=-1) < 0
    if len(wrong := np.flatnonzero(flat & (apart | against))):
        first, second = planes.side[before[wrong[0]]], planes.side[after[wrong[0]]]
        raise OutOfRange(
            "The slopes of sides {first} and {second} go on from one line, so they "
            "should have the same pitch.",
            first=int(min(first, second)) + 1,
            second=int(max(first, second)) + 1,
        )


def _speeds(planes, before, after):
    """Level movement of corners for each metre of rise, shape (corner, 2). [1]"""
    turn = _turn(planes, before, after)
    flat = np.abs(turn) <= FLAT
    run, normal = planes.run, planes.normal
    turn = np.where(flat, 1, turn)
    met = crossings(normal[before], normal[after], run[before], run[after], turn)
    return np.where(flat[:, None], normal[after] * run[after][:, None], met)


def _corners_at(planes, before, after, where, height, higher):
    """Corners that stood somewhere at a height, at a higher one. [m]"""
    turn = _turn(planes, before, after)
    flat = np.abs(turn) <= FLAT
    first, second = planes.at(before, higher), planes.at(after, higher)
    normal, turn = planes.normal, np.where(flat, 1, turn)
    met = crossings(normal[before], normal[after], first, second, turn)
    moved = where + (higher - height) * _speeds(planes, before, after)
    return np.where(flat[:, None], moved, met)


def _next_rise(rising, loop, before, where):
    """Rise until a side is lost or a corner meets a side across. [m]"""
    planes = rising.planes
    speed = _speeds(planes, before, loop.planes)
    normal = planes.normal[loop.planes]
    along = np.stack([normal[:, 1], -normal[:, 0]], axis=-1)
    length = np.sum((np.roll(where, -1, 0) - where) * along, axis=-1)
    growth = np.sum((np.roll(speed, -1, 0) - speed) * along, axis=-1)
    lost = _when_nothing(length, growth)
    inner = np.flatnonzero(_turn(planes, before, loop.planes) < -FLAT)
    gap = where[inner] @ normal.T - planes.at(loop.planes, loop.height)
    closing = speed[inner] @ normal.T - planes.run[loop.planes]
    met = _when_nothing(gap, closing)
    for row, corner in enumerate(inner):
        met[row, [corner, corner - 1]] = np.inf
    after = np.where(np.isfinite(met), met, 0)[..., None]
    apart = where[inner, None] - where + after * (speed[inner, None] - speed)
    aside = np.sum(apart * along, axis=-1)
    slack = rising.tolerance
    within = (aside >= -slack) & (aside <= length + after[..., 0] * growth + slack)
    return min(lost.min(), np.where(within, met, np.inf).min(initial=np.inf))


def _when_nothing(much, growth):
    """Rise after which what shrinks is nothing; inf for what doesn't. [m]"""
    shrinks = (growth < -STILL) & (much > 0)
    return np.where(shrinks, much / np.where(shrinks, -growth, 1), np.inf)


def _same(where, tolerance):
    """For each point the first that lies where it does."""
    apart = np.hypot(*(where[:, None] - where).transpose(2, 0, 1))
    first = np.argmax(apart <= tolerance, axis=1)
    return first[first]


def _trace(rising, loop, before, numbers):
    """Arcs that the corners of a section have drawn."""
    turn = _turn(rising.planes, before, loop.planes)
    for k, (left, right) in enumerate(zip(before, loop.planes, strict=True)):
        kind = _kind(rising.planes, left, right, turn[k])
        tail, head = int(loop.nodes[k]), int(numbers[k])
        rising.arcs.append(Arc(kind, tail, head, int(left), int(right)))


def _kind(planes, left, right, turn):
    if abs(turn) <= FLAT:
        return SEAM
    walls = int(planes.run[left] == 0) + int(planes.run[right] == 0)
    outer = (HIP, VERGE, CORNER)
    return outer[walls] if turn > 0 else (VALLEY, ABUTMENT, CORNER)[walls]


def _pieces(rising, loop, numbers, first):
    """A section's sides between nodes: {(from, to): plane}, each cut where one lies."""
    points = np.array([node[:2] for node in rising.nodes[first:]])
    pieces = {}
    for plane, tail, head in zip(
        loop.planes.tolist(), numbers.tolist(), np.roll(numbers, -1).tolist(),
        strict=True,
    ):  # fmt: skip
        stops = _stops(points, tail - first, head - first, rising.tolerance)
        for one, other in itertools.pairwise(stops):
            pieces[first + one, first + other] = plane
    return pieces


def _stops(points, tail, head, tolerance):
    """Points on a stretch in their order, its own ends the first and the last."""
    if tail == head:
        return [tail]
    stretch = points[head] - points[tail]
    length = np.hypot(*stretch)
    to = points - points[tail]
    along = to @ stretch / length
    near = np.abs(cross(stretch, to)) / length <= tolerance
    on = np.flatnonzero(near & (along > tolerance) & (along < length - tolerance))
    return [tail, *on[np.argsort(along[on])].tolist(), head]


def _ridged(rising, pieces):
    """Without those that lie on one another, which have become ridges."""
    for (tail, head), plane in pieces.items():
        if (head, tail) in pieces and tail < head:
            other = pieces[head, tail]
            rising.arcs.append(Arc(RIDGE, head, tail, plane, other))
    return {
        (tail, head): plane
        for (tail, head), plane in pieces.items()
        if (head, tail) not in pieces
    }


def _turned(rising, pieces, height):
    """With walls that end here as the slopes that go on from them."""
    for ends, wall in list(pieces.items()):
        at, slope = rising.turns.get(wall, (np.inf, wall))
        if at <= height:
            pieces[ends] = slope
            rising.arcs.append(Arc(EAVES, *ends, slope, wall))
    return pieces


def _loops(rising, pieces, height):
    """Loops that pieces make, the roof to the left of each."""
    nodes, left = rising.nodes, set(pieces)
    while left:
        start = piece = min(left)
        walked = []
        while piece in left:
            left.remove(piece)
            walked.append(piece)
            piece = _next(nodes, pieces, piece)
        if piece != start:
            raise OutOfRange("No roof was found over this outline with these pitches.")
        yield _joined([(pieces[each], each[0]) for each in walked], height)


def _next(nodes, pieces, piece):
    """The piece that goes on from one, with nothing of the roof between them."""
    tail, head = piece
    onward = [each for each in pieces if each[0] == head]
    back = _bearing(nodes, head, tail)

    def clockwise(each):
        return (back - _bearing(nodes, *each)) % (2 * np.pi)

    return min(onward, key=clockwise, default=None)


def _bearing(nodes, tail, head):
    (x, y, _), (to_x, to_y, _) = nodes[tail], nodes[head]
    return np.arctan2(to_y - y, to_x - x)


def _joined(sides, height):
    """A loop without corners where one plane goes straight on."""
    priors = [sides[-1], *sides[:-1]]
    kept = [s for s, p in zip(sides, priors, strict=True) if s[0] != p[0]]
    planes, nodes = zip(*(kept or sides), strict=True)
    return Loop(np.array(planes), np.array(nodes), height)
