"""Invented straw on the printed board, photographed: pictures of which all is known.

The board is the one that is printed (its own PNG); everything else is made here, and
shares no code with the measurer.
"""

import dataclasses
import functools
import io
import itertools
import math
from pathlib import Path

import numpy as np
import tracer
from PIL import Image
from scipy import ndimage

from sheafwright.documents.board import board_picture
from sheafwright.measure.board import board

TEXTURE_PER_MM = 5
STEP_MM = 3.0
BUTT_AT_MM = 30.0
"""How far from an end a stem's end diameter is told."""
NEAR_END_MM = 9.0
TEXTURES = Path(__file__).parent / "textures"
REAL_EVERY = 5
"""Of good photographs every so manieth lies on a photographed ground."""
LIGHT_STEPS = 2**18
AREA = (9.0, 46.0, 1321.0, 210.0)
"""Where straw is laid. [mm]"""


@dataclasses.dataclass
class Stem:
    """A stem as it is made; all along from the butt. [mm]"""

    line: np.ndarray
    """(point, xyz) of its axis."""
    s: np.ndarray
    radius: np.ndarray
    """Of the tube, nodes and crushed parts included."""
    butt_mm: float
    middle_mm: float
    top_mm: float
    nodes: list
    dogleg: tuple | None
    """Angle [°] and where."""
    curve_deg: float
    lab: tuple
    linear: tuple
    crushed: list
    splits: list
    mould: list
    leaf: np.ndarray | None = None
    touching: bool = False
    crossing: bool = False
    layer: int = 0

    @property
    def length_mm(self):
        return float(self.s[-1])


@dataclasses.dataclass
class Scene:
    """Stems and the photograph of them, as the bytes of a JPEG."""

    stems: list
    jpeg: bytes
    camera: dict


@functools.cache
def printed():
    picture = Image.open(io.BytesIO(board_picture(board(), TEXTURE_PER_MM)))
    return np.asarray(picture.convert("RGB"))


def lab_of(linear):
    """CIELAB (D65) of linear sRGB, by the standard's own numbers."""
    to_xyz = [
        [0.4124564, 0.3575761, 0.1804375],
        [0.2126729, 0.7151522, 0.0721750],
        [0.0193339, 0.1191920, 0.9503041],
    ]
    t = np.array(to_xyz) @ linear / [0.95047, 1.0, 1.08883]
    f = np.where(t > (6 / 29) ** 3, np.cbrt(t), t / (3 * (6 / 29) ** 2) + 4 / 29)
    return 116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])


def decoded(code):
    code = np.asarray(code, float)
    return np.where(code <= 0.04045, code / 12.92, ((code + 0.055) / 1.055) ** 2.4)


def encoded(linear):
    linear = np.clip(linear, 0, None)
    return np.where(
        linear <= 0.0031308, linear * 12.92, 1.055 * linear ** (1 / 2.4) - 0.055
    )


# Straw.


def _shape(rng, length, dogleg):
    """A stem's axis, its butt at 0 and lying along x: (s, x, y)."""
    s = np.arange(0, length, STEP_MM / 2)
    s = np.append(s, length)
    total = math.radians(rng.normal(0, 2.5))
    turn = total * (s / length - 0.5)
    wave = rng.normal(0, 0.006) * np.sin(2 * np.pi * (s / length * rng.uniform(1, 2.5)))
    turn = turn + wave
    if dogleg:
        turn = turn + math.radians(dogleg[0]) * (s > dogleg[1])
    mid = (turn[1:] + turn[:-1]) / 2
    # The turn stands at one point: the step before it is straight, so is that after.
    ds = np.diff(s)
    x = np.append(0, np.cumsum(ds * np.cos(mid)))
    y = np.append(0, np.cumsum(ds * np.sin(mid)))
    s = np.append(0, np.cumsum(np.hypot(np.diff(x), np.diff(y))))
    return s, x, y, math.degrees(abs(total))


