"""Which length of an outline is which, before a roof is measured: letters and sides."""

from html import escape

import numpy as np

from sheafwright.charts.theme import FAINT, INK, PALE_STRAW, PLAIN, SIZE
from sheafwright.core.roof.outline import directions, inward
from sheafwright.feeds.telling import say

WIDTH, MARGIN, BESIDE = 320, 34, 18
"""Of the picture; round the outline; from a side to its letter. [px]"""


def sides_svg(corners, letters):
    """An outline with the number of each side within it, and letters outside.

    Parameters
    ----------
    corners : array_like, shape (corner, 2)
        Anticlockwise. [m]
    letters : dict
        Number of a side, the first is 1, to the letter of its length.

    Returns
    -------
    str
    """
    corners = np.asarray(corners, dtype=float)
    wide, deep = np.ptp(corners, axis=0)
    scale = (WIDTH - 2 * MARGIN) / wide
    high = scale * deep + 2 * MARGIN
    begins = np.array([MARGIN, high - MARGIN])
    points = begins + (corners - corners.min(axis=0)) * [scale, -scale]
    path = "L".join(f"{x:.1f} {y:.1f}" for x, y in points)
    look = f'fill="{PALE_STRAW}" stroke="{INK}" stroke-width="2"'
    drawn = [f'<path d="M{path}Z" {look} stroke-linejoin="round"/>']
    into = inward(directions(corners)) * [1, -1] * BESIDE
    middles = (points + np.roll(points, -1, axis=0)) / 2
    for side, (middle, inside) in enumerate(zip(middles, into, strict=True), 1):
        drawn.append(_text(middle + 0.8 * inside, side, 13, FAINT))
        if side in letters:
            drawn.append(_text(middle - inside, letters[side], SIZE + 3, INK, "bold"))
    title = say("The outline from above: its sides have numbers, its lengths letters.")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="sides" role="img" '
        f'viewBox="0 0 {WIDTH} {high:.0f}" width="{WIDTH}" height="{high:.0f}" '
        f'font-family="{PLAIN}"><title>{escape(title)}</title>{"".join(drawn)}</svg>'
    )


def _text(spot, words, size, ink, weight="normal"):
    x, y = spot
    return (
        f'<text x="{x:.1f}" y="{y + 0.35 * size:.1f}" font-size="{size}" '
        f'font-weight="{weight}" fill="{ink}" text-anchor="middle">'
        f"{escape(str(words))}</text>"
    )
