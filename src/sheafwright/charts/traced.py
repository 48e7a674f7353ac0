"""Stems traced on their photograph, as an SVG over it, numbered as in the table."""

from html import escape

from sheafwright.charts.theme import INK, PAPER, PLAIN

SHOWN_PX = 960
"""A page shows the board about so wide: letters and lines are sized for that."""
NUMBER_PX, LINE_PX, RING_PX = 14, 1.5, 7
TRACED, STRUCK, LEFT_OUT = "#ff3df0", INK, "#ffdc00"
PLACES = (0, -1, 0.25, 0.5, 0.75)
"""Where along a stem its number may stand: at an end, or this share of it."""
LEFT_OUT_SIGN = "?"


def traced_svg(lines, *, address, first, struck=(), title):
    """The board in a photograph, with all that was found on it.

    Parameters
    ----------
    lines : dict
        As `measure.drawn.traced` has them.
    address : str
        Where the photograph is.
    first : int
        The number of its first stem.
    struck : set of int
        Numbers of stems that don't count.
    title : str
        What the picture shows, for those who can't see it.

    Returns
    -------
    str
    """
    left, top, wide, high = lines["view"]
    width, height = lines["size"]
    pen = _Pen(wide / SHOWN_PX)
    drawn = [pen.line(line, LEFT_OUT) for line in lines["rejected"]]
    for number, line in enumerate(lines["stems"], first):
        drawn.append(pen.line(line, STRUCK if number in struck else TRACED))
    drawn += [pen.ring(place) for place in lines["bends"]]
    drawn += [pen.number(line, LEFT_OUT_SIGN, LEFT_OUT) for line in lines["rejected"]]
    for number, line in enumerate(lines["stems"], first):
        drawn.append(
            pen.number(line, str(number), STRUCK if number in struck else TRACED)
        )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" '
        f'viewBox="{left} {top} {wide} {high}" width="{wide}" height="{high}" '
        f'font-family="{PLAIN}"><title>{escape(title)}</title>'
        f'<image href="{escape(address)}" width="{width}" height="{height}"/>'
        f"{''.join(drawn)}</svg>"
    )


class _Pen:
    """Draws in pixels of the photograph what is to be so large on the page."""

    def __init__(self, scale):
        self.scale = scale
        self.taken = []
        """Where a number stands already."""

    def line(self, points, colour):
        path = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
        dashes = 6 * self.scale
        dashed = "" if colour != LEFT_OUT else f' stroke-dasharray="{dashes:.1f}"'
        return (
            f'<polyline points="{path}" fill="none" stroke="{colour}" '
            f'stroke-width="{LINE_PX * self.scale:.1f}"{dashed}/>'
        )

    def ring(self, place):
        x, y = place
        return (
            f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{RING_PX * self.scale:.1f}" '
            f'fill="none" stroke="#ffffff" stroke-width="{LINE_PX * self.scale:.1f}"/>'
        )

    def number(self, points, words, colour):
        """On a plate of its own, where it hides no other."""
        x, y = self._free(points)
        self.taken.append((x, y))
        size = NUMBER_PX * self.scale
        wide, high = size * (0.45 + 0.6 * len(words)), size * 1.15
        return (
            f'<rect x="{x - wide / 2:.1f}" y="{y - high / 2:.1f}" width="{wide:.1f}" '
            f'height="{high:.1f}" rx="{size / 5:.1f}" fill="{INK}" stroke="{colour}" '
            f'stroke-width="{self.scale:.1f}"/>'
            f'<text x="{x:.1f}" y="{y + size * 0.36:.1f}" font-size="{size:.1f}" '
            f'text-anchor="middle" fill="{PAPER}">{words}</text>'
        )

    def _free(self, points):
        """The first place that is far enough from others, else the farthest."""
        places = [_at(points, place) for place in PLACES]
        clear = [self._clearance(place) for place in places]
        enough = NUMBER_PX * 1.3 * self.scale
        far = next((n for n, gap in enumerate(clear) if gap > enough), None)
        return places[clear.index(max(clear)) if far is None else far]

    def _clearance(self, place):
        x, y = place
        gaps = (max(abs(x - a) / 1.5, abs(y - b)) for a, b in self.taken)
        return min(gaps, default=float("inf"))


def _at(points, place):
    return points[int(place * (len(points) - 1)) if place > 0 else place]
