"""The drawn walk: whole words, nothing that a page's rules forbid, and it renders."""

import re
import xml.etree.ElementTree as ET

import pytest
import vl_convert
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.charts.walk import Edge, Node, walk_svg

NODES = [
    Node("f", "field", "Long Meadow", "3.2 ha"),
    Node("r", "rick", "Barn rick"),
    Node("l", "straw lot", "26-01"),
]
EDGES = [Edge("f", "r", "6,400 kg"), Edge("r", "l", "2,900 kg")]
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def drawn():
    return walk_svg(NODES, EDGES, title="Where lot 26-01 came from", chosen="l")


def test_it_is_a_picture_with_a_title(drawn):
    root = ET.fromstring(drawn)
    assert root.get("role") == "img"
    assert root[0].tag == f"{SVG}title"
    assert root[0].text == "Where lot 26-01 came from"


def test_every_node_and_weight_is_written(drawn):
    words = {each.text for each in ET.fromstring(drawn).iter(f"{SVG}text")}
    assert words >= {"Long Meadow", "3.2 ha", "Barn rick", "26-01"}
    assert words >= {"6,400 kg", "2,900 kg"}


def test_only_the_node_asked_about_is_marked(drawn):
    [chosen] = ET.fromstring(drawn).findall(f"{SVG}g[@class='walk-node walk-chosen']")
    assert chosen.find(f"{SVG}title").text == "straw lot, 26-01"


def test_nothing_in_it_is_forbidden_by_a_strict_page(drawn):
    assert not re.search(r"style=|<style|<script|href|\bon\w+=", drawn)


def test_the_same_walk_is_drawn_the_same(drawn):
    again = walk_svg(NODES, EDGES, title="Where lot 26-01 came from", chosen="l")
    assert again == drawn


def test_it_renders(drawn):
    assert vl_convert.svg_to_png(drawn).startswith(b"\x89PNG")


@settings(max_examples=60, deadline=None)
@given(st.text(st.characters(exclude_categories=())))
def test_no_words_break_the_picture(words):
    nodes = [Node("a", words, words, words), Node("b", words, words)]
    ET.fromstring(walk_svg(nodes, [Edge("a", "b", words)], title=words))


def test_words_that_look_like_markup_are_shown_as_they_are():
    drawn = walk_svg([Node("a", "lot", "<b>&amp;")], [], title="<b>")
    assert "&lt;b&gt;&amp;amp;" in drawn
    assert "<b>" not in drawn


def test_a_weight_keeps_the_space_before_its_unit():
    nodes = [Node("a", "field", "Long"), Node("b", "lot", "26-01")]
    drawn = walk_svg(nodes, [Edge("a", "b", "5.47\u00a0t")], title="A walk")
    assert "5.47\u00a0t<" in drawn
