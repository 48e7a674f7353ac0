"""Traced stems drawn on their photograph, for an eye to accept or strike out."""

import numpy as np

from sheafwright.measure.photo import plain_jpeg

TRACED, LEFT_OUT, DOG_LEG = (230, 30, 120), (255, 220, 0), (255, 255, 255)
LONGEST_PX = 2400
MARK_MM = 5.0


def drawn(measured):
    """The photograph with every stem numbered as in the answer: bytes of a JPEG.

    Nothing of the photograph's file but its pixels is in it.
    """
    import cv2

    shrink = min(1.0, LONGEST_PX / max(measured.rgb.shape))
    picture = cv2.resize(
        measured.rgb, None, fx=shrink, fy=shrink, interpolation=cv2.INTER_AREA
    )
    camera = measured.camera
    for number, stem in enumerate(measured.stems, 1):
        line = camera.project(stem.line) * shrink
        _line(picture, line, TRACED)
        _words(picture, line[0], str(number), TRACED)
        if stem.dog_leg:
            at = int(np.argmin(np.abs(_along(stem.line) - stem.bend.at_mm)))
            _ring(
                picture, line[at], MARK_MM * shrink * camera.focal_px / camera.place[2]
            )
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