def _nodes(rng, length):
    """Four to six nodes; the lowest parts are the shortest."""
    count = int(rng.integers(4, 7))
    parts = np.sort(rng.uniform(0.5, 1.5, count + 1) * np.linspace(0.5, 1.7, count + 1))
    at = np.cumsum(parts / parts.sum())[:-1] * length
    return [float(each) for each in at if 25 < each < length - 40]


def _colour(rng):
    kind = rng.choice(["ripe", "ripe", "ripe", "green", "weathered"])
    base = {
        "ripe": (215, 180, 105),
        "green": (178, 180, 100),
        "weathered": (160, 148, 122),
    }[kind]
    code = np.array(base) / 255 * rng.uniform(0.9, 1.08) + rng.normal(0, 0.012, 3)
    return decoded(np.clip(code, 0.1, 0.97))


def _harm(rng, s):
    """Where a stem is crushed, split and mouldy: lists of from and to. [mm]"""
    crushed, splits, mould = [], [], []
    if rng.random() < 0.08:
        start = rng.uniform(60, s[-1] - 120)
        crushed.append((start, start + rng.uniform(25, 60)))
    if rng.random() < 0.08:
        start = rng.uniform(60, s[-1] - 160)
        splits.append((start, start + rng.uniform(40, 100)))
    if rng.random() < 0.1:
        for _ in range(rng.integers(1, 4)):
            start = rng.uniform(60, s[-1] - 120)
            mould.append((start, start + rng.uniform(15, 50)))
    return crushed, splits, mould


def make_stem(rng, dogleg=False, damage=True):
    length = float(
        rng.uniform(620, 1240) if rng.random() < 0.85 else rng.uniform(300, 620)
    )
    nodes = _nodes(rng, length)
    leg = None
    if dogleg and nodes:
        at = nodes[0] if rng.random() < 0.6 else nodes[-1]
        leg = (float(rng.choice([-1, 1]) * rng.uniform(12, 45)), at)
    s, x, y, curve = _shape(rng, length, leg)
    if leg:
        # The vertex nearest to the node is where it really turns.
        leg = (leg[0], float(s[np.searchsorted(s, leg[1])]))
        nodes = [leg[1] if abs(leg[1] - n) < 4 else n for n in nodes]
    butt, top = rng.uniform(3.2, 5.4), rng.uniform(1.9, 3.0)
    bulge = rng.uniform(-0.15, 0.25)
    share = s / s[-1]
    smooth = butt + (top - butt) * share + bulge * 4 * share * (1 - share)
    radius = smooth / 2
    for node in nodes:
        radius = radius * (
            1 + rng.uniform(0.06, 0.2) * np.exp(-(((s - node) / 1.8) ** 2))
        )
    crushed, splits, mould = _harm(rng, s) if damage else ([], [], [])
    for start, end in crushed:
        flat = np.clip(np.minimum(s - start, end - s) / 4, 0, 1)
        radius = radius * (1 + 0.45 * flat)
    linear = _colour(rng)
    at = [BUTT_AT_MM, s[-1] / 2, s[-1] - BUTT_AT_MM]
    ends = np.interp(at, s, smooth)
    return Stem(
        line=np.stack([x, y, radius], axis=1),
        s=s,
        radius=radius,
        butt_mm=float(ends[0]),
        middle_mm=float(ends[1]),
        top_mm=float(ends[2]),
        nodes=nodes,
        dogleg=leg,
        curve_deg=curve,
        lab=lab_of(linear),
        linear=tuple(linear),
        crushed=crushed,
        splits=splits,
        mould=mould,
    )


def _put(stem, x, y, angle, flip):
    """The stem's points, its middle at (x, y)."""
    points = stem.line[:, :2] - stem.line[:, :2].mean(axis=0)
    if flip:
        points = points * [-1, 1]
    c, s = math.cos(angle), math.sin(angle)
    return points @ np.array([[c, s], [-s, c]]) + [x, y]


def _inside(points, edge=6.0):
    left, top, right, bottom = AREA
    low, high = points.min(axis=0), points.max(axis=0)
    return (
        low[0] > left + edge
        and high[0] < right - edge
        and low[1] > top + edge
        and high[1] < bottom - edge
    )


