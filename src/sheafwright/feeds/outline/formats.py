"""GeoJSON and KML as they come: whatever polygons a file holds."""

import json

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds.telling import say

MOST_BYTES = 2_000_000
MOST_NESTED = 20


def polygons_in(content):
    """Polygons in a file's bytes: of each its rings, of each its points, unchecked."""
    text = _text(content)
    return _kml(text) if text.startswith("<") else _geojson(text)


def _text(content):
    if len(content) > MOST_BYTES:
        raise UnreadableInput(
            "The outline has {bytes:,} bytes; it should have no more than {most:,}.",
            bytes=len(content),
            most=MOST_BYTES,
        )
    if content.startswith(b"PK"):
        raise UnreadableInput(
            "The outline is zipped, as KMZ is; it should be saved as KML or GeoJSON."
        )
    try:
        return content.decode("utf-8-sig").strip()
    except UnicodeDecodeError:
        raise UnreadableInput(
            "The outline is not text; it should be GeoJSON or KML in UTF-8."
        ) from None


def _geojson(text):
    """Rings of every polygon."""
    try:
        document = json.loads(text)
    except (ValueError, RecursionError):
        raise UnreadableInput(
            "The outline is neither JSON nor XML; it should be GeoJSON or KML."
        ) from None
    return _polygons(document) or _no_polygon(document)


def _polygons(thing, nested=0):
    """Rings of each polygon in a GeoJSON object, the objects within it too."""
    if not isinstance(thing, dict) or nested > MOST_NESTED:
        return []
    kind, coordinates = thing.get("type"), _listed(thing.get("coordinates"))
    if kind == "Polygon":
        return [_listed(coordinates)]
    if kind == "MultiPolygon":
        return [_listed(rings) for rings in coordinates]
    within = [*_listed(thing.get("features")), *_listed(thing.get("geometries"))]
    return [
        rings
        for each in [thing.get("geometry"), *within]
        for rings in _polygons(each, nested + 1)
    ]


def _listed(thing):
    return thing if isinstance(thing, list) else []


def _no_polygon(found):
    kind = found.get("type") if isinstance(found, dict) else None
    named = isinstance(kind, str) and kind.isalpha()
    raise UnreadableInput(
        "The outline holds {something} and no polygon; the field should be drawn as an "
        "area and not as a line or a point.",
        something=say("a {kind}", kind=kind[:20]) if named else say("no shape"),
    )


def _kml(text):
    """Rings of every polygon."""
    from xml.etree import ElementTree

    # A document type may define entities that swell; no outline needs one.
    if "<!DOCTYPE" in text:
        raise UnreadableInput(
            "The outline has a DOCTYPE; it should be plain KML without one."
        )
    try:
        root = ElementTree.fromstring(text)
    except (ElementTree.ParseError, ValueError):
        raise UnreadableInput(
            "The outline is not sound XML; it should be KML, whole to its last line."
        ) from None
    polygons = [_kml_rings(each) for each in root.iter() if _name(each) == "Polygon"]
    return polygons or _no_polygon({"type": _name(root)})


def _kml_rings(polygon):
    rings = {"outerBoundaryIs": [], "innerBoundaryIs": []}
    for boundary in polygon:
        for each in boundary.iter():
            if _name(boundary) in rings and _name(each) == "coordinates":
                points = [point.split(",") for point in (each.text or "").split()]
                rings[_name(boundary)].append(points)
    outer, holes = rings.values()
    return [*outer[:1], *holes] if outer else []


def _name(element):
    """A tag without its namespace."""
    return str(element.tag).rpartition("}")[2]
