"""An outline with letters for its lengths: each beside its own side, numbers within."""

import re

import numpy as np
import vl_convert
from shapely import Point, Polygon

from sheafwright.charts.roof_sides import sides_svg
from sheafwright.feeds.roof_outline import tee

TEE = tee(12, 6, 6, 5)
LETTERS = {1: "A", 2: "B", 5: "C", 4: "D", 7: "E"}
TEXT = re.compile(r'<text x="([\d.]+)" y="([\d.]+)" font-size="(\d+)".*?>(\w+)</text>')


def drawn():
    svg = sides_svg(TEE, LETTERS)
    path = re.search(r'd="M(.*?)Z"', svg)[1]
    outline = Polygon([tuple(map(float, spot.split())) for spot in path.split("L")])
    words = {
        word: Point(float(x), float(y) - 0.35 * int(size))
        for x, y, size, word in TEXT.findall(svg)
    }
    return svg, outline, words


def test_every_side_has_its_number_within_and_letters_stand_outside():
    _svg, outline, words = drawn()
    assert set(words) == {*map(str, range(1, 9)), *LETTERS.values()}
    for word, spot in words.items():
        assert outline.contains(spot) == word.isdigit(), word


def test_a_letter_stands_beside_the_side_that_it_names():
    _svg, outline, words = drawn()
    spots = list(outline.exterior.coords)
    for side, letter in LETTERS.items():
        middle = Point(np.mean(spots[side - 1 : side + 1], axis=0))
        assert middle.distance(words[letter]) < 20


def test_it_is_a_picture():
    svg, _outline, _words = drawn()
    assert vl_convert.svg_to_png(svg)[:4] == b"\x89PNG"