def _clear(points, radius, others):
    """The least gap to other stems. [mm]"""
    least = 1e9
    for other, other_radius in others:
        # Looked at roughly first: most stems are far apart.
        rough = _gaps(points, radius, other, other_radius, 12)
        near = rough < 2 * 12 * STEP_MM
        least = min(
            least, _gaps(points, radius, other, other_radius, 2) if near else rough
        )
    return least


def _gaps(points, radius, other, other_radius, each):
    """The least gap between two stems, by every so manieth point. [mm]"""
    thick, other_thick = radius[::each], other_radius[::each]
    return tracer.least_gap(points[::each], thick, other[::each], other_thick)


def lay(rng, count, share_crossing=0.25, share_touching=0.012, share_dogleg=0.4):
    """Stems laid along the board; most apart, some crossing, a few touching."""
    laid, placed = [], []
    for _ in range(count):
        stem = make_stem(rng, dogleg=rng.random() < share_dogleg)
        crossing = bool(placed) and rng.random() < share_crossing
        for _try in range(150):
            flip = rng.random() < 0.08
            steep = 4.0 if crossing else 0.8
            points = _put(
                stem,
                rng.uniform(300, 1030),
                rng.uniform(AREA[1], AREA[3]),
                math.radians(rng.normal(0, steep)),
                flip,
            )
            if not _inside(points):
                continue
            gap = _clear(points, stem.radius, placed)
            if gap > 3.0 or (crossing and gap < -2.5 and _ends_apart(points, placed)):
                stem.crossing = gap < 0
                placed.append((points, stem.radius))
                stem.line[:, :2] = points
                stem.layer = len(laid)
                laid.append(stem)
                break
    if len(laid) > 2 and rng.random() < share_touching * len(laid):
        _push_together(rng, laid)
    _lift(laid)
    return laid


def _ends_apart(points, placed):
    """Whether no end of either lies on the other, nor near."""
    for other, _radius in placed:
        for ends, line in ((points[[0, -1]], other), (other[[0, -1]], points)):
            gaps = np.hypot(*(ends[:, None, :] - line[None, :, :]).transpose(2, 0, 1))
            if gaps.min() < 14:
                return False
    return True


def _push_together(rng, laid):
    """Move one stem aside until it touches its neighbour."""
    order = sorted(range(len(laid)), key=lambda n: laid[n].line[:, 1].mean())
    at = int(rng.integers(len(order) - 1))
    above, below = laid[order[at]], laid[order[at + 1]]
    for _ in range(200):
        gap = _clear(
            below.line[:, :2], below.radius, [(above.line[:, :2], above.radius)]
        )
        if gap < 0.05:
            break
        below.line[:, 1] -= min(gap, 0.5)
    above.touching = below.touching = True


def _lift(laid):
    """Raise each stem over those laid before it that it crosses."""
    for number, stem in enumerate(laid):
        for other in laid[:number]:
            at, there, gap = tracer.nearest(stem.line, other.line)
            if gap < stem.radius[at] + other.radius[there] - 0.5:
                rise = 2 * other.radius[there]
                stem.line[:, 2] += rise * np.exp(-(((stem.s - stem.s[at]) / 45) ** 2))


def add_leaf(rng, stem):
    """A blade that hangs on at a node."""
    if not stem.nodes:
        return
    node = stem.nodes[int(rng.integers(len(stem.nodes)))]
    at = int(np.searchsorted(stem.s, node))
    at = min(max(at, 1), len(stem.s) - 2)
    way = stem.line[at + 1, :2] - stem.line[at - 1, :2]
    angle = math.atan2(way[1], way[0]) + rng.choice([-1, 1]) * rng.uniform(0.35, 0.8)
    n = np.arange(0, rng.uniform(25, 60), STEP_MM)
    bend = angle + rng.normal(0, 0.006) * n
    points = stem.line[at, :2] + np.cumsum(
        STEP_MM * np.stack([np.cos(bend), np.sin(bend)], axis=1), axis=0
    )
    wide = rng.uniform(1.5, 3.0) * np.clip(1.15 - n / n[-1], 0.1, 1)
    stem.leaf = np.column_stack([points, np.full(len(n), 0.8), wide])


# The picture.


