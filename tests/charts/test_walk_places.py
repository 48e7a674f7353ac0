"""A walk's measures: nothing overlaps, nothing leaves the picture."""

import itertools

from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.charts.walk_places import WIDTH, measure, said
from sheafwright.charts.walk_rows import Edge, Node


def walk(pairs):
    names = dict.fromkeys(itertools.chain(*pairs))
    nodes = [Node(n, "lot", f"Lot {n}", "reed") for n in names]
    return measure(nodes, [Edge(a, b, "12,400 kg") for a, b in pairs])


downward = st.lists(
    st.tuples(st.integers(0, 12), st.integers(0, 12)).filter(lambda p: p[0] < p[1]),
    min_size=1,
    max_size=20,
).map(lambda pairs: [(str(a), str(b)) for a, b in pairs])


@settings(max_examples=60, deadline=None)
@given(downward)
def test_no_two_boxes_overlap(pairs):
    for one, other in itertools.combinations(walk(pairs).boxes.values(), 2):
        apart_across = (
            one.left + one.width <= other.left or other.left + other.width <= one.left
        )
        assert apart_across or one.bottom <= other.top or other.bottom <= one.top


@settings(max_examples=60, deadline=None)
@given(downward)
def test_everything_is_within_the_picture(pairs):
    found = walk(pairs)
    for box in found.boxes.values():
        assert box.left >= 0
        assert box.left + box.width <= found.width
        assert box.bottom <= found.height
    assert all(0 <= each.left < found.width for each in found.weights)


@settings(max_examples=60, deadline=None)
@given(downward)
def test_every_edge_says_its_weight_once(pairs):
    assert len(walk(pairs).weights) == len(pairs)


@settings(max_examples=60, deadline=None)
@given(downward)
def test_lines_only_go_down(pairs):
    for line in walk(pairs).lines:
        assert line.passes_from <= line.bends_from < line.bends_to < line.meets


def test_twenty_buyers_of_one_lot_still_fit_a_phone():
    assert walk([("lot", f"buyer {n}") for n in range(20)]).width == WIDTH


def test_twenty_fields_in_one_rick_still_fit_a_phone():
    assert walk([(f"field {n}", "rick") for n in range(20)]).width == WIDTH


def test_a_long_name_is_broken_and_then_cut_short():
    node = Node("a", "field", "The field behind the old church piece " * 4)
    lines = [words for kind, words in said(node, 100) if kind == "name"]
    assert len(lines) == 3
    assert lines[-1].endswith("…")
