"""Whether a photograph is good enough to measure, and what to do if it isn't."""

import dataclasses

import numpy as np

from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.telling import mark, measured, say, told
from sheafwright.measure.board import PER_SHEET
from sheafwright.measure.mask import STEP_X_MM, STEP_Y_MM

LEAST_OF_MARKERS = 0.6
LEAST_AT_END = 1
MOST_MM_PER_PX = 0.5
MOST_TILT_DEG = 36.0
MOST_BLUR_MM, SOME_BLUR_MM = 0.52, 0.42
"""The spread of an edge. Past the first, widths run over the rim that is summed."""
MOST_ERROR_MM, SOME_ERROR_MM = 0.3, 0.12
MOST_ASIDE_MM = 1.2
EVERY_PX, BRIGHTEST, DIM_CODE = 16, 99, 75
"""A photograph whose brightest hundredth has a lower code is dim."""
DARKEST = 0.05
"""Light of white paper."""
MOST_CLIPPED, SOME_CLIPPED = 0.95, 0.15
MOST_COLOUR_ERROR, SOME_COLOUR_ERROR = 12.0, 5.0
BLOB_MM = 11.0
"""Straw is narrower: a patch as wide both ways is glare, or something else."""
MOST_BLOB, SOME_BLOB = 0.03, 0.001
"""Of the blue."""
LEAST_BLUE = 0.35
NO_BOARD = mark(
    "No board can be made out in the photograph; all of it should be in the picture, "
    "flat, sharp and evenly lit."
)
CUT_OFF = mark(
    "Part of the board is outside the photograph; step back until all of it is inside."
)
COVERED = mark(
    "Too many of the board's black squares can't be read; uncover them, wipe the lens "
    "and keep sun, glare and hard shadow off the board."
)
TOO_FEW_PIXELS = mark(
    "The photograph has too few pixels: one is {scale} of straw, and it should be at "
    "most {most}. Let the board fill the picture, at the camera's full size."
)
TOO_ASLANT = mark(
    "The photograph was taken {tilt:.0f}° from straight above; it should be less than "
    "{most:.0f}°."
)
BLURRED = mark(
    "The photograph is blurred over {blur}; hold the camera still, let it focus, and "
    "take it in more light."
)
NOT_FLAT = mark(
    "The board's squares lie {error} from where they should; lay it flat and tape its "
    "sheets edge to edge, in their order."
)
TOO_DARK = mark("The photograph is too dark; take it in more light, without a flash.")
TOO_BRIGHT = mark(
    "White paper is as bright as the photograph can show; take it in shade, or let the "
    "camera judge its light by the board."
)
NO_BLUE = mark(
    "The ground between the board's edges does not look blue; the board should be "
    "printed in colour, and nothing but straw should lie on it."
)
GLARE = mark(
    "Glare, or something that is not straw, covers {share:.0%} of the blue; take the "
    "photograph in shade, with straw alone on the board."
)
SOME_GLARE = mark(
    "Glare, or something that is not straw, covers a little of the blue; straw there "
    "is left out."
)
SOFT = mark("The photograph is a little blurred; diameters are less sure.")
ASIDE = mark(
    "Sheet {sheet} of the board lies {aside} from where it should; tape it anew."
)
UNEVEN_BOARD = mark("The board does not lie quite flat; lengths are less sure.")
COLOURS_OFF = mark("The patches are hard to read; straw's colour is less sure.")
BRIGHT = mark("Part of the white paper is too bright to tell colours by.")


@dataclasses.dataclass(frozen=True)
class Quality:
    """What was seen of a photograph. [mm]"""

    scale_mm_per_px: float
    blur_mm: float


def check_dark(rgb):
    """Refuse a photograph in which even the brightest part is dim."""
    few = rgb[::EVERY_PX, ::EVERY_PX].max(axis=-1)
    if np.percentile(few, BRIGHTEST) < DIM_CODE:
        raise OutOfRange(TOO_DARK)


def check_board(numbers, corners, camera, board, size):
    """Refuse a photograph whose board can't be trusted.

    Parameters
    ----------
    numbers, corners
        Of the markers that agree.
    size : (width, height) [pixel]

    Returns
    -------
    scale_mm_per_px : float
    """
    if camera is None:
        raise OutOfRange(NO_BOARD)
    scale = scale_of(camera, board)
    if scale > MOST_MM_PER_PX:
        raise OutOfRange(
            TOO_FEW_PIXELS,
            scale=measured(scale, "mm", ".2f"),
            most=measured(MOST_MM_PER_PX, "mm", ".2f"),
        )
    if _outside(camera, board, size):
        raise OutOfRange(CUT_OFF)
    if not _enough(numbers, board):
        raise OutOfRange(COVERED)
    if camera.tilt_deg > MOST_TILT_DEG:
        raise OutOfRange(TOO_ASLANT, tilt=camera.tilt_deg, most=MOST_TILT_DEG)
    return scale


