"""What is told of each stem, from its profile; and which are left out, and why."""

import dataclasses
import itertools

import numpy as np

from sheafwright.measure.bends import Bend, sharpest_bend
from sheafwright.measure.chains import BETWEEN, find_chains, join_chains
from sheafwright.measure.damage import Damage, find_damage
from sheafwright.measure.nodes import find_nodes, node_near
from sheafwright.measure.profile import path_of, profile_of, strip_of
from sheafwright.measure.terms import terms

SCRAP_MM, DUST_MM = 25.0, 8.0
LEAST_LEAF_MM, LEAST_BETWEEN_MM, LONGEST_LEAF_MM = 9.0, 6.5, 130.0
"""Of what ends freely, and of what reaches another stem."""
LEAF_NARROWS = 0.006
"""Share of its width by the millimetre: a leaf ends in a point, a stem loses 0.001."""
LEAST_COLUMNS, LEAST_MISS_MM, CLEARLY = 4, 0.1, 3.5
"""A narrowing must be so many times what it may be by chance."""
LEAF_FROM_STEM_MM, ONE_LEAF_MM = 9.0, 14.0
PARTED_MM = 9.0
PIECES = ("short", "hidden_end", "tangled", "uneven")
"""Of what is left out: what may be the rest of a stem that ends beside it."""
EDGE_MM = 2.5
"""A stem that comes so near to the blue's edge may go on past it."""
WIDEST_MM = 8.5
UNEVEN, UNEVEN_SHARE = 0.24, 0.2
"""So far from its own taper, along so much of it, is no single stem."""
THICKEST_MM = 7.5
STEP_FAR_MM, STEP_EACH_MM, STEP_RATIO = 130, 5, 1.5
"""Thickness before and after a place, over so far; short straw may taper by 1.3."""
MOST_SPLIT = 0.35
BELOW_MM = 40
LEAST_CLEAR = 0.4
END_HALF_MM, MIDDLE_HALF_MM = 15.0, 20.0
LEAST_POINTS = 8
TAPER_ENDS_MM = 0.17
"""How far both ends' diameters may err from each other, 19 times in 20."""
SURE_TAPER = 0.3
"""Less tells no butt from a top. [mm per m]"""
DIAMETER_SD_PX, LENGTH_SD_MM, LENGTH_SD_SHARE = 0.3, 0.35, 4e-4
TWICE = 2.0
"""An error is told as twice its standard deviation: 19 times in 20 it is less."""


@dataclasses.dataclass(frozen=True)
class Sized:
    """A length and how far from the truth it may be, 19 times in 20. [mm]"""

    mm: float
    error_mm: float


@dataclasses.dataclass(frozen=True)
class Stem:
    """One stem, told from its butt."""

    line: np.ndarray
    """(point, xy), from the butt. [mm]"""
    length: Sized
    butt: Sized | None
    middle: Sized | None
    top: Sized | None
    """Diameters."""
    taper_mm_per_m: float
    taper_error_mm_per_m: float
    thirds_mm_per_m: tuple
    """From the butt; None where too little was seen."""
    nodes_mm: tuple[float, ...]
    bend: Bend
    dog_leg: bool
    lab: tuple[float, float, float]
    lab_error: float
    green_share: float
    damage: Damage
    leaf_mm: float
    hidden_mm: float
    """How much of it lies under or over others."""


@dataclasses.dataclass(frozen=True)
class Rejected:
    """A piece of straw that could not be measured."""

    why: str
    line: np.ndarray
    """(point, xy) [mm]"""


def measure_stems(rgb, camera, board, colours, mask):
    """All stems of a photograph: those measured, and those left out.

    Returns
    -------
    stems : list of Stem
    rejected : list of Rejected
    scraps : int
        Pieces too small to be straw.
    """
    traces = list(join_chains(find_chains(mask.straw)))
    hung = [(trace, _leaf_of(trace, mask)) for trace in traces]
    leaves = [leaf for _, leaf in hung if leaf is not None]
    others = [t for t, leaf in hung if leaf is None and t.unsure != BETWEEN]
    rest = [trace for trace in others if _long(trace) >= SCRAP_MM]
    stems, rejected = [], []
    for trace in rest:
        found = _measured(trace, rgb, camera, board, colours, mask)
        (rejected if isinstance(found, Rejected) else stems).append(found)
    stems, parted = _whole(stems, rejected)
    rejected += parted
    stems, loose = _with_leaves(stems, leaves)
    small = [trace for trace in others if _long(trace) < SCRAP_MM]
    scraps = sum(_long(trace) >= DUST_MM for trace in small) + loose
    order = np.argsort([stem.line[:, 1].mean() for stem in stems])
    return [stems[n] for n in order], rejected, scraps


