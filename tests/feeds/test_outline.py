"""An outline's area and middle, and what is refused, in one sentence each."""

import json

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.core.errors import OutOfRange, SheafwrightError, UnreadableInput
from sheafwright.feeds.outline import read_outline, ring_area

# WGS 84, by definition.
SEMI_MAJOR, FLATTENING = 6378137.0, 1 / 298.257223563
E2 = FLATTENING * (2 - FLATTENING)
WEST, SOUTH, SIDE = -2.1, 52.4, 0.004

unhurried = settings(deadline=None, max_examples=300)


def box(west=WEST, south=SOUTH, side=SIDE):
    east, north = west + side, south + side
    return [[west, south], [east, south], [east, north], [west, north], [west, south]]


def geojson(*rings, kind="Polygon"):
    return json.dumps({"type": kind, "coordinates": list(rings)}).encode()


def kml(outer, *holes):
    def boundary(name, ring):
        points = " ".join(f"{x},{y},80" for x, y in ring)
        return (
            f"<{name}><LinearRing><coordinates>\n{points}\n</coordinates>"
            f"</LinearRing></{name}>"
        )

    rings = boundary("outerBoundaryIs", outer)
    rings += "".join(boundary("innerBoundaryIs", hole) for hole in holes)
    return (
        '<?xml version="1.0" encoding="UTF-8"?>'
        '<kml xmlns="http://www.opengis.net/kml/2.2"><Placemark>'
        f"<name>Long Meadow</name><Polygon>{rings}</Polygon></Placemark></kml>"
    ).encode()


def box_area(south, side):
    """A small box from the ellipsoid's two radii of curvature. [ha]"""
    middle = np.radians(south + side / 2)
    squeezed = 1 - E2 * np.sin(middle) ** 2
    north_south = SEMI_MAJOR * (1 - E2) / squeezed**1.5
    east_west = SEMI_MAJOR / np.sqrt(squeezed) * np.cos(middle)
    return north_south * east_west * np.radians(side) ** 2 / 1e4


def test_a_small_box_has_the_area_of_the_closed_form():
    found = read_outline(geojson(box()))
    assert found.area == pytest.approx(box_area(SOUTH, SIDE), rel=1e-6)


def test_an_eighth_of_the_earth_has_the_area_of_the_closed_form():
    e = np.sqrt(E2)
    earth = 2 * np.pi * SEMI_MAJOR**2 * (1 + (1 - E2) / e * np.arctanh(e))
    octant = ring_area([[0, 0], [90, 0], [90, 90], [0, 90], [0, 0]])
    assert octant == pytest.approx(earth / 8 / 1e4, rel=1e-12)


def test_the_middle_of_a_box_is_its_middle():
    found = read_outline(geojson(box()))
    assert found.latitude == pytest.approx(SOUTH + SIDE / 2)
    assert found.longitude == pytest.approx(WEST + SIDE / 2)


def test_the_middle_of_an_l_is_that_of_its_two_boxes():
    x, y, s = WEST, SOUTH, SIDE
    ell = [[x, y], [x + 2 * s, y], [x + 2 * s, y + s], [x + s, y + s]]
    ell += [[x + s, y + 2 * s], [x, y + 2 * s]]
    found = read_outline(geojson(ell))
    # Three boxes, at (½, ½), (1½, ½) and (½, 1½) of a side.
    assert found.longitude == pytest.approx(x + 5 / 6 * s)
    assert found.latitude == pytest.approx(y + 5 / 6 * s)


def test_kml_and_geojson_tell_the_same_field():
    hole = box(WEST + 0.001, SOUTH + 0.001, 0.001)
    one, other = read_outline(kml(box(), hole)), read_outline(geojson(box(), hole))
    assert one.area == other.area
    assert (one.latitude, one.longitude) == (other.latitude, other.longitude)


