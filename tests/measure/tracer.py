"""A small ray tracer: straw as cones that lie on a flat board, seen by a camera.

It shares nothing with the measurer: it goes from millimetres to pixels, ray by ray.
"""

import math

import numpy as np
from numba import njit

fast = njit(cache=True, fastmath=True, _nrt=False)
"""Nothing is made in these, so that no array needs counting."""

CELL_MM = 4.0
REACH_MM = 9.0
"""A ray met at half a stem's height can touch straw no farther than this."""
MID_MM = 2.0
LENS_STEPS = 4096
ALONG_PER_MM, ACROSS = 1.5, 30.0
"""Pixels of a photographed surface by the millimetre of a stem, and by its radius."""


@fast
def _noise(x, y, seed):
    """Smooth noise of −1 to 1."""
    i, j = math.floor(x), math.floor(y)
    fx, fy = x - i, y - j
    fx, fy = fx * fx * (3 - 2 * fx), fy * fy * (3 - 2 * fy)
    total = 0.0
    for di in range(2):
        for dj in range(2):
            mixed = int(i + di) * 374761393 + int(j + dj) * 668265263
            mixed = (mixed + int(seed * 97) * 69069) & 0x7FFFFFFF
            mixed = ((mixed ^ (mixed >> 13)) * 1274126177) & 0x7FFFFFFF
            value = ((mixed ^ (mixed >> 16)) & 0xFFFF) / 32768.0 - 1
            total += value * (fx if di else 1 - fx) * (fy if dj else 1 - fy)
    return total


@fast
def _touch(ox, oy, oz, dx, dy, dz, segs, n, flat):
    """Where a ray meets a segment: how far along, at which share, how far aside."""
    x0, y0, z0 = segs[n, 0], segs[n, 1], segs[n, 2]
    ex, ey, ez = segs[n, 3] - x0, segs[n, 4] - y0, segs[n, 5] - z0
    ee = ex * ex + ey * ey + ez * ez
    if flat:
        # A leaf: a strip at one height.
        along = (0.5 * (z0 + segs[n, 5]) - oz) / dz
        px, py = ox + along * dx - x0, oy + along * dy - y0
        share = (px * ex + py * ey) / ee
        share = min(1.0, max(0.0, share))
        side = (px - share * ex) * ey - (py - share * ey) * ex
        aside = math.sqrt((px - share * ex) ** 2 + (py - share * ey) ** 2)
        return along, share, aside if side > 0 else -aside
    wx, wy, wz = ox - x0, oy - y0, oz - z0
    de = dx * ex + dy * ey + dz * ez
    dw = dx * wx + dy * wy + dz * wz
    ew = ex * wx + ey * wy + ez * wz
    share = (ew - de * dw) / (ee - de * de)
    share = min(1.0, max(0.0, share))
    along = share * de - dw
    qx = wx + along * dx - share * ex
    qy = wy + along * dy - share * ey
    qz = wz + along * dz - share * ez
    aside = math.sqrt(qx * qx + qy * qy + qz * qz)
    side = qx * ey - qy * ex
    return along, share, aside if side > 0 else -aside


@fast
def _depth(dx, dy, dz, radius, aside, segs, n):
    """How far before its nearest point a ray enters the tube."""
    ex, ey, ez = (
        segs[n, 3] - segs[n, 0],
        segs[n, 4] - segs[n, 1],
        segs[n, 5] - segs[n, 2],
    )
    along = dx * ex + dy * ey + dz * ez
    across = 1 - along * along / (ex * ex + ey * ey + ez * ez)
    return math.sqrt(max(radius * radius - aside * aside, 0.0) / max(across, 0.05))


@fast
def _cut_off(hx, hy, hz, segs, n, ends):
    """Whether a hit lies beyond a stem's flat ends."""
    for at in range(2):
        if segs[n, 10 + at] == 0:
            continue
        stem, out = int(segs[n, 13]), 0.0
        for c, place in enumerate((hx, hy, hz)):
            out += (place - ends[stem, at, c]) * ends[stem, at, c + 3]
        if out > 0:
            return True
    return False


