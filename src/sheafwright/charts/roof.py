"""A roof as an SVG: its plan, and below it how it looks from its longest side."""

from html import escape

import numpy as np

from sheafwright.charts import roof_view as view
from sheafwright.charts.theme import (
    FAINT,
    INK,
    LINE,
    PALE_RAIN,
    PALE_STRAW,
    PAPER,
    PLAIN,
    RAIN,
    SIZE,
    STRAW,
    WIDTH,
)
from sheafwright.core.roof.outline import convex
from sheafwright.core.roof.surface import half_edges, rings
from sheafwright.core.roof.wavefront import (
    ABUTMENT,
    EAVES,
    HIP,
    RIDGE,
    VALLEY,
    VERGE,
)
from sheafwright.feeds.roof import CONE, EYEBROW
from sheafwright.feeds.telling import mark, measured, say

MARGIN, GAP, HEADING = 44, 34, 34
"""Beside the drawings, for the numbers of sides; between them; above them. [px]"""
KINDS = {
    RIDGE: (INK, 3.5, ""),
    HIP: (INK, 1.6, ""),
    VALLEY: (RAIN, 2, "5 3"),
    EAVES: (INK, 1.2, ""),
    VERGE: (STRAW, 2.5, ""),
    ABUTMENT: (FAINT, 1.6, "2 2"),
}
"""Ink, width and dashes of each kind of line. [px]"""
CALLED = {
    RIDGE: mark("ridge"),
    HIP: mark("hip"),
    VALLEY: mark("valley"),
    EAVES: mark("eaves"),
    VERGE: mark("verge"),
    ABUTMENT: mark("against a wall"),
}
WALL = LINE
BESIDE, CRAMPED, ROOMY, SHORTEST = 13, 90, 54, 12
"""From a side to its number; sides shorter than these: have no room outside beside an
inner corner, have room for their number only, and for nothing. [px]"""
BARS = (0.2, 0.5, 1, 2, 5, 10, 20, 50)
"""Lengths of a scale's bar. [m]"""
FLAT = np.radians(25)
"""The sun stands so far left of the view, for shading."""


def roof_svg(answer):
    """A roof's plan and elevation, drawn to one scale.

    Parameters
    ----------
    answer : RoofAnswer

    Returns
    -------
    str
    """
    roof, standing, flip = _unflipped(answer.shape)
    side = _longest(roof)
    into = roof.planes.normal[side] * flip[:2]
    seen = view.turned(roof.nodes, into)
    spots = np.concatenate([roof.nodes[:, :2], *(each.plan for each in standing)])
    fronts = (view.turned(each.front, into)[:, 0] for each in standing)
    across = np.concatenate([seen[:, 0], *fronts])
    wide, deep = np.ptp(spots, axis=0)
    scale = (WIDTH - 2 * MARGIN) / max(wide, np.ptp(across), 0.6 * deep)
    top = HEADING + MARGIN / 2
    drawn = [_text(WIDTH / 2, 22, say("Plan"), weight="bold")]
    drawn += _plan(roof, standing, _placer(spots, scale, top), flip)
    y = top + scale * deep + MARGIN / 2 + GAP
    drawn.append(
        _text(WIDTH / 2, y, say("From side {side}", side=side + 1), weight="bold")
    )
    rise = answer.shape.rise
    corners = np.array([[across.min(), 0], [across.max(), rise]])
    place = _placer(corners, scale, y + 18)
    drawn += _elevation(roof, standing, seen, into, place)
    y, foot = _foot(roof, standing, scale, y + 18 + scale * rise + GAP)
    return _whole([*drawn, *foot], y, _title(answer.shape))


def _unflipped(shape):
    """The roof and what stands on it, seen from above, and by what they were turned."""
    flip = np.array([1, -1 if shape.seen_from_below else 1, 1])
    roof = shape.roof._replace(nodes=shape.roof.nodes * flip)
    standing = [
        each._replace(
            plan=each.plan * flip[:2], front=each.front * flip, foot=each.foot * flip
        )
        for each in shape.standing
    ]
    return roof, standing, flip


def _title(shape):
    return say(
        "Plan and elevation of a roof of {area}, {rise} high from eaves to ridge.",
        area=measured(shape.area, "m²", ",.1f"),
        rise=measured(shape.rise, "m", ".2f"),
    )