def _outside(camera, board, size):
    width, height = board.width_mm, board.height_mm
    rim = np.array([(x, y) for x in np.linspace(0, width, 9) for y in (0, height)])
    seen = camera.project(rim)
    return bool((seen < 0).any() or (seen > np.array(size) - 1).any())


def _enough(numbers, board):
    """Markers on all sides: most of them, and some at each end of both edges."""
    sheet, lower = numbers // PER_SHEET, numbers % PER_SHEET >= PER_SHEET // 2
    ends = [
        ((sheet == end) & (lower == row)).sum()
        for end in (0, board.sheets - 1)
        for row in (False, True)
    ]
    enough = len(numbers) >= LEAST_OF_MARKERS * len(board.numbers)
    return enough and min(ends) >= LEAST_AT_END


def scale_of(camera, board):
    """The most millimetres that a pixel shows across the straw, at any place."""
    width, height = board.width_mm, board.height_mm
    places = np.array(
        [(x, y) for x in np.linspace(0, width, 5) for y in (0.2 * height, 0.8 * height)]
    )
    half = np.array([0, 5])
    low, high = camera.project(places - half), camera.project(places + half)
    return float((10 / np.hypot(*(high - low).T)).max())


def check_light(rgb, camera, corners, colours, scale):
    """Refuse a photograph that is blurred or ill lit; its `Quality`."""
    if colours.darkest < DARKEST:
        raise OutOfRange(TOO_DARK)
    if colours.clipped > MOST_CLIPPED:
        raise OutOfRange(TOO_BRIGHT)
    if camera.error_mm > MOST_ERROR_MM:
        raise OutOfRange(NOT_FLAT, error=measured(camera.error_mm, "mm", ".2f"))
    if colours.error_lab > MOST_COLOUR_ERROR:
        raise OutOfRange(NO_BLUE)
    blur = blur_px(rgb, corners, colours) * scale
    if blur > MOST_BLUR_MM:
        raise OutOfRange(BLURRED, blur=measured(blur, "mm", ".1f"))
    return Quality(scale, blur)


def blur_px(rgb, corners, colours):
    """The spread of the markers' edges, in the direction that is worse. [pixel]"""
    along = np.linspace(0.25, 0.75, 7)[:, None, None]
    reach = np.arange(-6, 6.5, 0.5)
    spreads = []
    for pair in ((0, 1), (1, 2), (2, 3), (3, 0)):
        a, b = corners[:, pair[0]], corners[:, pair[1]]
        way = (b - a) / np.hypot(*(b - a).T)[:, None]
        out = np.column_stack([way[:, 1], -way[:, 0]])
        places = (a + (b - a) * along)[:, :, None, :] + reach[:, None] * out[:, None, :]
        spreads.append(_spread(_grey_at(rgb, places, colours), reach))
    top, right, bottom, left = (np.median(each) for each in spreads)
    return float(max((top + bottom) / 2, (left + right) / 2))


def _grey_at(rgb, places, colours):
    from sheafwright.measure.rectify import looked_up

    shape = places.shape[:-1]
    seen = looked_up(rgb, places.reshape(1, -1, 2)).reshape(*shape, 3)
    return colours.light(seen)[..., 1].mean(axis=0)


def _spread(edges, reach):
    """The standard deviation of each edge's rise. [pixel]"""
    rise = np.diff(edges, axis=1)
    total = np.maximum(rise.sum(axis=1), 1e-6)
    at = (reach[1:] + reach[:-1]) / 2
    mean = (rise * at).sum(axis=1) / total
    return np.sqrt(np.maximum((rise * at**2).sum(axis=1) / total - mean**2, 0))


def check_ground(mask):
    """Refuse ground that isn't blue, or is covered; the share that is covered."""
    import cv2

    if mask.blueness < LEAST_BLUE:
        raise OutOfRange(NO_BLUE)
    kernel = np.ones((int(BLOB_MM / STEP_Y_MM), int(BLOB_MM / STEP_X_MM)), np.uint8)
    blobs = cv2.morphologyEx(mask.straw.astype(np.uint8), cv2.MORPH_OPEN, kernel)
    share = float(blobs.mean())
    if share > MOST_BLOB:
        raise OutOfRange(GLARE, share=share)
    return share


def warnings_of(camera, colours, quality, covered):
    """What makes figures less sure, in sentences."""
    aside = np.hypot(*camera.sheets[:, :2].T)
    return [
        *[told(SOME_GLARE)] * (covered > SOME_BLOB),
        *[told(SOFT)] * (quality.blur_mm > SOME_BLUR_MM),
        *[told(UNEVEN_BOARD)] * (camera.error_mm > SOME_ERROR_MM),
        *[told(COLOURS_OFF)] * (colours.error_lab > SOME_COLOUR_ERROR),
        *[told(BRIGHT)] * (colours.clipped > SOME_CLIPPED),
        *[
            say(ASIDE, sheet=n + 1, aside=measured(far, "mm", ".1f"))
            for n, far in enumerate(aside)
            if far > MOST_ASIDE_MM
        ],
    ]