@fast
def _lit(x, y, light, segs, bounds, starts, items, columns, rows, soft):
    """Share of the light, and of the sky, that reaches a point of the board."""
    lx, ly, lz = light
    mx, my = x + MID_MM * lx / lz, y + MID_MM * ly / lz
    cx, cy = int(mx / CELL_MM), int(my / CELL_MM)
    sun, sky = 1.0, 1.0
    if cx < 0 or cy < 0 or cx >= columns or cy >= rows:
        return sun, sky
    cell = cy * columns + cx
    # The nearest straw takes most of the sky: how far it is, in its own thickness.
    nearest = 1e9
    for at in range(starts[cell], starts[cell + 1]):
        n = items[at]
        aside2 = (mx - bounds[n, 0]) ** 2 + (my - bounds[n, 1]) ** 2
        if aside2 > bounds[n, 5]:
            # It takes no sun here; nor sky, if another is surely nearer.
            apart2 = (x - bounds[n, 0]) ** 2 + (y - bounds[n, 1]) ** 2
            if apart2 > (bounds[n, 6] + nearest * bounds[n, 7]) ** 2:
                continue
        along, share, aside = _touch(x, y, 0.0, lx, ly, lz, segs, n, segs[n, 9] > 0)
        if along < 0:
            continue
        radius = segs[n, 6] + share * (segs[n, 7] - segs[n, 6])
        reach = soft * (0.3 + along * 0.15)
        passed = min(1.0, max(0.0, 0.5 + (abs(aside) - radius) / reach))
        sun = min(sun, passed)
        if segs[n, 9] == 0:
            gx = x - segs[n, 0] - share * (segs[n, 3] - segs[n, 0])
            gy = y - segs[n, 1] - share * (segs[n, 4] - segs[n, 1])
            gap = max(math.sqrt(gx * gx + gy * gy) - radius, 0.0)
            nearest = min(nearest, gap / (0.9 * radius))
    if nearest < 40:
        sky = 1 - 0.45 * math.exp(-nearest)
    return sun, sky


@fast
def _paper(x, y, sheets, width, texture, per_mm, linear, out):
    """The board's own colour at a point, its sheets a little apart."""
    guess = int(x / width)
    for tried in range(3):
        sheet = guess + (0 if tried == 0 else (1 if tried == 1 else -1))
        if sheet < 0 or sheet >= sheets.shape[0]:
            continue
        dx, dy, turn = sheets[sheet, 0], sheets[sheet, 1], sheets[sheet, 2]
        mid = (sheet + 0.5) * width
        u, v = x - dx - mid, y - dy
        u, v = u + turn * v + mid, v - turn * u
        if u < sheet * width or u >= (sheet + 1) * width:
            continue
        px, py = u * per_mm - 0.5, v * per_mm - 0.5
        i, j = math.floor(px), math.floor(py)
        if i < 0 or j < 0 or i + 1 >= texture.shape[1] or j + 1 >= texture.shape[0]:
            return False
        fx, fy = px - i, py - j
        for c in range(3):
            top = (
                linear[texture[j, i, c]] * (1 - fx) + linear[texture[j, i + 1, c]] * fx
            )
            low = (
                linear[texture[j + 1, i, c]] * (1 - fx)
                + linear[texture[j + 1, i + 1, c]] * fx
            )
            out[c] = top * (1 - fy) + low * fy
        return True
    if 0 < x < sheets.shape[0] * width and 0 < y < texture.shape[0] / per_mm:
        for c in range(3):
            out[c] = 0.35
        return True
    return False


@fast
def _marks(s, u, marks, first, number, out):  # noqa: C901
    """What nodes, mould and splits do to a stem's colour at a point."""
    for at in range(first[number], first[number + 1]):
        kind, start = int(marks[at, 1]), marks[at, 2]
        end, extra = marks[at, 3], marks[at, 4]
        if s < start - 2 or s > end + 2:
            continue
        edge = min(1.0, max(0.0, min(s - start, end - s) / 0.5 + 0.5))
        if kind == 0:
            for c in range(3):
                out[c] *= 1 - edge * (1 - extra * (1.0 - 0.12 * c))
        elif kind == 1:
            if _noise(s / 2.5, u * 2, extra) > -0.35:
                for c in range(3):
                    out[c] *= 1 - edge * 0.75
                grey = (out[0] + out[1] + out[2]) / 3
                for c in range(3):
                    out[c] += edge * 0.8 * (grey - out[c])
        elif kind == 2 and abs(u - extra) < 0.13:
            for c in range(3):
                out[c] *= 1 - edge * 0.8


