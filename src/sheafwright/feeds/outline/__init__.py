"""A field's outline from GeoJSON or KML: its area on the ellipsoid, and its middle.

Both formats give longitude, then latitude, in degrees on WGS 84.
"""

import dataclasses

import numpy as np

from sheafwright.core.constants import SQUARE_METRES_PER_HECTARE
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.outline.formats import polygons_in
from sheafwright.feeds.outline.rings import checked_polygons
from sheafwright.feeds.telling import measured
from sheafwright.feeds.units import AREAS


@dataclasses.dataclass(frozen=True)
class Outline:
    """A field as it lies on the ground."""

    polygons: tuple[tuple[np.ndarray, ...], ...]
    """Rings of each polygon, the outer one first and then its holes, each of shape
    (point, 2): longitude and latitude, the last point the first again. [°]"""
    area: float
    """Holes taken out. [ha]"""
    latitude: float
    """Of the middle. [°]"""
    longitude: float
    """Of the middle. [°]"""


def read_outline(content, near=None):
    """The `Outline` in a file's bytes.

    Parameters
    ----------
    content : bytes
        GeoJSON or KML; more polygons than one are summed, and points between them are
        passed over.
    near : tuple of float, optional
        Latitude and longitude of the holding, for telling swapped coordinates. [°]
    """
    return _outline(checked_polygons(polygons_in(content), near))


def ring_area(ring):
    """Area within a ring of geodesics on WGS 84. [ha]

    Parameters
    ----------
    ring : array_like, shape (point, 2)
        Longitude and latitude. [°]

    References
    ----------
    .. [1] C. F. F. Karney, Algorithms for geodesics, Journal of Geodesy 87:43-55,
       2013, as `pyproj.Geod` has it.
    """
    from pyproj import Geod

    longitude, latitude = np.asarray(ring, dtype=float).T
    area, _ = Geod(ellps="WGS84").polygon_area_perimeter(longitude, latitude)
    return abs(area) / SQUARE_METRES_PER_HECTARE


def _outline(polygons):
    signs = [[1] + [-1] * (len(rings) - 1) for rings in polygons]
    flat = [ring for rings in polygons for ring in rings]
    areas = np.array([ring_area(ring) for ring in flat]) * np.concatenate(signs)
    smallest, largest = AREAS
    if not smallest <= areas.sum() <= largest:
        raise OutOfRange(
            "The outline holds {area}; it should go round one field, of "
            "{smallest:g} to {largest:,.0f} ha.",
            area=measured(areas.sum(), "ha", ",.4g"),
            smallest=smallest,
            largest=largest,
        )
    middles = np.array([_middle(ring) for ring in flat])
    longitude, latitude = np.average(middles, axis=0, weights=areas)
    return Outline(polygons, float(areas.sum()), float(latitude), float(longitude))


def _middle(ring):
    """Centroid of a ring; on a field's own scale the degrees are flat. [°]"""
    start = ring[0]
    (x, y), (next_x, next_y) = (ring[:-1] - start).T, (ring[1:] - start).T
    cross = x * next_y - next_x * y
    sums = np.array([((x + next_x) * cross).sum(), ((y + next_y) * cross).sum()])
    return start + sums / (3 * cross.sum())
