"""A roof's corners from what a tape gives, and from what a person types."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon

from sheafwright.core.errors import SheafwrightError
from sheafwright.core.roof.outline import ends
from sheafwright.feeds.roof import outline_of
from sheafwright.feeds.roof_outline import corners_of, ell, rectangle, tee, you

SHAPES = {
    rectangle: ((12, 7), 84, [2, 4]),
    ell: ((12, 6, 6, 5), 12 * 6 + 6 * 5, [2, 5]),
    tee: ((12, 6, 6, 5), 12 * 6 + 6 * 5, [2, 5, 8]),
    you: ((14, 10, 4, 6), 14 * 4 + 2 * 4 * 6, [3, 7]),
}


@pytest.mark.parametrize("shape", SHAPES, ids=lambda each: each.__name__)
def test_lengths_make_the_outline_that_they_were_measured_on(shape):
    lengths, area, gables = SHAPES[shape]
    corners = outline_of(shape(*lengths))
    whole = Polygon(corners)
    assert whole.is_valid and whole.exterior.is_ccw
    assert whole.area == pytest.approx(area)
    assert (np.flatnonzero(ends(np.array(corners))) + 1).tolist() == gables


def side(corners, number):
    one, other = corners[number - 1], corners[number % len(corners)]
    return np.hypot(*np.subtract(one, other))


lengths = st.floats(1, 50)


@given(*[lengths] * 6)
def test_each_length_is_that_of_the_side_that_it_names(yard, back, c, d, e, beyond):
    a, b, f = c + yard + e, back + d, back + beyond
    corners = you(a, b, c, d, right=f, other=e)
    measured = {1: a, 8: b, 7: c, 6: d, 3: e, 2: f}
    for number, length in measured.items():
        assert side(corners, number) == pytest.approx(length)


@given(*[lengths] * 5)
def test_a_wing_stands_where_it_was_measured(rest, b, c, d, e):
    a = rest + c + e
    corners = tee(a, b, c, d, before=e)
    for number, length in {1: a, 2: b, 5: c, 4: d, 7: e}.items():
        assert side(corners, number) == pytest.approx(length)
    corners = ell(a, b, c, d)
    for number, length in {1: a, 2: b, 5: c, 4: d}.items():
        assert side(corners, number) == pytest.approx(length)


@pytest.mark.parametrize(
    ("shape", "said", "part"),
    [
        (ell, (6, 5, 6, 4), "leaves nothing of a front of 6 m"),
        (tee, (12, 6, 13, 5), "leaves nothing of a front of 12 m"),
        (tee, (12, 6, 6, 5, 6), "else the roof is an L"),
        (tee, (12, 6, 6, 5, 0), "else the roof is an L"),
        (you, (8, 10, 4, 6), "A width of 8 m in wings"),
        (you, (14, 6, 4, 6), "leave some of the range behind it"),
        (you, (14, 10, 4, 2, 7), "be some of both wings"),
    ],
)
def test_lengths_that_do_not_go_together_are_refused(shape, said, part):
    with pytest.raises(SheafwrightError, match=part):
        shape(*said)


TYPED = [
    "0 0; 12 0; 12 6; 0 6",
    "0,0 12,0 12,6 0,6",
    "[[0, 0], [12, 0], [12, 6], [0, 6]]",
    "0 0\n12 0\n12 6\n0 6\n",
    "(0/0) (12/0) (12/6) (0/6)",
    "0 m 0 m; 1200 cm 0 m; 12 m 6 m; 0 m 6 m",
]


@pytest.mark.parametrize("typed", TYPED)
def test_corners_are_typed_as_people_type_them(typed):
    assert corners_of(typed) == ((0, 0), (12, 0), (12, 6), (0, 6))


@pytest.mark.parametrize(
    "typed",
    [
        "0 0; 40 0; 40 20.5; 0 20.5 ft",
        "0' 0', 40' 0', 40' 20'6\", 0' 20'6\"",
        "0 0; 40 ft 0; 40 ft 20 ft 6 in; 0 20 ft 6 in",
    ],
)
def test_feet_and_inches_are_corners_too(typed):
    feet = np.array(corners_of(typed)) / 0.3048
    np.testing.assert_allclose(feet, [(0, 0), (40, 0), (40, 20.5), (0, 20.5)])


def test_a_bare_number_is_in_the_units_of_whoever_types():
    metres = np.array(corners_of("0 0; 40 0; 40 20", family="imperial"))
    np.testing.assert_allclose(metres / 0.3048, [(0, 0), (40, 0), (40, 20)])


@pytest.mark.parametrize(
    ("typed", "part"),
    [
        ("", "There are 0 numbers"),
        ("0 0; 12 0", "There are 4 numbers"),
        ("0 0; 12 0; 12 6; 0", "There are 7 numbers"),
        ("0 0; 12 wide; 12 6", "'wide;' is no length"),
        ("0 0; 12 furlongs; 12 6", "'furlongs;' is no length"),
        ("a roof", "'a' is no length"),
        ("0 0; 12 0; 12 6; 0 6 " * 600, "has 2400 corners"),
    ],
)
def test_what_is_no_outline_is_refused_in_a_sentence(typed, part):
    with pytest.raises(SheafwrightError, match=part):
        outline_of(corners_of(typed))


@given(st.text(max_size=60))
def test_anything_typed_is_corners_or_a_sentence(typed):
    try:
        corners_of(typed)
    except SheafwrightError as error:
        assert str(error).endswith(".")
