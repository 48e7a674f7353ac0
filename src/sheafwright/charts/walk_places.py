"""The measures of a drawn walk: boxes, the ports where lines meet them, the lines."""

import math
import textwrap
from dataclasses import dataclass
from itertools import pairwise

from sheafwright.charts.walk_rows import Lane, arrange

WIDTH, MARGIN, GAP = 360, 8, 10
NARROWEST, WIDEST, LANE = 88, 220, 14
BEND, STUB, LEVEL, PAD, BESIDE = 28, 9, 15, 7, 5
"""[px]"""
SIDES = ("top", "bottom")
SIZES = {"kind": 11, "name": 14, "detail": 12, "weight": 12}
"""Of letters. [px]"""
LETTER, LEADING = 0.62, 1.3
"""Width of a letter and height of a line, as shares of the letters' size."""
MOST_LINES = 3
"""Of each text in a box."""


@dataclass(frozen=True)
class Box:
    """A node, or the room of a lane, where it stands."""

    left: float
    top: float
    width: float
    height: float

    @property
    def middle(self):
        return self.left + self.width / 2

    @property
    def bottom(self):
        return self.top + self.height


@dataclass(frozen=True)
class Port:
    """Where a line meets a box, and the weight beside it, if any."""

    x: float
    level: int
    weight: str
    leftward: bool


@dataclass(frozen=True)
class Line:
    """From one row to the next: straight, a bend, and straight again."""

    x_above: float
    x_below: float
    passes_from: float
    bends_from: float
    bends_to: float
    meets: float
    arrow: bool


@dataclass(frozen=True)
class Weight:
    """Words beside a line: where they begin, and on which level they stand."""

    left: float
    foot: float
    words: str


@dataclass(frozen=True)
class Walk:
    """A whole walk, measured."""

    width: float
    height: float
    boxes: dict[str | Lane, Box]
    lines: tuple[Line, ...]
    weights: tuple[Weight, ...]


def measure(nodes, edges):
    """Where everything of a walk is drawn.

    Parameters
    ----------
    nodes : sequence of Node
    edges : sequence of Edge

    Returns
    -------
    Walk
    """
    arranged = arrange(nodes, edges)
    width = max(WIDTH, *(_needed(row) for row in arranged.rows))
    spans = {item: span for row in arranged.rows for item, span in _across(row, width)}
    ports = _ports(edges, arranged, spans)
    zones = [[_zone(row, side, ports) for side in SIDES] for row in arranged.rows]
    texts = {node.id: node for node in nodes}
    boxes, height = _down(arranged.rows, spans, zones, texts)
    return Walk(
        width=width,
        height=height,
        boxes=boxes,
        lines=_lines(arranged, boxes, ports, zones),
        weights=tuple(_weights(ports, boxes, width)),
    )


def said(node, width):
    """The lines of text in a node's box: what kind each is, and its words."""
    for kind in ("kind", "name", "detail"):
        letters = max(1, int((width - 2 * PAD) / (SIZES[kind] * LETTER)))
        for line in textwrap.wrap(
            getattr(node, kind), letters, max_lines=MOST_LINES, placeholder="…"
        ):
            yield kind, line


def _count(row):
    lanes = sum(isinstance(item, Lane) for item in row)
    return lanes, len(row) - lanes, 2 * MARGIN + (len(row) - 1) * GAP


def _needed(row):
    lanes, nodes, between = _count(row)
    return between + lanes * LANE + nodes * NARROWEST


def _across(row, width):
    """Left edge and width of each item of a row, the row in the middle."""
    lanes, nodes, between = _count(row)
    wide = min(WIDEST, (width - between - lanes * LANE) / max(nodes, 1))
    left = MARGIN + (width - between - nodes * wide - lanes * LANE) / 2
    for item in row:
        own = LANE if isinstance(item, Lane) else wide
        yield item, (left, own)
        left += own + GAP


