"""A small ray tracer: straw as cones that lie on a flat board, seen by a camera.

It shares nothing with the measurer: it goes from millimetres to pixels, ray by ray.
"""

import math

import numpy as np
from numba import njit

CELL_MM = 4.0
REACH_MM = 9.0
"""A ray met at half a stem's height can touch straw no farther than this."""
MID_MM = 2.0


@njit(cache=True, fastmath=True)
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


@njit(cache=True, fastmath=True)
def _touch(ox, oy, oz, dx, dy, dz, seg, flat):
    """Where a ray meets a segment: how far along, at which share, how far aside."""
    x0, y0, z0, x1, y1, z1 = seg[0], seg[1], seg[2], seg[3], seg[4], seg[5]
    ex, ey, ez = x1 - x0, y1 - y0, z1 - z0
    ee = ex * ex + ey * ey + ez * ez
    if flat:
        # A leaf: a strip at one height.
        along = (0.5 * (z0 + z1) - oz) / dz
        px, py = ox + along * dx - x0, oy + along * dy - y0
        share = (px * ex + py * ey) / ee
        share = min(1.0, max(0.0, share))
        side = (px - share * ex) * ey - (py - share * ey) * ex
        aside = math.hypot(px - share * ex, py - share * ey)
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


@njit(cache=True, fastmath=True)
def _depth(dx, dy, dz, radius, aside, seg):
    """How far before its nearest point a ray enters the tube."""
    ex, ey, ez = seg[3] - seg[0], seg[4] - seg[1], seg[5] - seg[2]
    along = dx * ex + dy * ey + dz * ez
    across = 1 - along * along / (ex * ex + ey * ey + ez * ez)
    return math.sqrt(max(radius * radius - aside * aside, 0.0) / max(across, 0.05))


@njit(cache=True, fastmath=True)
def _cut_off(hx, hy, hz, seg, ends):
    """Whether a hit lies beyond a stem's flat ends."""
    for at in range(2):
        if seg[10 + at] == 0:
            continue
        end = ends[int(seg[13]), at]
        out = (hx - end[0]) * end[3] + (hy - end[1]) * end[4] + (hz - end[2]) * end[5]
        if out > 0:
            return True
    return False


@njit(cache=True, fastmath=True)
def _lit(x, y, light, segs, starts, items, columns, rows, soft):
    """Share of the light, and of the sky, that reaches a point of the board."""
    lx, ly, lz = light
    cx = int((x + MID_MM * lx / lz) / CELL_MM)
    cy = int((y + MID_MM * ly / lz) / CELL_MM)
    sun, sky = 1.0, 1.0
    if cx < 0 or cy < 0 or cx >= columns or cy >= rows:
        return sun, sky
    cell = cy * columns + cx
    for at in range(starts[cell], starts[cell + 1]):
        seg = segs[items[at]]
        along, share, aside = _touch(x, y, 0.0, lx, ly, lz, seg, seg[9] > 0)
        if along < 0:
            continue
        radius = seg[6] + share * (seg[7] - seg[6])
        reach = soft * (0.3 + along * 0.15)
        passed = min(1.0, max(0.0, 0.5 + (abs(aside) - radius) / reach))
        sun = min(sun, passed)
        gap = math.hypot(
            x - seg[0] - share * (seg[3] - seg[0]),
            y - seg[1] - share * (seg[4] - seg[1]),
        )
        if seg[9] == 0:
            sky = min(
                sky, 1 - 0.45 * math.exp(-max(gap - radius, 0.0) / (0.9 * radius))
            )
    return sun, sky


@njit(cache=True, fastmath=True)
def _paper(x, y, sheets, width, texture, per_mm, linear, out):
    """The board's own colour at a point, its sheets a little apart."""
    guess = int(x / width)
    for tried in range(3):
        sheet = guess + (0 if tried == 0 else (1 if tried == 1 else -1))
        if sheet < 0 or sheet >= sheets.shape[0]:
            continue
        dx, dy, turn = sheets[sheet]
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


@njit(cache=True, fastmath=True)
def _marks(s, u, marks, number, out):  # noqa: C901
    """What nodes, mould and splits do to a stem's colour at a point."""
    for at in range(marks.shape[0]):
        mark = marks[at]
        if int(mark[0]) != number:
            continue
        kind, start, end, extra = int(mark[1]), mark[2], mark[3], mark[4]
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


@njit(cache=True, fastmath=True)
def _straw(s, u, number, colours, marks, out):
    shade = 1 + 0.10 * _noise(s / 25, 0.5, number) + 0.05 * _noise(s / 3, u * 4, number)
    for c in range(3):
        out[c] = colours[number, c] * shade
    _marks(s, u, marks, number, out)


