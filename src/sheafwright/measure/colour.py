"""What the board's patches say of light, camera and colour.

White paper along both edges tells how light falls over the board; grey patches tell
the camera's curve; the others tell its colours.
"""

import dataclasses

import numpy as np

from sheafwright.measure.board import patch_rows
from sheafwright.measure.light import decoded, lab
from sheafwright.measure.rectify import looked_up

WHITE_ROWS_MM = (2.3, 31.0, 219.7, 247.7)
"""Where bare paper runs along the board; two rows above the straw, two below."""
WHITE_STEP_MM, WHITE_SIZE_MM = 5.0, 1.2
SMOOTH = 9
"""Samples of white that are taken together."""
PATCH_INSIDE = 0.55
"""Of a patch's sides: its rim may be blurred."""
GREYS = ("white", "grey_80", "grey_60", "grey_40", "grey_20")
CLIPPED = 252
LEAST_CURVE, MOST_CURVE = 0.6, 1.7


@dataclasses.dataclass(frozen=True)
class Colours:
    """How codes of a photograph become light that paper and straw send back."""

    table: np.ndarray
    """(code,): light by code, the camera's curve undone."""
    white_x: np.ndarray
    white: np.ndarray
    """(upper or lower, x, colour): light of white paper."""
    rows_mm: tuple[float, float]
    to_true: np.ndarray
    """(3, 3), from the camera's colours to the patches'."""
    error_lab: float
    """How far patches lie from their own colours, root mean square. [ΔE]"""
    clipped: float
    """Share of the white paper that is as bright as a photograph can be."""
    darkest: float
    """Light of the darkest part of white paper. [0–1]"""

    def white_at(self, points):
        """Light of white paper at points of the board: (..., xy) to (..., colour)."""
        points = np.asarray(points)
        x, y = points[..., 0], points[..., 1]
        upper, lower = self.rows_mm
        down = np.clip((y - upper) / (lower - upper), 0, 1)[..., None]
        edges = [
            np.stack([np.interp(x, self.white_x, row[:, c]) for c in range(3)], axis=-1)
            for row in self.white
        ]
        return edges[0] * (1 - down) + edges[1] * down

    def light(self, codes):
        """Light by the photograph's codes, as the camera saw it. [0–1]"""
        return self.table[codes]

    def lab(self, light):
        """CIELAB of light that was divided by white's."""
        return lab(np.asarray(light) @ self.to_true.T)


def read_colours(rgb, camera, board):
    """The `Colours` of a photograph."""
    plain = decoded(np.arange(256) / 255).astype(np.float32)
    x, codes = _white_codes(rgb, camera, board)
    clipped = float((codes.max(axis=-1) >= CLIPPED).mean())
    rough = _colours(plain, x, codes, np.eye(3), 0.0, clipped)
    patches = [(p, _patch_light(rgb, camera, board, p, plain)) for p in board.patches]
    curve = _curve(rough, patches)
    table = (plain**curve).astype(np.float32)
    bare = _colours(table, x, codes, np.eye(3), 0.0, clipped)
    to_true, error = _to_true(bare, [(p, light**curve) for p, light in patches])
    return _colours(table, x, codes, to_true, error, clipped)


def _white_codes(rgb, camera, board):
    """Codes of white paper: x and (row, x, place, colour)."""
    width, size = board.width_mm, WHITE_SIZE_MM / 2
    x = np.arange(3.0, width - 2, WHITE_STEP_MM)
    around = np.stack(np.meshgrid([-size, 0, size], [-size, 0, size]), axis=-1)
    places = np.stack(
        [
            np.stack([x, np.full_like(x, y)], axis=-1)[:, None, :]
            + around.reshape(-1, 2)
            for y in WHITE_ROWS_MM
        ]
    )
    return x, looked_up(rgb, camera.project(_lying(places, camera, board)))


def _lying(places, camera, board):
    """Places of the board where its sheets really lie. [mm]"""
    sheet = (places[..., 0] // board.sizes.sheet_width_mm).astype(int)
    return places + camera.sheets[np.clip(sheet, 0, board.sheets - 1), :2]


def _colours(table, x, codes, to_true, error, clipped):
    light = np.median(table[codes], axis=2)
    upper, lower = (_smooth(np.maximum(*pair)) for pair in (light[:2], light[2:]))
    rows = (np.mean(WHITE_ROWS_MM[:2]), np.mean(WHITE_ROWS_MM[2:]))
    white = np.stack([upper, lower])
    return Colours(table, x, white, rows, to_true, error, clipped, float(white.min()))


def _smooth(row):
    """White without the few samples that print or a straw covers."""
    half = SMOOTH // 2
    padded = np.pad(row, ((half, half), (0, 0)), mode="edge")
    windows = np.lib.stride_tricks.sliding_window_view(padded, SMOOTH, axis=0)
    return np.median(windows, axis=-1)


def _patch_light(rgb, camera, board, patch, table):
    left, top, right, bottom = patch.box
    mid = np.array([(left + right) / 2, (top + bottom) / 2])
    reach = np.array([right - left, bottom - top]) / 2 * PATCH_INSIDE
    steps = np.linspace(-1, 1, 7)
    places = mid + reach * np.stack(np.meshgrid(steps, steps), axis=-1)
    codes = looked_up(rgb, camera.project(_lying(places, camera, board)))
    return np.median(table[codes].reshape(-1, 3), axis=0)


def _shares(colours, patches):
    """Each patch's light beside white paper's, and by its name: (light, name)."""
    for patch, light in patches:
        left, top, right, bottom = patch.box
        white = colours.white_at([(left + right) / 2, (top + bottom) / 2])
        yield light / np.maximum(white, 1e-6), patch.name


def _by_name(colours, patches):
    found = {}
    for share, name in _shares(colours, patches):
        found.setdefault(name, []).append(share)
    return {name: np.median(shares, axis=0) for name, shares in found.items()}


def _true():
    return {name: decoded(np.array(rgb) / 255) for name, rgb in patch_rows().items()}


def _curve(colours, patches):
    """The power by which the camera's light becomes the greys' own."""
    true, seen = _true(), _by_name(colours, patches)
    greys = [name for name in GREYS if name in seen and true[name].mean() < 1]
    if len(greys) < 2:
        return 1.0
    x = np.log([np.clip(seen[name].mean(), 1e-4, None) for name in greys])
    y = np.log([true[name].mean() for name in greys])
    # Through white, which is white whatever the curve.
    return float(np.clip((x * y).sum() / (x * x).sum(), LEAST_CURVE, MOST_CURVE))


def _to_true(colours, patches):
    """Least squares from patches seen to patches as printed, and what is left."""
    true, seen = _true(), _by_name(colours, patches)
    names = list(seen)
    a, b = (np.array([d[name] for name in names]) for d in (seen, true))
    matrix = np.linalg.lstsq(a, b, rcond=None)[0].T
    misses = np.linalg.norm(lab(a @ matrix.T) - lab(b), axis=1)
    return matrix, float(np.sqrt(np.mean(misses**2)))