def _whole(stems, rejected):
    """Stems that no other piece seems to go on from, and those that one does."""
    ends = [piece.line[[0, -1]] for piece in rejected if piece.why in PIECES]
    ends = np.concatenate(ends) if ends else np.empty((0, 2))
    whole, parted = [], []
    for stem in stems:
        gaps = np.hypot(*(stem.line[[0, -1], None] - ends).transpose(2, 0, 1))
        if gaps.size and gaps.min() < PARTED_MM:
            parted.append(Rejected("parted", stem.line))
        else:
            whole.append(stem)
    return whole, parted


def _long(trace):
    return trace.parts[-1].x[-1] - trace.parts[0].x[0]


def _measured(trace, rgb, camera, board, colours, mask):
    """A `Stem`, or why it is `Rejected`."""
    path, _clear = path_of(trace, mask)
    width = float(np.median(np.concatenate([p.across for p in trace.parts])))
    width /= np.hypot(1, np.median(np.gradient(path[:, 1], path[:, 0])))
    why = trace.unsure or _at_once(path, width, board)
    if why:
        return Rejected(why, path)
    strip = strip_of(trace, mask, rgb, camera, colours)
    profile = profile_of(strip, rgb, camera, colours, width, mask.blueness)
    return _told(profile, camera, colours) or Rejected("uneven", path)


def _at_once(path, width, board):
    """What is wrong with a piece by its place and size, or nothing."""
    left, top, right, bottom = board.area
    low, high = path.min(axis=0), path.max(axis=0)
    near = EDGE_MM + 1.5
    beyond = (
        low[0] < left + near
        or high[0] > right - near
        or low[1] - width / 2 < top + near
        or high[1] + width / 2 > bottom - near
    )
    if beyond:
        return "off_board"
    if width > WIDEST_MM:
        return "too_wide"
    return "short" if high[0] - low[0] < terms().least_stem_mm else ""


def _told(profile, camera, colours):
    """The `Stem` of a profile, or None if it is no single one."""
    profile, trend, taper = _from_butt(profile)
    seen = np.isfinite(profile.diameter)
    odd = np.abs(profile.diameter[seen] / trend[seen] - 1) > UNEVEN
    uneven = odd.mean() > UNEVEN_SHARE or _steps(profile.diameter)
    if seen.mean() < LEAST_CLEAR or uneven or np.nanmax(trend) > THICKEST_MM:
        return None
    nodes, scores = find_nodes(profile.light, profile.diameter)
    bend = sharpest_bend(profile.line)
    at_node = node_near(bend.at_mm, nodes, scores) if bend.sharp else None
    if at_node is not None and at_node not in nodes:
        nodes = sorted([*nodes, at_node])
    damage = find_damage(profile, trend, nodes)
    if damage.split_mm > MOST_SPLIT * profile.length:
        # A line that dark, so far along, parts two stems side by side.
        return None
    usual = _usual(profile, trend, nodes)
    lab, green = _colour(profile, colours, nodes)
    return Stem(
        line=profile.line,
        length=_length(profile),
        **_diameters(profile, usual, camera),
        taper_mm_per_m=taper[0],
        taper_error_mm_per_m=_taper_error(taper[1], profile.length),
        thirds_mm_per_m=_thirds(profile, usual),
        nodes_mm=tuple(_place(profile, node) for node in nodes),
        bend=dataclasses.replace(bend, at_mm=_place(profile, bend.at_mm)),
        # Where another stem hides a sharp bend, a node is likelier than not below.
        dog_leg=at_node is not None or (bend.sharp and _bent_below(profile, bend)),
        lab=lab,
        lab_error=TWICE * float(np.hypot(1.5, colours.error_lab)),
        green_share=green,
        damage=damage,
        leaf_mm=0.0,
        hidden_mm=float((~seen).sum() - 2),
    )


