"""How thick a stem is along its length, and where it ends.

A strip of the photograph along a stem is mixed of two colours, the straw's and the blue
ground's. Straw's share, summed across, is the stem's width however blurred its
edges are; and as shares are taken of the light that is there, the shadow at a stem's
foot makes it no wider.
"""

import dataclasses
import itertools

import numpy as np

from sheafwright.measure.chains import BENT, meeting_x, shared, way
from sheafwright.measure.rectify import looked_up, strip_map

STEP_MM = 1.0
"""Along a stem."""
ASIDE_MM, ASIDE_STEP_MM = 8.0, 0.2
PAST_END_MM = 14.0
PATH_SD_MM, LINE_SD_MM = 3.0, 4.0
RIM_MM, GROUND_MM = 0.9, 1.4
"""Past an edge: how far blur reaches, and how wide ground is looked at from there."""
INNER = 0.22
"""Of the width, either side of the middle: surely straw."""
KNOT_TRIM_MM = 6.0
HIDDEN_RIM = 4
"""Points beside a stem that lies over this one, whose edges it may touch."""
LEAST_WIDTH_MM = 0.8
DIM = 0.05
"""Of the colours' own light: what is darker tells nothing."""
END_BAND = 0.28
END_STEP_MM = 0.25
BACK = 10
"""From this many points within, a stem's end is looked for."""
HIGH_END = 0.95
"""Of the diameter: how high the seen rim of an end that faces away is."""


@dataclasses.dataclass
class Strip:
    """A stem's path and what the photograph shows along it."""

    points: np.ndarray
    """(point, xy): its line on the board. [mm]"""
    normals: np.ndarray
    clear: np.ndarray
    """(point,): whether no other stem lies there."""
    aside: np.ndarray
    light: np.ndarray
    """(point, aside, colour): beside white paper's."""
    inside: slice
    """The points that lie between the stem's ends, as traced."""


@dataclasses.dataclass
class Profile:
    """A stem's true line and its diameter along it."""

    s: np.ndarray
    """From the left end. [mm]"""
    line: np.ndarray
    """(point, xy): its axis. [mm]"""
    diameter: np.ndarray
    """(point,), NaN where another stem hides its edges. [mm]"""
    alone: np.ndarray
    """(point,): whether no other stem lies over or under it."""
    light: np.ndarray
    """(point, colour): of its middle."""
    across: np.ndarray
    """(point, place): brightness across it, within 0.8 of its half width."""
    length: float


def path_of(trace, mask):
    """A trace's line by column, and which of it is surely its own.

    Returns
    -------
    points : ndarray, shape (point, xy) [mm]
    clear : ndarray of bool, shape (point,)
    """
    x = np.arange(trace.parts[0].x[0], trace.parts[-1].x[-1] + 0.5, 1.0)
    clear = np.zeros(len(x), bool)
    pieces = [_own_part(trace.parts, number) for number in range(len(trace.parts))]
    for own_x, _ in pieces:
        clear |= (x >= own_x[0]) & (x <= own_x[-1])
    corners = [
        _corner(left, right, before[0][-1], after[0][0])
        for (left, right), (before, after) in zip(
            itertools.pairwise(trace.parts), itertools.pairwise(pieces), strict=True
        )
        if _turns(left, right)
    ]
    own_x, own_y = (
        np.concatenate(each) for each in zip(*pieces, *corners, strict=True)
    )
    order = np.argsort(own_x, kind="stable")
    y = np.interp(x, own_x[order], own_y[order])
    return np.column_stack([mask.x_mm(x), mask.y_mm(0) + y]), clear


def _own_part(parts, number):
    """Where one part of a trace lies alone: x and y. [mm]"""
    part = parts[number]
    trim = min(KNOT_TRIM_MM, (part.x[-1] - part.x[0]) / 3)
    before = max(trim if number else 0, shared(part, "left"))
    after = max(trim if number < len(parts) - 1 else 0, shared(part, "right"))
    low, high = part.x[0] + before, part.x[-1] - after
    used = (part.x >= low) & (part.x <= high)
    return part.x[used], part.y[used]