def _ports(edges, arranged, spans):
    """The ports of each side of each node, by the edge or trunk that meets it there."""
    meeting = {}
    for number, (edge, way, trunk) in enumerate(
        zip(edges, arranged.ways, arranged.trunks, strict=True)
    ):
        for place, way_in, towards in _ends(way, trunk):
            # Edges of one trunk share its port; each says its weight at its other end.
            key, weight = (trunk, "") if way_in else (number, edge.weight)
            meeting.setdefault(place, {})[key] = (_middle(spans[towards]), weight)
    return {place: _spread(keys, spans[place[0]]) for place, keys in meeting.items()}


def _ends(way, trunk):
    """Both ends of a way: its place, whether it is its trunk's, and where it leads."""
    yield (way[0], "bottom"), trunk == ("out of", way[0]), way[1]
    yield (way[-1], "top"), trunk == ("into", way[-1]), way[-2]


def _middle(span):
    left, width = span
    return left + width / 2


def _spread(keys, span):
    """Ports side by side, in the order of what they lead to."""
    left, width = span
    wanted = sum(_wide(words) + 2 * BESIDE for _, words in keys.values())
    levels = max(1, math.ceil(wanted / width))
    step = width / len(keys)
    order = sorted(keys, key=lambda key: keys[key][0])
    return {
        key: Port(
            x=left + (n + 0.5) * step,
            level=(len(order) - 1 - n) % levels,
            weight=keys[key][1],
            # Outwards from the middle, so that few words cross another's line.
            leftward=n + 1 < len(order) / 2 + 0.5,
        )
        for n, key in enumerate(order)
    }


def _wide(words):
    return len(words) * SIZES["weight"] * LETTER


def _zone(row, side, ports):
    """Room for the weights above or below a row."""
    levels = [
        port.level + 1
        for item in row
        for port in ports.get((item, side), {}).values()
        if port.weight
    ]
    return STUB + LEVEL * max(levels, default=0)


def _down(rows, spans, zones, texts):
    """Every box, row by row, and the height of the whole."""
    boxes, y = {}, MARGIN
    for row, (above, below) in zip(rows, zones, strict=True):
        y += BEND + above if boxes else 0
        height = max(_tall(texts.get(item), spans[item][1]) for item in row)
        for item in row:
            left, width = spans[item]
            boxes[item] = Box(left, y, width, height)
        y += height + below
    return boxes, y + MARGIN


def _tall(node, width):
    if node is None:
        return 0
    return 2 * PAD + sum(SIZES[kind] * LEADING for kind, _ in said(node, width))


def _lines(arranged, boxes, ports, zones):
    """Every line once, though edges of one trunk share their way."""
    row_of = {item: n for n, row in enumerate(arranged.rows) for item in row}
    lines = {}
    for number, (way, trunk) in enumerate(
        zip(arranged.ways, arranged.trunks, strict=True)
    ):
        for upper, lower in pairwise(way):
            leaves, meets = boxes[upper].bottom, boxes[lower].top
            line = Line(
                x_above=_x(ports.get((upper, "bottom")), number, trunk, boxes[upper]),
                x_below=_x(ports.get((lower, "top")), number, trunk, boxes[lower]),
                passes_from=boxes[upper].top if isinstance(upper, Lane) else leaves,
                bends_from=leaves + zones[row_of[upper]][1],
                bends_to=meets - zones[row_of[lower]][0],
                meets=meets,
                arrow=lower == way[-1],
            )
            lines[line] = None
    return tuple(lines)


def _x(ports, number, trunk, box):
    """Where an edge meets a box: at its own port, its trunk's, or along its lane."""
    if ports is None:
        return box.middle
    return ports[number if number in ports else trunk].x


def _weights(ports, boxes, width):
    """Each weight beside its line, wholly in the picture."""
    for (item, side), meeting in ports.items():
        for port in (each for each in meeting.values() if each.weight):
            off = STUB + LEVEL * port.level
            foot = boxes[item].bottom + off + LEVEL / 2
            if side == "top":
                foot = boxes[item].top - off
            wide = _wide(port.weight)
            left = port.x + (-BESIDE - wide if port.leftward else BESIDE)
            yield Weight(max(2, min(left, width - wide - 2)), foot, port.weight)
