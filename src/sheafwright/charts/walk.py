"""A walk from field to buyer as an SVG: from top to bottom, as a phone is held."""

from html import escape

from sheafwright.charts.theme import FAINT, INK, PALE_STRAW, PAPER, PLAIN, STRAW
from sheafwright.charts.walk_places import LEADING, PAD, SIZES, measure, said
from sheafwright.charts.walk_rows import Edge, Node

__all__ = ["Edge", "Node", "walk_svg"]

ARROW, HALO = 7, 4
"""[px]"""
INKS = {"kind": FAINT, "name": INK, "detail": FAINT}
SPACES = " \u00a0"
"""Python calls the one before a unit unprintable."""


def walk_svg(nodes, edges, *, title, chosen=None):
    """A walk drawn: a box a node, the weights beside the lines.

    Colours are attributes, so that the picture is whole by itself; a page may change
    them by class, as it must in the dark.

    Parameters
    ----------
    nodes : sequence of Node
    edges : sequence of Edge
    title : str
        What the picture shows, for those who can't see it.
    chosen : str, optional
        The id of the node that was asked about.

    Returns
    -------
    str
    """
    walk = measure(nodes, edges)
    drawn = [
        *map(_line, walk.lines),
        *map(_weight, walk.weights),
        *(_node(node, walk.boxes[node.id], node.id == chosen) for node in nodes),
    ]
    wide, high = f"{walk.width:.0f}", f"{walk.height:.0f}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="walk" role="img" '
        f'viewBox="0 0 {wide} {high}" width="{wide}" height="{high}" '
        f'font-family="{PLAIN}"><title>{_text(title)}</title>{"".join(drawn)}</svg>'
    )


def _line(line):
    middle = (line.bends_from + line.bends_to) / 2
    points = (
        f"M{line.x_above:.1f} {line.passes_from:.1f}V{line.bends_from:.1f}"
        f"C{line.x_above:.1f} {middle:.1f} {line.x_below:.1f} {middle:.1f} "
        f"{line.x_below:.1f} {line.bends_to:.1f}V{line.meets:.1f}"
    )
    path = (
        f'<path class="walk-line" fill="none" stroke="{STRAW}" stroke-width="2" '
        f'd="{points}"/>'
    )
    return path + _arrow(line.x_below, line.meets) if line.arrow else path


def _arrow(x, y):
    half = ARROW * 0.6
    return (
        f'<path class="walk-arrow" fill="{STRAW}" d="M{x:.1f} {y:.1f}'
        f'l{-half:.1f} {-ARROW}h{2 * half:.1f}z"/>'
    )


def _weight(weight):
    return (
        f'<text class="walk-weight" x="{weight.left:.1f}" y="{weight.foot:.1f}" '
        f'font-size="{SIZES["weight"]}" fill="{INK}" stroke="{PAPER}" '
        f'stroke-width="{HALO}" paint-order="stroke">{_text(weight.words)}</text>'
    )


def _node(node, box, chosen):
    """A box with its words; the whole of them in its title, however long."""
    kind = "walk-node walk-chosen" if chosen else "walk-node"
    whole = ", ".join(filter(None, (node.kind, node.name, node.detail)))
    y, lines = box.top + PAD, []
    for part, words in said(node, box.width):
        y += SIZES[part] * LEADING
        weight = ' font-weight="700"' if part == "name" else ""
        lines.append(
            f'<text class="walk-{part}" x="{box.left + PAD:.1f}" '
            f'y="{y - SIZES[part] * 0.3:.1f}" font-size="{SIZES[part]}" '
            f'fill="{INKS[part]}"{weight}>{_text(words)}</text>'
        )
    return (
        f'<g class="{kind}"><title>{_text(whole)}</title><rect x="{box.left:.1f}" '
        f'y="{box.top:.1f}" width="{box.width:.1f}" height="{box.height:.1f}" rx="3" '
        f'fill="{PALE_STRAW if chosen else PAPER}" stroke="{INK}" '
        f'stroke-width="{2 if chosen else 1}"/>{"".join(lines)}</g>'
    )


def _text(words):
    """Words as XML takes them: escaped, and without what no XML may hold."""
    return escape("".join(c for c in words if c.isprintable() or c in SPACES))
