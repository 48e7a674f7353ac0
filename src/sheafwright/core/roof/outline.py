"""The plan of a roof: a polygon of corners, anticlockwise, its sides between them.

Side ``k`` runs from corner ``k`` to the next one.
"""

import numpy as np

from sheafwright.core.errors import OutOfRange

FLAT = 1e-9
"""Sine of an angle below which two directions are one. [1]"""


def signed_area(corners):
    """Area within, below 0 if the corners go clockwise. [m²]

    Parameters
    ----------
    corners : array_like, shape (corner, 2)
        [m]
    """
    x, y = np.asarray(corners, dtype=float).T
    return 0.5 * np.sum(x * np.roll(y, -1) - y * np.roll(x, -1))


def directions(corners):
    """Unit vectors along the sides, shape (side, 2). [1]

    Parameters
    ----------
    corners : array_like, shape (corner, 2)
        [m]
    """
    sides = np.roll(corners, -1, axis=0) - np.asarray(corners, dtype=float)
    return sides / np.hypot(*sides.T)[:, None]


def inward(along):
    """Vectors square to others, to their left: from a side into the outline. [1]

    Parameters
    ----------
    along : ndarray, shape (side, 2)
        `directions`. [1]
    """
    return np.stack([-along[..., 1], along[..., 0]], axis=-1)


def cross(a, b):
    """Cross product of vectors in a plane, shape (..., 2) each."""
    return a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]


def convex(corners):
    """Whether the outline turns left at each corner, shape (corner,).

    Parameters
    ----------
    corners : array_like, shape (corner, 2)
        [m]
    """
    along = directions(corners)
    return cross(np.roll(along, 1, axis=0), along) > FLAT


def crossing(corners):
    """Two sides that cross or touch though they are no neighbours; None if none do.

    Parameters
    ----------
    corners : array_like, shape (corner, 2)
        [m]
    """
    a = np.asarray(corners, dtype=float)
    b = np.roll(a, -1, axis=0)
    n = len(a)
    for i in range(n):
        for j in range(i + 1, n):
            if j - i in (1, n - 1):
                found = _folded(a[i], b[i], a[j], b[j])
            else:
                found = _meet(a[i], b[i], a[j], b[j])
            if found:
                return i, j
    return None


def _meet(a, b, c, d):
    """Whether the stretch from a to b has a point of that from c to d."""
    sides = [_side(a, b, c), _side(a, b, d), _side(c, d, a), _side(c, d, b)]
    if sides[0] * sides[1] < 0 and sides[2] * sides[3] < 0:
        return True
    ends = zip(sides, ((a, b, c), (a, b, d), (c, d, a), (c, d, b)), strict=True)
    return any(side == 0 and _between(*points) for side, points in ends)


def _folded(a, b, c, d):
    """Whether a side turns straight back on its neighbour."""
    first, second = b - a, d - c
    sharp = abs(cross(first, second)) <= FLAT * np.hypot(*first) * np.hypot(*second)
    return bool(sharp and first @ second < 0)


def _side(a, b, point):
    """1 to the left of the line from a to b, -1 to its right, 0 on it."""
    along, to = b - a, point - a
    turn = cross(along, to)
    near = abs(turn) <= FLAT * np.hypot(*along) * max(np.hypot(*along), np.hypot(*to))
    return 0 if near else int(np.sign(turn))


def _between(a, b, point):
    along = b - a
    return 0 <= (point - a) @ along <= along @ along


def spread(corners, by):
    """The outline moved outwards all round, such as from walls to the drip. [m]

    Parameters
    ----------
    corners : array_like, shape (corner, 2)
        [m]
    by : array_like, shape (side,) or ()
        Square to each side. [m]
    """
    along = directions(corners)
    into = inward(along)
    level = np.sum(into * corners, axis=-1) - by
    before, at = np.roll(into, 1, axis=0), np.roll(level, 1)
    turn = cross(before, into)
    straight = np.abs(turn) <= FLAT
    met = crossings(before, into, at, level, np.where(straight, 1, turn))
    moved = corners - into * np.broadcast_to(by, len(into))[:, None]
    return np.where(straight[:, None], moved, met)


