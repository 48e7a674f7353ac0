"""Traced stems drawn on their photograph, for an eye to accept or strike out."""

import numpy as np

from sheafwright.measure.photo import plain_jpeg

TRACED, LEFT_OUT, DOG_LEG = (230, 30, 120), (255, 220, 0), (255, 255, 255)
LONGEST_PX = 2400
MARK_MM = 5.0
EDGE_PX = 12
EVERY = 10
"""Of a line's points, which lie about 1 mm apart."""


def small(rgb, longest_px=LONGEST_PX):
    """The picture with its longest side no longer than this; by how much it shrank."""
    import cv2

    shrink = min(1.0, longest_px / max(rgb.shape))
    how = {"fx": shrink, "fy": shrink, "interpolation": cv2.INTER_AREA}
    return cv2.resize(rgb, None, **how), shrink


def traced(measured, board, longest_px=LONGEST_PX):
    """Where all that was found lies in the `small` photograph. [pixel]

    Returns
    -------
    dict
        ``size`` of the picture; ``view`` of the board in it, as left, top, width and
        height; ``stems``, ``rejected``: lines from end to end; ``bends``: a point for
        each dog-leg.
    """
    height, width = measured.rgb.shape[:2]
    shrink = min(1.0, longest_px / max(height, width))

    def place(line):
        return np.round(measured.camera.project(line) * shrink, 1).tolist()

    size = round(width * shrink), round(height * shrink)
    dog_legs = [stem for stem in measured.stems if stem.dog_leg]
    return {
        "size": size,
        "view": _view(measured.camera, board, shrink, size),
        "stems": [place(_some(stem.line)) for stem in measured.stems],
        "rejected": [place(_some(piece.line)) for piece in measured.rejected],
        "bends": [place(stem.line[[_bent(stem)]])[0] for stem in dog_legs],
    }


def _view(camera, board, shrink, size):
    """The board with a little of what is around it."""
    x, y = np.linspace(0, board.width_mm, 9), (0, board.height_mm)
    rim = camera.project(np.array([(a, b) for a in x for b in y])) * shrink
    low = np.maximum(np.floor(rim.min(axis=0) - EDGE_PX), 0)
    high = np.minimum(np.ceil(rim.max(axis=0) + EDGE_PX), size)
    return [int(each) for each in (*low, *(high - low))]


def _some(line):
    """A point every so often, and the last."""
    return np.concatenate([line[:-1:EVERY], line[-1:]])


def _bent(stem):
    """The number of the point at its sharpest bend."""
    return int(np.argmin(np.abs(_along(stem.line) - stem.bend.at_mm)))


def drawn(measured, first=1):
    """The photograph with every stem numbered as in the answer: bytes of a JPEG.

    Nothing of the photograph's file but its pixels is in it.

    Parameters
    ----------
    first : int
        The number of its first stem in the answer, which may be of several photographs.
    """
    picture, shrink = small(measured.rgb)
    camera = measured.camera
    for number, stem in enumerate(measured.stems, first):
        line = camera.project(stem.line) * shrink
        _line(picture, line, TRACED)
        _words(picture, line[0], str(number), TRACED)
        if stem.dog_leg:
            radius = MARK_MM * shrink * camera.focal_px / camera.place[2]
            _ring(picture, line[_bent(stem)], radius)
    for piece in measured.rejected:
        line = camera.project(piece.line) * shrink
        _line(picture, line, LEFT_OUT)
        _words(picture, line[0], "?", LEFT_OUT)
    return plain_jpeg(picture)


def _along(line):
    return np.concatenate([[0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])


def _line(picture, line, colour):
    import cv2

    points = np.round(line * 16).astype(np.int32).reshape(-1, 1, 2)
    cv2.polylines(picture, [points], False, colour, 1, cv2.LINE_AA, shift=4)


def _words(picture, at, words, colour):
    import cv2

    x, y = round(float(at[0])) - 22, round(float(at[1])) + 4
    face = cv2.FONT_HERSHEY_SIMPLEX
    cv2.putText(picture, words, (x, y), face, 0.5, (0, 0, 0), 3, cv2.LINE_AA)
    cv2.putText(picture, words, (x, y), face, 0.5, colour, 1, cv2.LINE_AA)


def _ring(picture, at, radius):
    import cv2

    centre = tuple(int(each) for each in np.round(at))
    cv2.circle(picture, centre, max(int(radius), 4), DOG_LEG, 1, cv2.LINE_AA)