def _whole(drawn, high, title):
    wide, high = f"{WIDTH}", f"{high:.0f}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="roof" role="img" '
        f'viewBox="0 0 {wide} {high}" width="{wide}" height="{high}" '
        f'font-family="{PLAIN}"><title>{escape(title)}</title>'
        f'<rect width="{wide}" height="{high}" fill="{PAPER}"/>{"".join(drawn)}</svg>'
    )


def _longest(roof):
    """The longest side with eaves."""
    n = int(roof.planes.side.max()) + 1
    ends = roof.nodes[:n, :2]
    length = np.hypot(*(np.roll(ends, -1, axis=0) - ends).T)
    return int(np.argmax(np.where(roof.planes.run[:n] > 0, length, 0)))


def _placer(points, scale, top):
    """From metres to pixels, in the middle of the picture, up being up."""
    (left, _), (right, high) = points.min(axis=0), points.max(axis=0)
    begins = (WIDTH - scale * (right - left)) / 2

    def place(where):
        x, y = np.asarray(where, dtype=float).T
        return np.stack([begins + scale * (x - left), top + scale * (high - y)], -1)

    return place


def _plan(roof, standing, place, flip):
    shades = _shades(roof, flip)
    for plane in np.flatnonzero(roof.planes.run).tolist():
        for ring in rings(roof, plane):
            points = place(roof.nodes[list(ring), :2])
            yield _area(points, shades[plane], shades[plane], 0.6)
    for each in standing:
        yield _area(place(each.plan), PALE_STRAW, INK)
        yield from _ridge_of(each, place)
    for arc in roof.arcs:
        if arc.kind in KINDS and not _runs_on(arc, standing):
            yield _line(place(roof.nodes[[arc.tail, arc.head], :2]), arc.kind)
    yield from _sides(roof, place, flip)


def _runs_on(arc, standing):
    """Whether the slope only runs on here, round a conical end."""
    round_ = {each.side - 1 for each in standing if each.kind == CONE}
    return arc.kind == VERGE and bool(round_ & {arc.left, arc.right})


def _ridge_of(each, place):
    if each.kind not in (EYEBROW, CONE):
        front = each.front[[0, 1], :2].mean(axis=0)
        yield _line(place([front, _peak(each)[:2]]), HIP)


def _peak(each):
    return each.foot[each.foot[:, 2].argmax()]


def _sides(roof, place, flip):
    """Each side's number and length, outside it."""
    n = int(roof.planes.side.max()) + 1
    ends = roof.nodes[:n, :2]
    inner = ~convex(ends * flip[:2])
    for side in range(n):
        both = ends[[side, (side + 1) % n]]
        (x, y), (to_x, to_y) = place(both)
        long = np.hypot(to_x - x, to_y - y)
        if long < SHORTEST:
            continue
        cramped = long < CRAMPED and inner[[side, side - n + 1]].any()
        away = -BESIDE if cramped else BESIDE
        out = -roof.planes.normal[side] * flip[:2]
        turn = np.degrees(np.arctan2(to_y - y, to_x - x))
        yield _text(
            (x + to_x) / 2 + away * out[0],
            (y + to_y) / 2 - away * out[1],
            _of_side(side, both, long),
            size=13,
            ink=INK if cramped else FAINT,
            turn=round((turn + 90.01) % 180 - 90.01),
        )


def _of_side(side, both, long):
    """A side's number, and its length where there is room for it."""
    if long < ROOMY:
        return str(side + 1)
    length = round(float(np.hypot(*(both[1] - both[0]))), 2)
    return say("{side}: {m}", side=side + 1, m=measured(length, "m", "g"))


def _shades(roof, flip):
    """Fill of each plane: a slope that faces the light is paler."""
    light = np.array([-np.sin(FLAT), -np.cos(FLAT)])
    out = -roof.planes.normal * flip[:2]
    lit = out @ light
    return [
        WALL if not run else _mixed(PALE_STRAW, STRAW, 0.35 * (1 - each))
        for run, each in zip(roof.planes.run, lit, strict=True)
    ]


def _mixed(one, other, share):
    """A colour between two."""
    parts = [
        round(int(one[i : i + 2], 16) * (1 - share) + int(other[i : i + 2], 16) * share)
        for i in (1, 3, 5)
    ]
    return "#" + "".join(f"{part:02x}" for part in parts)