def _corner(left, right, low, high):
    """Where a stem bends between two parts: x and y, one of each. [mm]"""
    x = np.clip(meeting_x(left, right), low + 0.5, high - 0.5)
    x_end, y_end, slope, _ = way(right, "left")
    return [x], [y_end + slope * (x - x_end)]


def _turns(left, right):
    """Whether a stem bends between two of its parts, not merely goes on."""
    return abs(way(right, "left")[2] - way(left, "right")[2]) > BENT


def strip_of(trace, mask, rgb, camera, colours):
    """The `Strip` of a trace."""
    rough, clear = path_of(trace, mask)
    points, clear = _even(_smooth(rough, PATH_SD_MM), clear)
    points, clear, inside = _lengthened(points, clear)
    normals = _normals(points)
    aside = np.arange(-ASIDE_MM, ASIDE_MM + 1e-9, ASIDE_STEP_MM)
    light = _light(rgb, camera, colours, points, normals, aside)
    return Strip(points, normals, clear, aside, light, inside)


def _light(rgb, camera, colours, points, normals, aside):
    seen = colours.light(looked_up(rgb, strip_map(camera, points, normals, aside)))
    white = colours.white_at(points).astype(np.float32)
    return seen / np.maximum(white, 1e-3)[:, None, :]


def _smooth(values, sd):
    """By a bell along the first axis; ends keep their place."""
    from scipy.ndimage import gaussian_filter1d

    first, last = values[:1], values[-1:]
    n = int(4 * sd) + 1
    # Turned about its ends, a straight line stays straight.
    head, tail = 2 * first - values[n:0:-1], 2 * last - values[-2 : -n - 2 : -1]
    whole = gaussian_filter1d(np.concatenate([head, values, tail]), sd, axis=0)
    return whole[len(head) : len(head) + len(values)]


def _even(points, clear):
    """At even steps along the line."""
    gaps = np.hypot(*np.diff(points, axis=0).T)
    s = np.concatenate([[0], np.cumsum(gaps)])
    at = np.arange(0, s[-1], STEP_MM)
    even = np.column_stack([np.interp(at, s, points[:, c]) for c in range(2)])
    return even, np.interp(at, s, clear.astype(float)) > 0.99


def _lengthened(points, clear):
    """Straight on past both ends."""
    n = int(PAST_END_MM / STEP_MM)
    back = min(25, len(points) - 1)
    head, tail = points[0] - points[back], points[-1] - points[-1 - back]
    steps = np.arange(1, n + 1)[:, None] * STEP_MM
    before = points[0] + steps[::-1] * head / np.hypot(*head)
    after = points[-1] + steps * tail / np.hypot(*tail)
    whole = np.concatenate([before, points, after])
    clear = np.concatenate([np.ones(n, bool), clear, np.ones(n, bool)])
    return whole, clear, slice(n, n + len(points))


def _normals(points):
    ways = np.gradient(points, axis=0)
    ways /= np.hypot(*ways.T)[:, None]
    return np.column_stack([-ways[:, 1], ways[:, 0]])


def measure_strip(strip, camera, width_mm, blueness):
    """Width, middle and clearness by point: three arrays. [mm, mm, bool]"""
    n = len(strip.points)
    width, middle = np.full(n, width_mm), np.zeros(n)
    ground = strip.light[..., 2] - strip.light[..., 0]
    blue = ground / (strip.light[..., 2] + strip.light[..., 0] + 1e-3)
    is_ground = blue > 0.6 * blueness
    for _ in range(3):
        share, clear = _straw_share(strip, width, middle, is_ground)
        width, middle = _summed(strip, share, width, middle)
        width = _steady(width, strip.inside)
        middle = _steady(middle, strip.inside)
    share, clear = _straw_share(strip, width, middle, is_ground)
    raw, middle = _summed(strip, share, width, middle)
    return raw, middle, clear & strip.clear