def _segments(stems):
    """Rows of 14: ends, radii, where along, flat, first, last, where to, whose."""
    rows, colours, marks = [], [], []
    for number, stem in enumerate(stems):
        _stem_rows(rows, stem, number)
        colours.append(stem.linear)
        marks += [(number, 0, n - 1.6, n + 1.6, 0.5) for n in stem.nodes]
        marks += [(number, 1, a, b, number + a) for a, b in stem.mould]
        marks += [(number, 2, a, b, 0.15) for a, b in stem.splits]
    for number, stem in enumerate(stems):
        if stem.leaf is not None:
            leaf = stem.leaf
            for a, b in itertools.pairwise(leaf):
                rows.append((*a[:3], *b[:3], a[3], b[3], 5e3, 1, 0, 0, 5e3, number))
    # Those of one stem stand together, in the order in which they were made.
    marks.sort(key=lambda mark: mark[0])
    first = np.searchsorted([mark[0] for mark in marks], np.arange(len(stems) + 1))
    shapes = (rows, (-1, 14)), (colours, (-1, 3)), (marks, (-1, 5))
    arrays = (np.array(each, float).reshape(shape) for each, shape in shapes)
    return *arrays, first


def _stem_rows(rows, stem, number):
    line = stem.line
    for at in range(len(stem.s) - 1):
        ends = (*line[at], *line[at + 1])
        sizes = stem.radius[at], stem.radius[at + 1]
        # A ball about a point near an end would bulge out of it: the end is cut flat.
        first = float(stem.s[at] < NEAR_END_MM)
        final = float(stem.s[at + 1] > stem.s[-1] - NEAR_END_MM)
        rows.append(
            (*ends, *sizes, stem.s[at], 0, first, final, stem.s[at + 1], number)
        )


def _ends(stems):
    """Of each stem both flat ends: a point, and the way out (stem, end, 6)."""
    ends = []
    for stem in stems:
        for at, back in ((0, 4), (-1, -5)):
            way = stem.line[at] - stem.line[back]
            ends.append([*stem.line[at], *(way / np.linalg.norm(way))])
    return np.array(ends).reshape(len(stems), 2, 6)


@dataclasses.dataclass
class Ground:
    """What the board lies on and straw's own surface, from photographs."""

    picture: np.ndarray
    """Of the ground: light, its mean 1 (row, column)."""
    tint: np.ndarray
    lie: np.ndarray
    """How it is turned, in pixels a millimetre, and where it begins."""
    skin: np.ndarray
    rough: float
    """How much of the picture's contrast straw has."""


KINDS = {
    "grass": ((0.11, 0.17, 0.05), (0.7, 1.2)),
    "gravel": ((0.28, 0.26, 0.23), (0.6, 1.0)),
    "brick": ((0.22, 0.11, 0.08), (1.5, 2.5)),
}
"""Of each photograph the colour, which is ours, and how large it is. [mm per pixel]"""
PLANKS = Ground(
    np.ones((2, 2), np.float32),
    np.ones(3),
    np.zeros(4),
    np.ones((2, 2), np.float32),
    0.0,
)


@functools.cache
def photographed(name):
    code = np.asarray(Image.open(TEXTURES / f"{name}.png").convert("L")) / 255
    light = decoded(code)
    return (light / light.mean()).astype(np.float32)


def ground_of(seed):
    """A ground and a surface of straw by this number alone."""
    rng = np.random.default_rng([seed, 77])
    name = str(rng.choice(list(KINDS)))
    colour, sizes = KINDS[name]
    turn, per_mm = rng.uniform(0, 2 * math.pi), 1 / rng.uniform(*sizes)
    lie = [per_mm * math.cos(turn), per_mm * math.sin(turn), *rng.uniform(0, 999, 2)]
    tint = np.array(colour) * rng.uniform(0.7, 1.3)
    skin = photographed(str(rng.choice(["grass", "gravel"])))
    return Ground(
        photographed(name), tint, np.array(lie), skin, float(rng.uniform(0.15, 0.45))
    )