@njit(cache=True, fastmath=True)
def _ray(ox, oy, oz, dx, dy, dz, scene, out):  # noqa: C901
    segs, starts, items, columns, rows, colours, marks = scene[:7]
    ends, light, ambient, soft, paper = scene[7:]
    sheets, width, texture, per_mm, linear = paper
    away = (MID_MM - oz) / dz
    cx, cy = int((ox + away * dx) / CELL_MM), int((oy + away * dy) / CELL_MM)
    best, found, found_share, found_aside, found_radius = 1e9, -1, 0.0, 0.0, 1.0
    alone = True
    if 0 <= cx < columns and 0 <= cy < rows:
        cell = cy * columns + cx
        alone = starts[cell] == starts[cell + 1]
        for at in range(starts[cell], starts[cell + 1]):
            seg = segs[items[at]]
            flat = seg[9] > 0
            along, share, aside = _touch(ox, oy, oz, dx, dy, dz, seg, flat)
            radius = seg[6] + share * (seg[7] - seg[6])
            if abs(aside) >= radius:
                continue
            near = along if flat else along - _depth(dx, dy, dz, radius, aside, seg)
            hx, hy, hz = ox + near * dx, oy + near * dy, oz + near * dz
            if near < best and (flat or not _cut_off(hx, hy, hz, seg, ends)):
                best, found, found_share = near, items[at], share
                found_aside, found_radius = aside, radius
    if found < 0:
        away = -oz / dz
        x, y = ox + away * dx, oy + away * dy
        if not _paper(x, y, sheets, width, texture, per_mm, linear, out):
            grain = 0.16 + 0.05 * _noise(x / 90, y / 7, 3.0) + 0.02 * _noise(x, y, 5.0)
            out[0], out[1], out[2] = grain * 1.15, grain, grain * 0.8
        sun, sky = _lit(x, y, light, segs, starts, items, columns, rows, soft)
        for c in range(3):
            out[c] *= ambient * sky + (1 - ambient) * sun
        return x, y, alone and _plain(x, y, width, sheets.shape[0] * width)
    seg = segs[found]
    s = seg[8] + found_share * (seg[12] - seg[8])
    u = found_aside / found_radius
    number = int(seg[13])
    _straw(s, u, number, colours, marks, out)
    ex, ey = seg[3] - seg[0], seg[4] - seg[1]
    long = math.hypot(ex, ey)
    # The normal: aside along the board, and up.
    nx, ny, nz = u * ey / long, -u * ex / long, math.sqrt(max(1 - u * u, 0.0))
    if seg[9] > 0:
        nx, ny, nz = 0.0, 0.0, 1.0
    facing = max(0.0, nx * light[0] + ny * light[1] + nz * light[2]) / light[2]
    hx, hy, hz = light[0] - dx, light[1] - dy, light[2] - dz
    half = math.sqrt(hx * hx + hy * hy + hz * hz)
    shine = max(0.0, (nx * hx + ny * hy + nz * hz) / half) ** 30
    gain = ambient * (0.62 + 0.38 * nz) + (1 - ambient) * min(facing, 1.3)
    for c in range(3):
        out[c] = out[c] * gain + (1 - ambient) * 0.07 * shine
    return ox + best * dx, oy + best * dy, False


@njit(cache=True, fastmath=True)
def _plain(x, y, width, whole):
    """Whether a point is amid the blue, or off the board: no edge is near."""
    if x < -3 or x > whole + 3 or y < -3 or y > 253:
        return True
    from_joint = abs(x / width - round(x / width)) * width
    return 45 < y < 211 and from_joint > 7


@njit(cache=True, fastmath=True)
def trace(  # noqa: C901
    image, left, top, camera, origin, turn, scene, fade, samples
):
    """Fill part of a picture with light from each pixel's rays.

    Parameters
    ----------
    left, top : where the part begins [pixel]
    camera : (f, cx, cy, k1, k2) [pixel, 1]
    origin : where the camera is [mm]
    turn : (3, 3), from the camera's axes to the board's
    fade : (gx, gy, edge x, edge slope, edge depth, r, g, b), light across the board
    """
    f, cx, cy, k1, k2 = camera
    gx, gy, edge, slope, depth = fade[0], fade[1], fade[2], fade[3], fade[4]
    out = np.zeros(3)
    plain = np.zeros(image.shape[1], np.uint8)
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
                x, y = xd, yd
                for _ in range(6):
                    rr = x * x + y * y
                    bend = 1 + k1 * rr + k2 * rr * rr
                    x, y = xd / bend, yd / bend
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
                gain = 1 + gx * (px - 665) / 665 + gy * (py - 125) / 125
                gain *= 1 - depth / (1 + math.exp(-(px - edge + slope * py) / 25))
                gain *= 1 - 0.25 * min((xd * xd + yd * yd) / 0.8, 1.0)
                for c in range(3):
                    image[j, i, c] += out[c] * gain * fade[5 + c] / fine**2
                plain[i] = alone


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