def test_a_hole_is_taken_out():
    hole = box(WEST + 0.001, SOUTH + 0.001, 0.001)
    whole = read_outline(geojson(box())).area
    assert read_outline(geojson(box(), hole)).area == pytest.approx(
        whole - read_outline(geojson(hole)).area
    )


def test_two_polygons_are_summed():
    east = box(WEST + 0.01)
    both = read_outline(geojson([box()], [east], kind="MultiPolygon"))
    assert both.area == pytest.approx(2 * read_outline(geojson(box())).area)
    assert both.longitude == pytest.approx(WEST + 0.005 + SIDE / 2)


def test_a_field_walked_the_other_way_is_as_large():
    walked = read_outline(geojson(box()[::-1]))
    assert walked.area == pytest.approx(read_outline(geojson(box())).area)


def test_a_ring_left_open_is_closed():
    closed = read_outline(geojson(box()[:-1])).polygons[0][0]
    assert closed.tolist() == box()


def test_a_point_given_twice_in_a_row_counts_once():
    stuttered = [point for point in box() for _ in range(2)]
    assert read_outline(geojson(stuttered)).polygons[0][0].tolist() == box()


def test_a_gate_marked_beside_the_field_is_passed_over():
    gate = {"type": "Point", "coordinates": [WEST, SOUTH]}
    field = {"type": "Polygon", "coordinates": [box()]}
    features = [{"type": "Feature", "geometry": each} for each in (gate, field, None)]
    content = json.dumps({"type": "FeatureCollection", "features": features}).encode()
    assert read_outline(content).area == read_outline(geojson(box())).area


BOW_TIE = [[-2, 52], [-1.99, 52.01], [-1.99, 52], [-2, 52.01], [-2, 52]]
EIGHT = [[-2, 52], [-1.99, 52.01], [-1.98, 52], [-1.98, 52.02], [-1.99, 52.01]]
EIGHT += [[-2, 52.02], [-2, 52]]
LINE = json.dumps({"type": "LineString", "coordinates": box()}).encode()
ENTITIES = b'<!DOCTYPE kml [<!ENTITY a "aaaa">]><kml>&a;</kml>'
REFUSED = {
    "neither JSON nor XML": b"sheaf",
    "not text": b"\xff\xfe{\x00}\x00",
    "is zipped": b"PK\x03\x04",
    "not sound XML": kml(box())[:-8],
    "has a DOCTYPE": ENTITIES,
    "a LineString and no polygon": LINE,
    "a kml and no polygon": b"<kml></kml>",
    "no shape and no polygon": b"[1, 2]",
    "bytes; it should have no more": b" " * 2_000_001,
    "crosses or touches itself": geojson(BOW_TIE),
    "touches itself near latitude": geojson(EIGHT),
    "is a line": geojson([[-2, 52], [-1.999, 52], [-1.998, 52]]),
    "fewer than three corners": geojson([[-2, 52], [-1.99, 52], [-2, 52]]),
    "lies outside its field": geojson(box(), box(WEST + 0.01)),
    "no ring": geojson(),
    "is not a point": geojson([["west", 52]] * 4),
    "'[True, 52]' in the outline is not a point": geojson([[True, 52]] * 4),
    "list of at most": geojson(7),
    "points; it should have no more": geojson([box()] * 1200, kind="MultiPolygon"),
}


@pytest.mark.parametrize(("words", "content"), REFUSED.items(), ids=REFUSED)
def test_what_is_no_outline_is_refused_in_words(words, content):
    with pytest.raises(UnreadableInput) as refusal:
        read_outline(content)
    assert words in str(refusal.value)


MISPLACED = {
    "latitude passes 90°": geojson(box(52.4, 120)),
    "beyond 180°": geojson(box(396_000, 278_000, 200)),
    "lies beyond": b'{"type": "Polygon", "coordinates": [[[NaN, 1], [2, 3]]]}',
    "more than 1° across": geojson(box(side=1.5)),
    "of 0.001 to 10,000 ha": geojson(box(side=0.9)),
    "0.0006816 ha": geojson(box(side=0.00003)),
}