def camera_of(rng, size, pitch=None, yaw=None, fill=None, distort=True, ground=None):
    """A camera that sees the whole board, held about above its middle."""
    width, height = size
    f = width * rng.uniform(24, 31) / 36
    pitch = rng.normal(0, 9) if pitch is None else pitch
    yaw = rng.normal(0, 5) if yaw is None else yaw
    roll = rng.normal(0, 1.5)
    fill = rng.uniform(0.9, 0.97) if fill is None else fill
    turn = _turned(pitch, yaw, roll)
    k1, k2 = (rng.uniform(-0.1, 0.06), rng.uniform(-0.03, 0.03)) if distort else (0, 0)
    centre = (width / 2 + rng.normal(0, 8), height / 2 + rng.normal(0, 8))
    lens = (f, *centre, k1, k2)
    target = np.array([665.0, 125.0, 0.0])
    low, high = 300.0, 6000.0
    for _ in range(40):
        away = (low + high) / 2
        origin = target - turn[:, 2] * away
        if _fits(lens, origin, turn, size, fill):
            high = away
        else:
            low = away
    origin = target - turn[:, 2] * high
    return {
        "lens": lens,
        "origin": origin,
        "turn": turn,
        "size": size,
        "ground": ground,
    }


def _turned(pitch, yaw, roll):
    """From the camera's axes (right, down, ahead) to the board's."""
    a, b, c = (math.radians(each) for each in (pitch, yaw, roll))
    base = np.array([[1.0, 0, 0], [0, 1.0, 0], [0, 0, -1.0]])
    rx = np.array(
        [[1, 0, 0], [0, math.cos(a), -math.sin(a)], [0, math.sin(a), math.cos(a)]]
    )
    ry = np.array(
        [[math.cos(b), 0, math.sin(b)], [0, 1, 0], [-math.sin(b), 0, math.cos(b)]]
    )
    rz = np.array(
        [[math.cos(c), -math.sin(c), 0], [math.sin(c), math.cos(c), 0], [0, 0, 1]]
    )
    return base @ rx @ ry @ rz


def seen(lens, origin, turn, points):
    """Where points of space stand in the picture. [pixel]"""
    f, cx, cy, k1, k2 = lens
    local = (np.asarray(points, float) - origin) @ turn
    x, y = local[:, 0] / local[:, 2], local[:, 1] / local[:, 2]
    rr = x * x + y * y
    bend = 1 + k1 * rr + k2 * rr * rr
    return np.stack([f * x * bend + cx, f * y * bend + cy], axis=1)


def _fits(lens, origin, turn, size, fill):
    if origin[2] < 100:
        return False
    corners = np.array([[0, 0, 0], [1330, 0, 0], [1330, 250, 0], [0, 250, 0.0]])
    corners = np.concatenate([corners, (corners + np.roll(corners, 1, axis=0)) / 2])
    if ((corners - origin) @ turn)[:, 2].min() < 50:
        return False
    at = np.abs(seen(lens, origin, turn, corners) / size - 0.5) * 2
    return bool(at.max() < fill)


def light_of(rng):
    """Where light comes from, how much is sky, how soft its shadows, its fading."""
    high = math.radians(rng.uniform(38, 78))
    round_ = rng.uniform(0, 2 * math.pi)
    light = np.array(
        [
            math.cos(high) * math.cos(round_),
            math.cos(high) * math.sin(round_),
            math.sin(high),
        ]
    )
    cast = np.array([rng.normal(0, 0.08), 0, rng.normal(0, 0.10)])
    depth = rng.uniform(0.2, 0.5) if rng.random() < 0.2 else 0.0
    fade = [rng.normal(0, 0.09), rng.normal(0, 0.05), rng.uniform(200, 1100)]
    fade += [rng.uniform(-1, 1), depth, *(1 + cast)]
    return light, rng.uniform(0.4, 0.8), rng.uniform(1, 3), np.array(fade, float)