def crossings(first, second, at, level, turn):
    """Where lines square to ``first`` and ``second`` meet, shape (..., 2). [m]

    Parameters
    ----------
    first, second : ndarray, shape (..., 2)
        Unit vectors. [1]
    at, level : ndarray, shape (...)
        How far the lines lie along them. [m]
    turn : ndarray, shape (...)
        Cross product of the vectors. [1]
    """
    x = at * second[..., 1] - level * first[..., 1]
    y = level * first[..., 0] - at * second[..., 0]
    return np.stack([x, y], axis=-1) / turn[..., None]


def ends(corners):
    """Whether each side is the end of a wing, where a gable would stand.

    Its neighbours run back from it side by side, the square of half its width behind it
    is free, and it is no longer than a neighbour that could be an end too; of two
    equal ones the second is.

    Parameters
    ----------
    corners : array_like, shape (corner, 2)
        [m]
    """
    corners = np.asarray(corners, dtype=float)
    along, n = directions(corners), len(corners)
    length = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T)
    out = convex(corners)
    could = out & np.roll(out, -1)
    could &= np.sum(np.roll(along, 1, 0) * np.roll(along, -1, 0), axis=-1) < -0.99
    could &= [_free(corners, along, length, side) for side in range(n)]
    return np.array([could[s] and _shortest(length, could, s) for s in range(n)])


def _free(corners, along, length, side):
    """Whether no corner lies in the half square behind a side."""
    aside = (corners - corners[side]) @ along[side]
    behind = (corners - corners[side]) @ inward(along)[side]
    slack = 1e-6 * length[side]
    across = (aside > slack) & (aside < length[side] - slack)
    deep = np.roll(length, 1)[side], np.roll(length, -1)[side]
    return min(deep) >= length[side] / 2 - slack and not np.any(
        across & (behind > slack) & (behind < length[side] / 2 - slack)
    )


def _shortest(length, could, side):
    for other in ((side - 1) % len(could), (side + 1) % len(could)):
        ours, theirs = length[side], length[other]
        alike = abs(ours - theirs) <= 1e-6 * ours
        if could[other] and (side % 2 == 0 if alike else ours > theirs):
            return False
    return True


def away(corners, points):
    """Distance of each point from the line round an outline, shape (point,). [m]

    Parameters
    ----------
    corners : array_like, shape (corner, 2)
        [m]
    points : array_like, shape (point, 2)
        [m]
    """
    a, p = np.asarray(corners, dtype=float), np.asarray(points, dtype=float)[:, None]
    along = np.roll(a, -1, axis=0) - a
    to = p - a
    # A side of no length is its corner.
    length = np.maximum(np.sum(along**2, -1), np.finfo(float).tiny)
    share = np.clip(np.sum(to * along, -1) / length, 0, 1)
    return np.linalg.norm(to - share[..., None] * along, axis=-1).min(axis=-1)


def holds(corners, points):
    """Whether each point lies within an outline, either way round, shape (point,).

    Parameters
    ----------
    corners, points : array_like
        As `away` has them.
    """
    a, p = np.asarray(corners, dtype=float), np.asarray(points, dtype=float)[:, None]
    b = np.roll(a, -1, axis=0)
    rises, falls = a[:, 1] <= p[..., 1], b[:, 1] <= p[..., 1]
    left = cross(b - a, p - a) > 0
    return (rises & ~falls & left).sum(-1) != (~rises & falls & ~left).sum(-1)


def check(corners):
    """Refuse what is no outline, or one that crosses itself.

    Parameters
    ----------
    corners : ndarray, shape (corner, 2)
        [m]
    """
    if len(corners) < 3:
        raise OutOfRange(
            "The outline has {n} corners; it should have at least 3.", n=len(corners)
        )
    sides = np.roll(corners, -1, axis=0) - corners
    short = np.flatnonzero(np.hypot(*sides.T) <= FLAT * np.ptp(corners, axis=0).max())
    if len(short):
        raise OutOfRange(
            "Corners {first} and {second} of the outline are one point; each should "
            "be given once.",
            first=int(short[0]) + 1,
            second=(int(short[0]) + 1) % len(corners) + 1,
        )
    if found := crossing(corners):
        raise OutOfRange(
            "The outline crosses itself: side {first} meets side {second}. Its corners "
            "should go once round the roof, one after another.",
            first=found[0] + 1,
            second=found[1] + 1,
        )
