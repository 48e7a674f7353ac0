"""A walk's rows: each after what it came from, no row too full for a phone."""

import itertools
import os
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.charts.walk_rows import PER_ROW, Edge, Lane, Node, arrange
from sheafwright.core.errors import OutOfRange


def walk(*pairs):
    names = dict.fromkeys(itertools.chain(*pairs))
    return [Node(n, "lot", n) for n in names], [Edge(a, b, "1 kg") for a, b in pairs]


def rows(*pairs):
    return [
        {item for item in row if not isinstance(item, Lane)}
        for row in arrange(*walk(*pairs)).rows
    ]


def test_a_chain_stands_one_below_the_other():
    assert rows(("field", "rick"), ("rick", "lot")) == [{"field"}, {"rick"}, {"lot"}]


def test_what_comes_two_ways_stands_below_the_longer():
    found = rows(("field", "cut"), ("cut", "rick"), ("field", "rick"))
    assert found == [{"field"}, {"cut"}, {"rick"}]


def test_a_row_too_full_runs_on_below():
    found = rows(*(("lot", f"buyer {n}") for n in range(7)))
    assert [len(row) for row in found] == [1, PER_ROW, PER_ROW, 1]


def test_lines_to_many_buyers_pass_a_row_in_one_lane():
    found = arrange(*walk(*(("lot", f"buyer {n}") for n in range(7))))
    lanes = [sum(isinstance(item, Lane) for item in row) for row in found.rows]
    assert lanes == [0, 1, 1, 0]


def test_neighbours_stand_below_each_other():
    found = arrange(*walk(("a", "c"), ("b", "d"), ("a", "e"), ("b", "c")))
    assert found.rows[0] == ("a", "b")
    assert found.rows[1] == ("e", "c", "d")


def test_a_circle_is_refused():
    with pytest.raises(OutOfRange, match="comes back to where it was"):
        arrange(*walk(("rick", "drum"), ("drum", "rick")))


def test_a_line_to_nowhere_is_refused():
    with pytest.raises(OutOfRange, match="leads to “barn”"):
        arrange([Node("rick", "rick", "Rick")], [Edge("rick", "barn", "1 kg")])


def test_an_empty_walk_is_refused():
    with pytest.raises(OutOfRange, match="nothing to draw"):
        arrange([], [])


downward = st.lists(
    st.tuples(st.integers(0, 15), st.integers(0, 15)).filter(lambda p: p[0] < p[1]),
    min_size=1,
    max_size=30,
).map(lambda pairs: [(str(a), str(b)) for a, b in pairs])


@given(downward)
def test_every_way_goes_down_row_by_row(pairs):
    nodes, edges = walk(*pairs)
    found = arrange(nodes, edges)
    row = {item: n for n, items in enumerate(found.rows) for item in items}
    for edge, way in zip(edges, found.ways, strict=True):
        assert (way[0], way[-1]) == (edge.start, edge.end)
        assert [row[item] for item in way] == list(range(row[way[0]], row[way[-1]] + 1))


TWO_WAYS = """
from sheafwright.charts.walk import Edge, Node, walk_svg
pairs = [("a", "d"), ("b", "e"), ("c", "d"), ("a", "e"), ("b", "f"), ("d", "g")]
print(walk_svg([Node(n, n, n) for n in "abcdefg"],
               [Edge(*pair, "1 kg") for pair in pairs], title="walk"))
"""


def test_the_same_walk_is_drawn_the_same_in_every_run():
    runs = {
        subprocess.run(
            [sys.executable, "-c", TWO_WAYS],
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2", "3")
    }
    assert len(runs) == 1