def part_of(camera, edge=70):
    """The part of a picture that is drawn: left, top, right, bottom. [pixel]

    All of it on a photographed ground; else what the board is in.
    """
    width, height = camera["size"]
    if camera["ground"]:
        return 0, 0, width, height
    along = np.linspace(0, 1330, 15)
    rim = [(x, y, 0) for x in along for y in (0, 250)]
    at = seen(camera["lens"], camera["origin"], camera["turn"], rim)
    left, top = np.maximum(at.min(axis=0) - edge, 0).astype(int)
    right, bottom = np.minimum(at.max(axis=0) + edge, (width, height)).astype(int)
    return left, top, right, bottom


def render(rng, stems, camera, light=None, samples=2, sheets=None, texture=None):
    """Light that reaches the pixels of `part_of`: (row, column, 3), about 0 to 1."""
    segs, colours, marks, first = _segments(stems)
    sun, ambient, soft, fade = light_of(rng) if light is None else light
    if sheets is None:
        sheets = rng.normal(0, [0.2, 0.2, 0.0006], (7, 3))
    texture = printed() if texture is None else texture
    linear = decoded(np.arange(256) / 255).astype(np.float32)
    bins = tracer.binned(segs, 1330, 250)
    paper = (sheets, 190.0, texture, float(texture.shape[1] / 1330), linear)
    bounds = tracer.bounds_of(segs, sun, soft)
    scene = (segs, bounds, *bins, colours, marks, first, _ends(stems))
    on = camera["ground"] or PLANKS
    surfaces = (on.picture, on.tint, on.lie, on.skin, on.rough)
    scene = (*scene, sun, ambient, soft, paper, surfaces)
    left, top, right, bottom = part_of(camera)
    image = np.zeros((bottom - top, right - left, 3), np.float32)
    lens, origin, turn = (camera[name] for name in ("lens", "origin", "turn"))
    lens = (*lens[:3], *tracer.straightened(lens, left, top, image.shape))
    work = np.zeros(3), np.zeros(image.shape[1], np.uint8)
    tracer.trace(image, left, top, lens, origin, turn, scene, fade, samples, work)
    return image