@fast
def _surface(x, y, picture):
    """How light a photographed surface is, of its mean; it goes on as in a mirror."""
    height, width = picture.shape
    x, y = abs(x) % (2 * width - 4), abs(y) % (2 * height - 4)
    x, y = min(x, 2 * width - 4 - x), min(y, 2 * height - 4 - y)
    i, j = int(x), int(y)
    fx, fy = x - i, y - j
    top = picture[j, i] * (1 - fx) + picture[j, i + 1] * fx
    low = picture[j + 1, i] * (1 - fx) + picture[j + 1, i + 1] * fx
    return top * (1 - fy) + low * fy


@fast
def _table(x, y, ground, tint, lie, out):
    """What the board lies on: planks, or a photographed ground."""
    if lie[0] == 0:
        grain = 0.16 + 0.05 * _noise(x / 90, y / 7, 3.0) + 0.02 * _noise(x, y, 5.0)
        out[0], out[1], out[2] = grain * 1.15, grain, grain * 0.8
        return
    across, down = lie[0] * x - lie[1] * y, lie[1] * x + lie[0] * y
    shade = _surface(across + lie[2], down + lie[3], ground)
    for c in range(3):
        out[c] = tint[c] * shade


@fast
def _straw(s, u, number, colours, marks, first, skin, rough, out):
    shade = 1 + 0.10 * _noise(s / 25, 0.5, number) + 0.05 * _noise(s / 3, u * 4, number)
    if rough > 0:
        # Drawn out along the stem, as straw's own streaks are.
        seen = _surface(s * ALONG_PER_MM, (u + 1.5 * number) * ACROSS, skin)
        shade *= max(1 + rough * (seen - 1), 0.3)
    for c in range(3):
        out[c] = colours[number, c] * shade
    _marks(s, u, marks, first, number, out)


@fast
def _ray(ox, oy, oz, dx, dy, dz, scene, out):  # noqa: C901
    segs, bounds, starts, items, columns, rows, colours, marks, first = scene[:9]
    ends, light, ambient, soft, paper, surfaces = scene[9:]
    ground, tint, lie, skin, rough = surfaces
    sheets, width, texture, per_mm, linear = paper
    away = (MID_MM - oz) / dz
    mx, my = ox + away * dx, oy + away * dy
    cx, cy = int(mx / CELL_MM), int(my / CELL_MM)
    aslant = math.sqrt(dx * dx + dy * dy) / abs(dz)
    best, found, found_share, found_aside, found_radius = 1e9, -1, 0.0, 0.0, 1.0
    alone = True
    if 0 <= cx < columns and 0 <= cy < rows:
        cell = cy * columns + cx
        alone = starts[cell] == starts[cell + 1]
        for at in range(starts[cell], starts[cell + 1]):
            n = items[at]
            reach = bounds[n, 2] + bounds[n, 3] * aslant
            if (mx - bounds[n, 0]) ** 2 + (my - bounds[n, 1]) ** 2 > reach * reach:
                continue
            flat = segs[n, 9] > 0
            along, share, aside = _touch(ox, oy, oz, dx, dy, dz, segs, n, flat)
            radius = segs[n, 6] + share * (segs[n, 7] - segs[n, 6])
            if abs(aside) >= radius:
                continue
            near = along if flat else along - _depth(dx, dy, dz, radius, aside, segs, n)
            hx, hy, hz = ox + near * dx, oy + near * dy, oz + near * dz
            if near < best and (flat or not _cut_off(hx, hy, hz, segs, n, ends)):
                best, found, found_share = near, n, share
                found_aside, found_radius = aside, radius
    if found < 0:
        away = -oz / dz
        x, y = ox + away * dx, oy + away * dy
        if not _paper(x, y, sheets, width, texture, per_mm, linear, out):
            _table(x, y, ground, tint, lie, out)
        sun, sky = _lit(x, y, light, segs, bounds, starts, items, columns, rows, soft)
        for c in range(3):
            out[c] *= ambient * sky + (1 - ambient) * sun
        return x, y, alone and _plain(x, y, width, sheets.shape[0] * width)
    n = found
    s = segs[n, 8] + found_share * (segs[n, 12] - segs[n, 8])
    u = found_aside / found_radius
    number = int(segs[n, 13])
    _straw(s, u, number, colours, marks, first, skin, rough, out)
    ex, ey = segs[n, 3] - segs[n, 0], segs[n, 4] - segs[n, 1]
    long = math.sqrt(ex * ex + ey * ey)
    # The normal: aside along the board, and up.
    nx, ny, nz = u * ey / long, -u * ex / long, math.sqrt(max(1 - u * u, 0.0))
    if segs[n, 9] > 0:
        nx, ny, nz = 0.0, 0.0, 1.0
    facing = max(0.0, nx * light[0] + ny * light[1] + nz * light[2]) / light[2]
    hx, hy, hz = light[0] - dx, light[1] - dy, light[2] - dz
    half = math.sqrt(hx * hx + hy * hy + hz * hz)
    shine = max(0.0, (nx * hx + ny * hy + nz * hz) / half) ** 30
    gain = ambient * (0.62 + 0.38 * nz) + (1 - ambient) * min(facing, 1.3)
    for c in range(3):
        out[c] = out[c] * gain + (1 - ambient) * 0.07 * shine
    return ox + best * dx, oy + best * dy, False