@pytest.mark.parametrize(("words", "content"), MISPLACED.items(), ids=MISPLACED)
def test_what_no_field_could_be_is_out_of_range(words, content):
    with pytest.raises(OutOfRange) as refusal:
        read_outline(content)
    assert words in str(refusal.value)


def test_swapped_coordinates_are_told_by_the_holdings_place():
    swapped = [[y, x] for x, y in box()]
    with pytest.raises(OutOfRange, match=r"near the holding and have longitude first"):
        read_outline(geojson(swapped), near=(52.0, -2.0))
    assert read_outline(geojson(box()), near=(52.0, -2.0)).area > 0


def test_a_field_in_another_country_is_not_called_swapped():
    with pytest.raises(OutOfRange, match=r"near the holding\.$"):
        read_outline(geojson(box(21.0)), near=(52.0, -2.0))


@unhurried
@given(st.floats(-70, 70), st.floats(-170, 170), st.floats(1e-4, 0.05))
def test_area_agrees_with_the_closed_form_wherever_the_field_lies(south, west, side):
    found = read_outline(geojson(box(west, south, side)))
    assert found.area == pytest.approx(box_area(south, side), rel=1e-4)


def is_an_outline(found):
    inside = 0 < found.area <= 10_000 and abs(found.latitude) <= 90
    return inside and all(ring.shape[1] == 2 for p in found.polygons for ring in p)


def said_in_a_sentence(content):
    try:
        found = read_outline(content)
    except SheafwrightError as refusal:
        said = str(refusal)
        return said.endswith(".") and "\n" not in said
    return is_an_outline(found)


@unhurried
@given(
    base=st.sampled_from([geojson(box(), box(WEST + 0.001, side=0.001)), kml(box())]),
    at=st.integers(0, 420),
    removed=st.integers(0, 20),
    put=st.binary(max_size=6) | st.sampled_from([b"1e999", b"null", b"[", b"&lt;"]),
)
def test_bytes_replaced_anywhere_are_read_or_refused(base, at, removed, put):
    assert said_in_a_sentence(base[:at] + put + base[at + removed :])


numbers = st.floats(-181, 181) | st.floats() | st.integers() | st.none() | st.booleans()
points = st.lists(numbers | st.text(max_size=3), max_size=3)
near_points = st.tuples(st.integers(-3, 3), st.integers(-3, 3)).map(
    lambda each: [WEST + each[0] / 1000, SOUTH + each[1] / 1000]
)
rings = st.lists(near_points, max_size=8) | st.lists(points, max_size=6)


@unhurried
@given(st.lists(rings, max_size=3), st.sampled_from(["Polygon", "MultiPolygon"]))
def test_whatever_the_rings_they_are_read_or_refused(rings, kind):
    assert said_in_a_sentence(geojson(*rings, kind=kind))


things = st.recursive(
    st.none() | st.sampled_from(["Polygon", "Feature", 5]),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(
                ["type", "coordinates", "geometry", "features", "geometries"]
            ),
            inner,
            max_size=4,
        )
    ),
)


@unhurried
@given(things)
def test_whatever_the_json_it_is_read_or_refused(thing):
    assert said_in_a_sentence(json.dumps(thing).encode())


@pytest.mark.parametrize(
    "content",
    [
        b"[" * 900_000,
        b'{"geometry":' * 90_000 + b"1" + b"}" * 90_000,
        b"<a>" * 200_000 + b"</a>" * 200_000,
        b'<?xml version="1.0" encoding="utf-16"?><kml/>',
        b'{"type": "Polygon", "coordinates": [[[1' + b"0" * 5000 + b", 1]]]}",
    ],
    ids=["brackets", "geometries", "elements", "encoding", "digits"],
)
def test_a_file_made_to_hurt_is_refused(content):
    with pytest.raises(UnreadableInput):
        read_outline(content)