def exposed(rng, image, camera, **how):
    """The JPEG that a phone makes of that light."""
    width, height = camera["size"]
    table = rng.normal(110, 12, (height // 25, width // 125, 1))
    table = table + np.array([9, 0, -12])
    table = Image.fromarray(table.clip(0, 255).astype(np.uint8))
    whole = np.array(table.resize((width, height), Image.Resampling.BILINEAR))
    left, top, right, bottom = part_of(camera)
    whole[top:bottom, left:right] = _developed(rng, image, **how)
    out = io.BytesIO()
    quality = how.get("quality") or int(rng.integers(84, 96))
    Image.fromarray(whole).save(
        out, "JPEG", quality=quality, subsampling=str(rng.choice(["4:2:0", "4:4:4"]))
    )
    return out.getvalue()


def _developed(rng, image, blur=None, exposure=None, noise=None, gamma=None, **_):
    blur = rng.uniform(0.45, 0.8) if blur is None else blur
    image = ndimage.gaussian_filter(image, (blur, blur, 0), truncate=3)
    exposure = rng.uniform(0.72, 0.95) if exposure is None else exposure
    noise = rng.uniform(0.002, 0.006) if noise is None else noise
    grain = rng.standard_normal(image.shape, dtype=np.float32)
    gamma = rng.uniform(0.92, 1.08) if gamma is None else gamma
    # Light in steps so fine that the darkest code has eighty of them.
    codes = encoded(np.linspace(0, 1, LIGHT_STEPS)) ** gamma * 255 + 0.5
    written = np.empty(image.shape, np.uint8)
    codes = codes.astype(np.uint8)
    tracer.coded(image, grain, exposure, noise, codes, written)
    return written


def make_scene(seed, size=(4000, 3000), count=None):
    """One good photograph, of which all is known."""
    rng = np.random.default_rng(seed)
    stems = lay(rng, int(rng.integers(5, 13)) if count is None else count)
    for stem in stems:
        if rng.random() < 0.06:
            add_leaf(rng, stem)
    ground = ground_of(seed) if seed % REAL_EVERY == 0 else None
    camera = camera_of(rng, size, ground=ground)
    image = render(rng, stems, camera)
    return Scene(stems, exposed(rng, image, camera), camera)


# Photographs that no one should measure by.


def make_bad(seed, size=(4000, 3000)):
    """A bad photograph of good straw: its `Scene`, and what is wrong with it."""
    rng = np.random.default_rng(10_000 + seed)
    stems = lay(rng, 6, share_crossing=0.1, share_touching=0)
    kind = list(BAD)[seed % len(BAD)]
    # Every other ten of them lie on a photographed ground.
    ground = ground_of(seed) if seed // len(BAD) % 2 else None
    hold = functools.partial(camera_of, rng, size, ground=ground)
    return BAD[kind](rng, stems, hold), kind


def _photo(rng, stems, camera, spoil=None, **how):
    image = render(rng, stems, camera, **how.pop("render", {}))
    if spoil:
        image = spoil(image)
    return Scene(stems, exposed(rng, image, camera, **how), camera)


def _out_of_focus(rng, stems, hold):
    return _photo(rng, stems, hold(), blur=float(rng.uniform(1.6, 5)))


def _shaken(rng, stems, hold):
    length = int(rng.integers(7, 22))
    axis = int(rng.integers(2))
    return _photo(
        rng,
        stems,
        hold(),
        lambda image: ndimage.uniform_filter1d(image, length, axis=axis),
    )


def _dark(rng, stems, hold):
    how = {"exposure": float(rng.uniform(0.004, 0.03)), "noise": 0.006}
    return _photo(rng, stems, hold(), **how)


def _glaring(rng, stems, hold):
    """The sun, or a flash, in a glossy board."""
    camera = hold()

    def spoil(image):
        rows, columns = np.mgrid[: image.shape[0], : image.shape[1]]
        y, x = (n * rng.uniform(0.35, 0.65) for n in image.shape[:2])
        far = np.hypot((columns - x) / rng.uniform(1, 2), rows - y)
        spot = 4 * np.exp(-((far / rng.uniform(90, 220)) ** 2))
        return image + spot[..., None].astype(np.float32)

    return _photo(rng, stems, camera, spoil)


def _cut_off(rng, stems, hold):
    """Part of the board lies outside the picture."""
    camera = hold()
    f, cx, cy, k1, k2 = camera["lens"]
    aside = camera["size"][0] * rng.uniform(0.08, 0.3) * rng.choice([-1, 1])
    camera["lens"] = (f, cx + aside, cy, k1, k2)
    return _photo(rng, stems, camera)


def _small(rng, stems, hold):
    size = hold.args[1]
    small = tuple(int(each * rng.uniform(0.3, 0.6)) for each in size)
    ground = hold.keywords["ground"]
    return _photo(rng, stems, camera_of(rng, small, ground=ground))


def _aslant(rng, stems, hold):
    pitch = float(rng.choice([-1, 1]) * rng.uniform(40, 58))
    return _photo(rng, stems, hold(pitch=pitch))


def _no_board(rng, stems, hold):
    texture = np.full_like(printed(), 120)
    return _photo(rng, stems, hold(), render={"texture": texture})


def _ill_taped(rng, stems, hold):
    """Sheets that lie well apart, or aslant."""
    sheets = rng.normal(0, [0.2, 0.2, 0.0006], (7, 3))
    at = int(rng.integers(1, 6))
    sheets[at:, 0] += rng.uniform(3, 9)
    sheets[at, 2] += rng.normal(0, 0.01)
    return _photo(rng, stems, hold(fill=0.9), render={"sheets": sheets})


def _covered(rng, stems, hold):
    """Something lies over one end of the board."""
    camera = hold()

    def spoil(image):
        wide = int(image.shape[1] * rng.uniform(0.15, 0.35))
        part = slice(0, wide) if rng.random() < 0.5 else slice(-wide, None)
        image[:, part] = 0.12
        return image

    return _photo(rng, stems, camera, spoil)


BAD = {
    "out of focus": _out_of_focus,
    "shaken": _shaken,
    "dark": _dark,
    "glare": _glaring,
    "cut off": _cut_off,
    "too small": _small,
    "aslant": _aslant,
    "no board": _no_board,
    "ill taped": _ill_taped,
    "covered": _covered,
}