def _elevation(roof, standing, seen, into, place):
    shades = _facing(roof, seen)
    where = view.cuts(seen, [arc for arc in roof.arcs if arc.kind in KINDS])
    facing = [each for each in standing if _is_seen(each, roof, seen, into)]
    for each in standing:
        # What stands on other sides shows only beyond the slopes before it.
        if not any(each is other for other in facing):
            yield _solid(each, into, place)
    for part in view.parts(roof, seen, where):
        yield _area(place(part.corners), shades[part.plane], shades[part.plane], 0.4)
    drawn = roof._replace(arcs=[a for a in roof.arcs if not _runs_on(a, standing)])
    for each in view.lines(drawn, seen, where, KINDS):
        yield _line(place(each.ends), each.kind)
    for each in facing:
        yield _solid(each, into, place)
        if each.kind != CONE:
            front = view.turned(each.front, into)[:, [0, 2]]
            yield _area(place(front), PALE_RAIN, INK)


def _facing(roof, seen):
    """Fill of each plane in the elevation: what faces the view is paler."""
    shades = []
    for plane, run in enumerate(roof.planes.run):
        toward = 0.0
        for which, tail, head in half_edges(roof):
            if which == plane:
                a, b = seen[[tail, head]][:, [0, 2]]
                toward += (a[0] * b[1] - a[1] * b[0]) / 2
        wide = np.ptp(seen[[n for r in rings(roof, plane) for n in r]], axis=0)
        size = max(wide[0] * wide[2], 1e-9)
        share = min(abs(toward) / size, 1)
        shades.append(_mixed(STRAW, PALE_STRAW, share) if run else WALL)
    return shades


def _is_seen(each, roof, seen, into):
    """Whether a feature looks towards the view and nothing higher stands before it."""
    foot, front = view.turned(each.foot, into), view.turned(each.front, into)
    peak = foot[foot[:, 2].argmax()]
    if front[:, 1].mean() > peak[1] - view.HAIR:
        return False
    near = min(foot[:, 1].min(), front[:, 1].min()) - view.HAIR
    return view.highest_before(roof, seen, peak[0], near) < peak[2]


def _solid(each, into, place):
    """A feature's roof: as it meets the slope behind, or what hides all of it."""
    foot = view.turned(each.foot, into)[:, [0, 2]]
    front = view.turned(each.front, into)[:, [0, 2]]
    if each.kind == CONE or np.ptp(front[:, 0]) < np.ptp(foot[:, 0]) - view.HAIR:
        foot = view.hull([*foot, *front])
    return _area(place(foot), PALE_STRAW, INK)


def _foot(roof, standing, scale, y):
    """A bar of the scale, and what each kind of line is."""
    bar = next(each for each in (*BARS[::-1], 0.1) if each * scale <= WIDTH / 3)
    x = MARGIN
    path = f"M{x} {y - 5:.1f}v5h{bar * scale:.1f}v-5"
    parts = [
        f'<path d="{path}" fill="none" stroke="{INK}"/>',
        _text(x + bar * scale + 8, y, measured(bar, "m"), size=13, anchor="start"),
    ]
    y += 26
    shown = {arc.kind for arc in roof.arcs if not _runs_on(arc, standing)}
    for n, kind in enumerate(kind for kind in KINDS if kind in shown):
        left, row = MARGIN + 130 * (n % 3), y + 24 * (n // 3)
        parts.append(_line(np.array([[left, row - 4], [left + 28, row - 4]]), kind))
        parts.append(_text(left + 34, row, say(CALLED[kind]), size=13, anchor="start"))
    return row + 16, parts


def _area(points, fill, stroke="none", width=1):
    path = "L".join(f"{x:.1f} {y:.1f}" for x, y in points)
    return (
        f'<path d="M{path}Z" fill="{fill}" stroke="{stroke}" stroke-width="{width}" '
        f'stroke-linejoin="round"/>'
    )


def _line(ends, kind):
    ink, width, dashes = KINDS[kind]
    (x, y), (to_x, to_y) = ends
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return (
        f'<path class="roof-{kind}" d="M{x:.1f} {y:.1f}L{to_x:.1f} {to_y:.1f}" '
        f'stroke="{ink}" stroke-width="{width}" stroke-linecap="round"{dashed}/>'
    )


def _text(x, y, words, *, size=SIZE, ink=INK, anchor="middle", weight="", turn=0):
    bold = f' font-weight="{weight}"' if weight else ""
    turned = f' transform="rotate({turn} {x:.1f} {y:.1f})"' if turn else ""
    low = 0.35 * size if turn or size < SIZE else 0
    return (
        f'<text x="{x:.1f}" y="{y + low:.1f}" font-size="{size}" fill="{ink}" '
        f'text-anchor="{anchor}"{bold}{turned}>{escape(words)}</text>'
    )