def _steps(diameter):
    """Whether thickness jumps, and stays so: a second stem begins or ends beside."""
    far = STEP_FAR_MM
    if len(diameter) < 3 * far:
        return False
    windows = np.lib.stride_tricks.sliding_window_view(diameter, far)[::STEP_EACH_MM]
    seen = np.isfinite(windows).mean(axis=1) > 0.5
    usual = np.where(seen, np.nanmedian(_some(windows), axis=1), np.nan)
    apart = -(-(far + 15) // STEP_EACH_MM)
    ratio = usual[apart:] / usual[:-apart]
    return bool(np.nanmax(_some(np.abs(np.log(ratio)))) > np.log(STEP_RATIO))


def _some(values):
    """With a nought where nothing was seen, that no warning be given."""
    if values.ndim == 1:
        return np.nan_to_num(values)
    return np.where(np.isfinite(values).any(axis=1, keepdims=True), values, 0)


def _bent_below(profile, bend):
    """Whether a stem goes on another way behind what hides its bend."""
    at, seen = int(bend.at_mm), np.isfinite(profile.diameter)
    if seen[at]:
        return False
    before, after = np.nonzero(seen[:at])[0], at + np.nonzero(seen[at:])[0]
    if len(before) < BELOW_MM or len(after) < BELOW_MM:
        return False
    line = profile.line
    first = line[before[-1]] - line[before[-BELOW_MM]]
    last = line[after[BELOW_MM - 1]] - line[after[0]]
    turn = np.cross([*first, 0], [*last, 0])[2]
    angle = np.degrees(np.arctan2(abs(turn), first @ last))
    return bool(angle >= terms().sharp_deg)


def _place(profile, point):
    """From a point's number to how far it is from the butt. [mm]"""
    return float(np.interp(point, np.arange(len(profile.s)), profile.s))


def _from_butt(profile):
    """A profile that begins at the butt, its trend, and its taper with its error."""
    trend, slope, error = _taper(profile)
    if slope > SURE_TAPER:
        turned = {
            name: getattr(profile, name)[::-1]
            for name in ("line", "diameter", "alone", "light", "across")
        }
        s = profile.length - profile.s[::-1]
        profile = dataclasses.replace(profile, s=s, **turned)
        trend, slope = trend[::-1], -slope
    return profile, trend, (-slope, error)


def _taper(profile):
    """The thickness that a bent line leads to; its slope and error. [mm, mm per m]"""
    seen = np.isfinite(profile.diameter)
    s, d = profile.s / 1000, profile.diameter
    if seen.sum() < 20:
        return np.full(len(s), np.nanmedian(d) if seen.any() else np.nan), 0.0, np.inf
    used = seen.copy()
    for _ in range(4):
        fit = np.polynomial.Polynomial.fit(s[used], d[used], 2)
        miss = np.abs(d - fit(s))
        usual = max(1.4826 * float(np.median(miss[used])), 0.04)
        used = seen & (miss < 3 * usual)
    line = np.polynomial.Polynomial.fit(s[used], d[used], 1).convert()
    spread = np.std(d[used] - fit(s[used])) / max(np.std(s[used]), 1e-6)
    # Points a few millimetres apart share one blur: fewer are independent.
    error = TWICE * spread / np.sqrt(used.sum() / 8)
    return fit(s), float(line.coef[1]), float(error)


def _taper_error(by_chance, length):
    """Of the taper: by chance along the stem, and as its ends differ. [mm per m]"""
    return float(np.hypot(by_chance, 1000 * TAPER_ENDS_MM / length))


def _usual(profile, trend, nodes):
    """Points that are the stem's own: seen, at no node, not crushed."""
    usual = np.isfinite(profile.diameter)
    usual &= np.nan_to_num(np.abs(profile.diameter / trend - 1), nan=1) < 0.18
    for node in nodes:
        usual &= np.abs(np.arange(len(usual)) - node) > 5
    return usual


def _length(profile):
    sd = np.hypot(LENGTH_SD_MM, LENGTH_SD_SHARE * profile.length)
    return Sized(profile.length, TWICE * float(sd))


def _diameters(profile, usual, camera):
    """Butt, middle and top."""
    scale, end_at = camera.place[2] / camera.focal_px, terms().end_at_mm
    places = {
        "butt": (end_at, END_HALF_MM),
        "middle": (profile.length / 2, MIDDLE_HALF_MM),
        "top": (profile.length - end_at, END_HALF_MM),
    }
    return {
        name: _diameter(profile, usual, at, half, scale)
        for name, (at, half) in places.items()
    }


def _diameter(profile, usual, at, half, scale):
    """The diameter about a place, or what its neighbourhood leads to."""
    sd = DIAMETER_SD_PX * scale
    near = usual & (np.abs(profile.s - at) <= half)
    if near.sum() >= LEAST_POINTS:
        return Sized(float(np.median(profile.diameter[near])), TWICE * sd)
    near = usual & (np.abs(profile.s - at) <= 6 * half)
    if near.sum() < 3 * LEAST_POINTS:
        return None
    fit = np.polynomial.Polynomial.fit(profile.s[near], profile.diameter[near], 1)
    return Sized(float(fit(at)), TWICE * 1.5 * sd)


def _thirds(profile, usual):
    """Taper of each third, from the butt. [mm per m]"""
    edges = np.linspace(0, profile.length, 4)
    return tuple(
        _slope(profile, usual & (profile.s >= low) & (profile.s < high))
        for low, high in itertools.pairwise(edges)
    )


def _slope(profile, used):
    if used.sum() < 5 * LEAST_POINTS:
        return None
    s, d = profile.s[used] / 1000, profile.diameter[used]
    return -float(np.polynomial.Polynomial.fit(s, d, 1).convert().coef[1])


def _colour(profile, colours, nodes):
    """CIELAB of the stem between its nodes, and how much of it looks green."""
    away = np.ones(len(profile.s), bool)
    away[:8] = away[-8:] = False
    for node in nodes:
        away &= np.abs(np.arange(len(away)) - node) > 5
    lab = colours.lab(profile.light[away])
    hue = np.degrees(np.arctan2(lab[:, 2], lab[:, 1]))
    middle = colours.lab(np.median(profile.light[away], axis=0))
    return tuple(float(each) for each in middle), float(
        (hue > terms().green_hue_deg).mean()
    )


def _leaf_of(trace, mask):
    """Where a piece hangs and where its tip is, if it narrows as a leaf does.

    Returns
    -------
    ndarray, shape (2, xy), or None [mm]
    """
    if not trace.unsure or _long(trace) >= LONGEST_LEAF_MM:
        return None
    ends = path_of(trace, mask)[0][[0, -1]]
    joined = bool(trace.parts[0].before), bool(trace.parts[-1].after)
    narrows = _narrowing(trace)
    if narrows < 0:
        ends, joined = ends[::-1], joined[::-1]
    long = np.hypot(*(ends[1] - ends[0]))
    least = LEAST_BETWEEN_MM if all(joined) else LEAST_LEAF_MM
    if not joined[0] or long < least or abs(narrows) < LEAF_NARROWS * long:
        return None
    return ends


def _narrowing(trace):
    """How much of its width a piece loses from left to right; less than 0, gains.

    Nought if that is not clear.
    """
    x, across = (
        np.concatenate([getattr(part, name) for part in trace.parts])
        for name in ("x", "across")
    )
    if len(x) < LEAST_COLUMNS:
        return 0.0
    if len(x) > 2 * LEAST_COLUMNS:
        # The outermost columns are cut off aslant by what lies there.
        x, across = x[1:-1], across[1:-1]
    slope, level = np.polyfit(x, across, 1)
    miss = max(float(np.std(across - level - slope * x)), LEAST_MISS_MM)
    if abs(slope) * np.sqrt(((x - x.mean()) ** 2).sum()) < CLEARLY * miss:
        return 0.0
    widths = level + slope * x[[0, -1]]
    return float((widths[0] - widths[1]) / widths.max())


def _with_leaves(stems, leaves):
    """Each leaf given to the stem that it hangs on; how many hang on none."""
    length, loose = [0.0] * len(stems), 0
    for leaf in leaves:
        base, tip = leaf
        gaps = [np.hypot(*(stem.line - base).T).min() for stem in stems]
        # What goes on where another's tip meets a stem is the rest of that other.
        tips = [other[1] for other in leaves if other is not leaf]
        goes_on = any(np.hypot(*(each - base)) < ONE_LEAF_MM for each in tips)
        if gaps and min(gaps) < LEAF_FROM_STEM_MM and not goes_on:
            at = int(np.argmin(gaps))
            length[at] += float(np.hypot(*(tip - base))) + gaps[at]
        else:
            loose += not goes_on
    return [
        dataclasses.replace(stem, leaf_mm=long) if long else stem
        for stem, long in zip(stems, length, strict=True)
    ], loose