@fast
def _plain(x, y, width, whole):
    """Whether a point is amid the blue, or off the board: no edge is near."""
    if x < -3 or x > whole + 3 or y < -3 or y > 253:
        return True
    from_joint = abs(x / width - round(x / width)) * width
    return 45 < y < 211 and from_joint > 7


def straightened(camera, left, top, shape):
    """By what a lens's places are to be taken to stand as without it.

    By the square of how far they are from its middle, in so many steps a unit.
    """
    f, cx, cy, k1, k2 = camera
    x = np.array([left - 1, left + shape[1] + 1]) - cx
    y = np.array([top - 1, top + shape[0] + 1]) - cy
    steps = (LENS_STEPS - 2) * f**2 / (max(x**2) + max(y**2))
    seen = np.sqrt(np.arange(1, LENS_STEPS) / steps)
    true = seen
    for _ in range(12):
        true = seen / (1 + k1 * true**2 + k2 * true**4)
    return np.concatenate([[1.0], true / seen]), steps


@fast
def trace(  # noqa: C901
    image, left, top, camera, origin, turn, scene, fade, samples, work
):
    """Fill part of a picture with light from each pixel's rays.

    Parameters
    ----------
    left, top : where the part begins [pixel]
    camera : (f, cx, cy, straight, steps) [pixel], with what `straightened` tells
    origin : where the camera is [mm]
    turn : (3, 3), from the camera's axes to the board's
    fade : (gx, gy, edge x, edge slope, edge depth, r, g, b), light across the board
    """
    f, cx, cy, straight, steps = camera
    gx, gy, edge, slope, depth = fade[0], fade[1], fade[2], fade[3], fade[4]
    out, plain = work
    for j in range(image.shape[0]):
        for i in range(image.shape[1]):
            for c in range(3):
                image[j, i, c] = 0
            # Plain ground, or the table: one ray tells all of a pixel.
            fine = samples
            if i > 0 and plain[i - 1]:
                fine = 1
            plain[i] = 0
            for sub in range(fine * fine):
                a = left + i + (sub % fine + 0.5) / fine - 0.5
                b = top + j + (sub // fine + 0.5) / fine - 0.5
                xd, yd = (a - cx) / f, (b - cy) / f
                far = (xd * xd + yd * yd) * steps
                near = int(far)
                share = straight[near] + (far - near) * (
                    straight[near + 1] - straight[near]
                )
                x, y = xd * share, yd * share
                dx = turn[0, 0] * x + turn[0, 1] * y + turn[0, 2]
                dy = turn[1, 0] * x + turn[1, 1] * y + turn[1, 2]
                dz = turn[2, 0] * x + turn[2, 1] * y + turn[2, 2]
                long = math.sqrt(dx * dx + dy * dy + dz * dz)
                if dz > -0.05 * long:
                    continue
                px, py, alone = _ray(
                    origin[0],
                    origin[1],
                    origin[2],
                    dx / long,
                    dy / long,
                    dz / long,
                    scene,
                    out,
                )
                # Far off the board, light stays as at its rim.
                px, py = min(max(px, -200), 1530), min(max(py, -200), 450)
                gain = 1 + gx * (px - 665) / 665 + gy * (py - 125) / 125
                if depth > 0:
                    gain *= 1 - depth / (1 + math.exp(-(px - edge + slope * py) / 25))
                gain *= 1 - 0.25 * min((xd * xd + yd * yd) / 0.8, 1.0)
                for c in range(3):
                    image[j, i, c] += out[c] * gain * fade[5 + c] / fine**2
                plain[i] = alone


def bounds_of(segs, light, soft):
    """Beyond what a segment is surely not touched: (segment, 8). [mm]

    Its middle (x, y); how far from it a ray passes at height `MID_MM` that touches it,
    straight down, and more by how aslant it is; a free place; the square of how far
    rays of the sun pass that it weakens; how far it reaches, and its thickness, by
    which the sky that it takes is judged.
    """
    low, high = segs[:, 0:3], segs[:, 3:6]
    mid = (low + high) / 2
    half = np.hypot(*(high - low)[:, :2].T) / 2
    radius = segs[:, 6:8].max(axis=1)
    top = np.maximum(low[:, 2], high[:, 2])
    up = np.maximum(np.abs(low[:, 2] - MID_MM), np.abs(high[:, 2] - MID_MM))
    lean = np.hypot(light[0], light[1]) / light[2]
    # A penumbra grows with how far the straw is; it reaches so far past the edge.
    growth = 0.075 * soft / light[2]
    past = (radius + 0.15 * soft + growth * top) / (1 - growth)
    sun = half + past + (up + past) * lean + 0.01
    nearest = half + radius + 0.01
    free = np.zeros(len(segs))
    rows = [*mid[:, :2].T, nearest, up + radius + 0.01, free, sun**2, nearest]
    return np.ascontiguousarray(np.stack([*rows, 0.9 * radius], axis=1))


def binned(segs, width, height):
    """Which segments can be met in each cell of the board: (starts, items, c, r)."""
    columns, rows = math.ceil(width / CELL_MM), math.ceil(height / CELL_MM)
    lists = [[] for _ in range(columns * rows)]
    lows = np.floor((np.minimum(segs[:, 0:2], segs[:, 3:5]) - REACH_MM) / CELL_MM)
    highs = np.floor((np.maximum(segs[:, 0:2], segs[:, 3:5]) + REACH_MM) / CELL_MM)
    for number, ((x0, y0), (x1, y1)) in enumerate(zip(lows, highs, strict=True)):
        for y in range(max(int(y0), 0), min(int(y1), rows - 1) + 1):
            for x in range(max(int(x0), 0), min(int(x1), columns - 1) + 1):
                lists[y * columns + x].append(number)
    starts = np.cumsum([0, *map(len, lists)])
    items = np.array([each for cell in lists for each in cell], dtype=np.int64)
    return starts.astype(np.int64), items, columns, rows


@fast
def coded(image, grain, exposure, noise, codes, written):
    """What a phone writes down of light: its exposure, grain, and code of colours."""
    for j in range(image.shape[0]):
        for i in range(image.shape[1]):
            for c in range(3):
                light = image[j, i, c] * exposure
                spread = noise * noise + noise * 0.05 * min(max(light, 0.0), 1.0)
                light += grain[j, i, c] * math.sqrt(spread)
                light = min(max(light, 0.0), 1.0)
                written[j, i, c] = codes[int(light * (len(codes) - 1) + 0.5)]


@fast
def least_gap(points, radius, other, other_radius):
    """The least gap between two stems, point by point. [mm]"""
    least = 1e9
    for i in range(len(points)):
        for j in range(len(other)):
            dx, dy = points[i, 0] - other[j, 0], points[i, 1] - other[j, 1]
            gap = math.sqrt(dx * dx + dy * dy) - radius[i] - other_radius[j]
            least = min(least, gap)
    return least


@fast
def nearest(points, other):
    """Which points of two lines lie nearest to each other, and how far apart. [mm]"""
    at, there, least = 0, 0, 1e18
    for i in range(len(points)):
        for j in range(len(other)):
            dx, dy = points[i, 0] - other[j, 0], points[i, 1] - other[j, 1]
            apart = dx * dx + dy * dy
            if apart < least:
                at, there, least = i, j, apart
    return at, there, math.sqrt(least)
