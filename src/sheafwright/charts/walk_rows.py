"""Where each box of a walk stands: its row, its order there, and the lanes between."""

from collections import Counter
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from itertools import pairwise

from sheafwright.core.errors import OutOfRange

PER_ROW = 3
"""Boxes side by side that can still be read on a phone."""
SWEEPS = 4
"""Down and up again, after which the order hardly changes."""


@dataclass(frozen=True)
class Node:
    """A field, sowing, cut, rick, day at the drum, lot or buyer."""

    id: str
    kind: str
    name: str
    detail: str = ""


@dataclass(frozen=True)
class Edge:
    """What went from one to another; the weight as the reader likes it."""

    start: str
    end: str
    weight: str


@dataclass(frozen=True)
class Lane:
    """Room in a row for lines that pass it; those of one trunk share it."""

    trunk: tuple[str, str]
    row: int


@dataclass(frozen=True)
class Rows:
    """Nodes' ids and lanes, row by row from the top, and each edge's way."""

    rows: tuple[tuple[str | Lane, ...], ...]
    ways: tuple[tuple[str | Lane, ...], ...]
    trunks: tuple[tuple[str, str], ...]


def arrange(nodes, edges):
    """The rows of a walk; the same walk gives the same rows.

    Parameters
    ----------
    nodes : sequence of Node
    edges : sequence of Edge

    Returns
    -------
    Rows
    """
    row = _row_of(nodes, edges)
    trunks = _trunks(edges)
    ways = tuple(
        (
            edge.start,
            *(Lane(trunk, r) for r in range(row[edge.start] + 1, row[edge.end])),
            edge.end,
        )
        for edge, trunk in zip(edges, trunks, strict=True)
    )
    rows = [[] for _ in range(max(row.values()) + 1)]
    for name in row:
        rows[row[name]].append(name)
    for lane in dict.fromkeys(s for way in ways for s in way[1:-1]):
        rows[lane.row].append(lane)
    return Rows(tuple(map(tuple, _ordered(rows, ways))), ways, trunks)


def _row_of(nodes, edges):
    """The longest way from a beginning, and further down where a row is full."""
    parents = {node.id: [] for node in nodes}
    for edge in edges:
        for end in (edge.start, edge.end):
            if end not in parents:
                raise OutOfRange(f"The walk leads to “{end}”, which is not in it.")
        parents[edge.end].append(edge.start)
    row, taken = {}, Counter()
    for name in _beginnings_first(parents):
        at = max((row[parent] + 1 for parent in parents[name]), default=0)
        while taken[at] == PER_ROW:
            at += 1
        row[name] = at
        taken[at] += 1
    return row


def _beginnings_first(parents):
    if not parents:
        raise OutOfRange("There is nothing to draw: a walk needs one place or more.")
    try:
        order = tuple(TopologicalSorter(parents).static_order())
    except CycleError:
        raise OutOfRange(
            "The walk comes back to where it was: nothing can be made from itself."
        ) from None
    depth = {}
    for name in order:
        depth[name] = max((depth[parent] + 1 for parent in parents[name]), default=0)
    return sorted(parents, key=depth.get)


def _trunks(edges):
    """The end whose many lines an edge joins: its beginning's or its end's."""
    leaving = Counter(edge.start for edge in edges)
    coming = Counter(edge.end for edge in edges)
    return tuple(
        ("into", edge.end)
        if coming[edge.end] > leaving[edge.start]
        else ("out of", edge.start)
        for edge in edges
    )


def _ordered(rows, ways):
    """Each row sorted by where its neighbours stand, so that few lines cross."""
    # In a dict, not a set: its order is the same in every run.
    links = dict.fromkeys(link for way in ways for link in pairwise(way))
    above, below = {}, {}
    for upper, lower in links:
        above.setdefault(lower, []).append(upper)
        below.setdefault(upper, []).append(lower)
    for sweep in range(SWEEPS):
        down = sweep % 2 == 0
        for upper, lower in _pairs(rows, down):
            fixed, moved = (upper, lower) if down else (lower, upper)
            _sort(moved, fixed, above if down else below)
    return rows


def _pairs(rows, down):
    pairs = list(pairwise(rows))
    return pairs if down else reversed(pairs)


def _sort(moved, fixed, neighbours):
    place = {item: (n + 0.5) / len(fixed) for n, item in enumerate(fixed)}
    own = {item: (n + 0.5) / len(moved) for n, item in enumerate(moved)}

    def middle(item):
        near = [place[each] for each in neighbours.get(item, ())]
        return sum(near) / len(near) if near else own[item]

    moved.sort(key=middle)