def _steady(values, inside):
    """A running median, for the next look; ends taken from within."""
    from scipy.ndimage import median_filter

    kept = values[inside]
    kept = median_filter(kept, size=min(15, len(kept) // 2 * 2 - 1), mode="nearest")
    whole = np.empty_like(values)
    whole[inside], whole[: inside.start] = kept, kept[0]
    whole[inside.stop :] = kept[-1]
    return whole


def _own(strip, off, width):
    """A stem's own colour by point, from its middle: (point, colour)."""
    from scipy.ndimage import median_filter

    inner = np.abs(off) < np.maximum(INNER * width, 0.25)[:, None]
    own = (strip.light * inner[..., None]).sum(axis=1) / inner.sum(axis=1)[:, None]
    own = median_filter(own, size=(15, 1), mode="nearest")
    own[: strip.inside.start + 6] = own[strip.inside.start + 6]
    own[strip.inside.stop - 6 :] = own[strip.inside.stop - 7]
    return own


def straw_share(light, own, ground):
    """How much of each place straw takes, from the two colours it is mixed of.

    Parameters
    ----------
    light, own, ground : ndarray, shape (..., colour)
    """
    ss, gg = (own * own).sum(axis=-1), (ground * ground).sum(axis=-1)
    sg = (own * ground).sum(axis=-1)
    ls, lg = (light * own).sum(axis=-1), (light * ground).sum(axis=-1)
    straw, rest = ls * gg - lg * sg, lg * ss - ls * sg
    # The two are shares of light; both may be in shade, and only their ratio counts.
    whole = straw + rest
    return straw / np.maximum(whole, DIM * (ss * gg - sg * sg))


def _straw_share(strip, width, middle, is_ground):
    """How much of each place is straw, and whether ground was seen on both sides."""
    off = strip.aside - middle[:, None]
    own = _own(strip, off, width)[:, None, :]
    edge = width[:, None] / 2 + RIM_MM
    clear = np.ones(len(width), bool)
    share = np.empty(off.shape)
    for side in (-1, 1):
        past = side * off - edge
        looked = (past > 0) & (past < GROUND_MM) & is_ground
        found = looked.sum(axis=1)
        level = (strip.light * looked[..., None]).sum(axis=1)
        level = level / np.maximum(found, 1)[:, None]
        seen = found >= 0.6 * GROUND_MM / ASIDE_STEP_MM
        clear &= seen
        here = (side * off) >= 0
        ground = _filled(level, seen)[:, None, :]
        share[here] = straw_share(strip.light, own, ground)[here]
    return share, clear


def _filled(level, seen):
    """A level where it was seen, drawn on where it was not."""
    from scipy.ndimage import uniform_filter1d

    if not seen.any():
        return np.ones_like(level)
    at = np.arange(len(level))
    drawn = [np.interp(at, at[seen], level[seen, c]) for c in range(3)]
    return uniform_filter1d(np.stack(drawn, axis=1), 3, axis=0, mode="nearest")


def _summed(strip, share, width, middle):
    """Width and middle from how much of each place straw takes."""
    off = strip.aside - middle[:, None]
    edge = width[:, None] / 2 + RIM_MM
    # A place half within the rim counts half, or widths would jump with the edge.
    within = np.clip((edge - np.abs(off)) / ASIDE_STEP_MM + 0.5, 0, 1)
    straw = share * within
    total = straw.sum(axis=1) * ASIDE_STEP_MM
    safe = np.maximum(total, LEAST_WIDTH_MM)
    moment = (straw * off).sum(axis=1) * ASIDE_STEP_MM / safe
    return safe, middle + np.clip(moment, -1, 1)


def upright(points, normals, width, camera):
    """Diameter and axis of round stems that lie on the board, as seen aslant.

    Parameters
    ----------
    width : ndarray, shape (point,)
        Of what they hide of the board. [mm]

    Returns
    -------
    diameter : ndarray, shape (point,) [mm]
    line : ndarray, shape (point, xy)
        Of the axis. [mm]
    """
    to_camera = camera.place[:2] - points
    high = camera.place[2]
    aslant = (to_camera * normals).sum(axis=1) / high
    diameter = width / np.sqrt(1 + aslant**2)
    diameter = diameter * (1 - diameter / 2 / high)
    nearer = (diameter / 2 / high)[:, None]
    return diameter, points + to_camera * nearer


def end_of(strip, side, rgb, camera, colours, width, middle):
    """Where a stem ends, as a point of the board. (xy) [mm]

    Parameters
    ----------
    side : int
        0 for the left end, −1 for the right.
    """
    inside, n = strip.inside, int((2 * BACK) / END_STEP_MM)
    at = inside.start if side == 0 else inside.stop - 1
    back = at + (BACK if side == 0 else -BACK)
    way = strip.points[at] - strip.points[back]
    way = way / np.hypot(*way)
    normal = strip.normals[at]
    start = strip.points[back] + middle[back] * normal
    steps = np.arange(n) * END_STEP_MM
    points = start + steps[:, None] * way
    band = np.linspace(-END_BAND, END_BAND, 7) * width[back]
    normals = np.repeat(normal[None], n, axis=0)
    light = _light(rgb, camera, colours, points, normals, band).mean(axis=1)
    point = start + _reach(light, steps) * way
    aslant = (camera.place[:2] - point) @ normal / camera.place[2]
    return _seen_from(point, way, HIGH_END * width[back] / np.hypot(1, aslant), camera)


def _reach(light, steps):
    """How far straw goes along a line that starts on straw and ends on ground. [mm]"""
    own = light[steps < 5].mean(axis=0)
    rough = steps[-1] / 2
    for _ in range(3):
        past = (steps > rough + 1.2) & (steps < rough + 3.5)
        ground = light[past].mean(axis=0)
        share = straw_share(light, own, ground) * (steps <= rough + 1.2)
        # The first sample stands for half a step alone.
        rough = float((share.sum() - 0.5) * END_STEP_MM)
        rough = min(max(rough, BACK / 2), steps[-1] - 2.0)
    return rough


def _seen_from(point, way, height, camera):
    """An end's place on the board, from where it hides the board.

    An end that faces away from the camera is seen by its upper rim, one that faces it
    by its foot.
    """
    to_camera = camera.place[:2] - point
    high = height if to_camera @ way < 0 else 0.0
    return point + to_camera * high / camera.place[2]


def profile_of(strip, rgb, camera, colours, width_mm, blueness):
    """The `Profile` of a strip."""
    width, middle, clear = measure_strip(strip, camera, width_mm, blueness)
    steady = _steady(width, strip.inside)
    ends = [
        end_of(strip, side, rgb, camera, colours, steady, middle) for side in (0, -1)
    ]
    inside = strip.inside
    clear = _apart(clear)
    middle = _smooth(_drawn_over(middle, clear)[:, None], 1.0)
    points = strip.points + middle * strip.normals
    diameter, line = upright(points, strip.normals, width, camera)
    line = _smooth(line[inside], LINE_SD_MM / STEP_MM)
    line = np.concatenate([ends[:1], line[3:-3], ends[1:]])
    diameter = np.where(clear, diameter, np.nan)[inside]
    diameter = np.concatenate([[np.nan], diameter[3:-3], [np.nan]])
    s = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
    light, across = _surface(strip, steady, middle[:, 0])
    cut = [0, *range(3, len(light) - 3), len(light) - 1]
    alone = _apart(strip.clear)[inside][cut]
    return Profile(s, line, diameter, alone, light[cut], across[cut], float(s[-1]))


def _apart(clear):
    """Clear, and not within a few millimetres of what is not."""
    from scipy.ndimage import binary_erosion

    return binary_erosion(clear, iterations=HIDDEN_RIM, border_value=1)


def _drawn_over(values, clear):
    """Drawn straight on where another stem hides them."""
    if clear.sum() < 2:
        return values
    at = np.arange(len(values))
    return np.interp(at, at[clear], values[clear])


def _surface(strip, width, middle):
    """Light of a stem's middle, and its brightness across: from −0.8 to 0.8."""
    inside = strip.inside
    half = width[inside] / 2
    places = np.linspace(-0.8, 0.8, 17)
    at = (middle[inside, None] + places * half[:, None] + ASIDE_MM) / ASIDE_STEP_MM
    low = np.clip(at.astype(int), 0, len(strip.aside) - 2)
    part = (at - low)[..., None]
    rows = np.arange(inside.start, inside.stop)[:, None]
    seen = strip.light[rows, low] * (1 - part) + strip.light[rows, low + 1] * part
    return seen[:, 6:11].mean(axis=1), seen @ [0.2126, 0.7152, 0.0722]
