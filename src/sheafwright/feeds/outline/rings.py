"""What the rings of a field's outline must be: of degrees, in place, and simple."""

import numpy as np

from sheafwright.core.errors import OutOfRange, UnreadableInput
from sheafwright.feeds.telling import say

MOST_POINTS = 5_000
HALF_CIRCLE = 180.0
"""[°]"""
WIDEST = 1.0
"""No field is wider, or longer. [°]"""
THINNEST = 1e-6
"""Twice a ring's area over the square of its longer side: less is a line. [1]"""
NEAR = 5.0
"""A field lies so near its holding in latitude and longitude. [°]"""


def checked_polygons(polygons, near=None):
    """Each polygon's rings as arrays (point, 2), closed, and such as a field has."""
    checked = tuple(tuple(_ring(ring) for ring in rings) for rings in polygons)
    _check_size(checked)
    for rings in checked:
        _check_place(rings[0], near)
        _check_shape(*rings)
    return checked


def _ring(points):
    """A ring of shape (point, 2), closed, no point twice in a row."""
    if not isinstance(points, list) or len(points) > MOST_POINTS:
        raise UnreadableInput(
            "A ring of the outline should be a list of at most {most:,} points.",
            most=MOST_POINTS,
        )
    ring = np.array([_point(point) for point in points]).reshape(-1, 2)
    moves = np.ones(len(ring), dtype=bool)
    moves[1:] = (ring[1:] != ring[:-1]).any(axis=-1)
    ring = ring[moves]
    if len(ring) and (ring[0] != ring[-1]).any():
        ring = np.vstack([ring, ring[:1]])
    if len(ring) < 4:
        raise UnreadableInput(
            "A ring of the outline has fewer than three corners; it should go round "
            "the field."
        )
    return ring


def _point(point):
    """Longitude and latitude of a point, whose height is passed over. [°]"""
    try:
        longitude, latitude = (float(each) for each in _listed(point)[:2])
    except (TypeError, ValueError, OverflowError):
        raise UnreadableInput(
            "{point} in the outline is not a point; it should be a longitude and a "
            "latitude in degrees.",
            point=_shown(point),
        ) from None
    if not abs(longitude) <= HALF_CIRCLE or not abs(latitude) <= HALF_CIRCLE:
        raise OutOfRange(
            "{point} in the outline lies beyond {most:g}°; it should be in degrees on "
            "WGS 84, not in metres or a national grid.",
            point=_shown(point),
            most=HALF_CIRCLE,
        )
    return longitude, latitude


def _shown(point):
    return repr(str(point)[:40])


def _listed(point):
    # JSON's true and false are no coordinates; its strings have letters for parts.
    if not isinstance(point, list) or any(isinstance(each, bool) for each in point):
        raise TypeError
    return point


def _check_size(polygons):
    points = sum(len(ring) for rings in polygons for ring in rings)
    if points > MOST_POINTS:
        raise UnreadableInput(
            "The outline has {points:,} points; it should have no more than {most:,}.",
            points=points,
            most=MOST_POINTS,
        )
    if not all(polygons):
        raise UnreadableInput(
            "A polygon of the outline has no ring; it should have an outer one."
        )
    every = np.vstack([ring for rings in polygons for ring in rings])
    if (np.ptp(every, axis=0) > WIDEST).any():
        raise OutOfRange(
            "The outline is more than {most:g}° across; it should go round one "
            "field, with each point's longitude and latitude in one order.",
            most=WIDEST,
        )


def _check_place(ring, near):
    if abs(ring[0, 1]) > HALF_CIRCLE / 2:
        raise OutOfRange(
            "The outline's latitude passes 90°, so the two look swapped; it should "
            "have longitude first."
        )
    if near is not None and not _is_near(ring[0], near[::-1]):
        longitude, latitude = ring[0]
        raise OutOfRange(
            "The outline lies at latitude {latitude:.2f}°, longitude "
            "{longitude:.2f}°; it should {wanted}.",
            latitude=latitude,
            longitude=longitude,
            wanted=say("lie near the holding and have longitude first")
            if _is_near(ring[0], near)
            else say("lie near the holding"),
        )


def _is_near(point, place):
    return bool((np.abs(point - np.array(place)) <= NEAR).all())


def _check_shape(outer, *holes):
    for ring in (outer, *holes):
        if len(np.unique(ring[:-1], axis=0)) < len(ring) - 1 or _meets_itself(ring):
            raise UnreadableInput(
                "The outline crosses or touches itself near latitude {latitude:.4f}°, "
                "longitude {longitude:.4f}°; it should go round the field once.",
                latitude=ring[0, 1],
                longitude=ring[0, 0],
            )
        doubled = _turn(ring[0], ring[1:-1], ring[2:]).sum()
        if abs(doubled) < THINNEST * np.ptp(ring, axis=0).max() ** 2:
            raise UnreadableInput(
                "A ring of the outline is a line; it should go round the field."
            )
    if not all(_inside(point, outer) for hole in holes for point in hole):
        raise UnreadableInput(
            "A hole of the outline lies outside its field; it should lie within."
        )


def _meets_itself(ring):
    """Whether two sides that aren't neighbours meet: each against all after it."""
    starts, ends = ring[:-1], ring[1:]
    for side in range(len(starts) - 2):
        # The last side is a neighbour of the first.
        others = slice(side + 2, len(starts) - (side == 0))
        if _meets(starts[side], ends[side], starts[others], ends[others]).any():
            return True
    return False


def _meets(start, end, starts, ends):
    """Whether a side meets each of the others, an end that touches too."""
    apart = np.sign(_turn(start, end, starts)) * np.sign(_turn(start, end, ends)) > 0
    aside = np.sign(_turn(starts, ends, start)) * np.sign(_turn(starts, ends, end)) > 0
    lows, highs = np.minimum(starts, ends), np.maximum(starts, ends)
    overlap = (np.minimum(start, end) <= highs) & (lows <= np.maximum(start, end))
    return overlap.all(axis=-1) & ~apart & ~aside


def _turn(start, end, point):
    """Above zero where the point lies left of the side."""
    along, to = end - start, point - start
    return along[..., 0] * to[..., 1] - along[..., 1] * to[..., 0]


def _inside(point, ring):
    """Whether a ray east of the point crosses the ring an odd number of times."""
    y, next_y = ring[:-1, 1], ring[1:, 1]
    straddles = (y > point[1]) != (next_y > point[1])
    left = _turn(ring[:-1], ring[1:], point) > 0
    return bool((straddles & (left == (next_y > y))).sum() % 2)
