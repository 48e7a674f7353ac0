"""Straw measured from one photograph of the board it lies on."""

import dataclasses

import numpy as np

from sheafwright.core.errors import OutOfRange, UnreadableInput
from sheafwright.feeds.telling import measured
from sheafwright.measure.board import board as board_of
from sheafwright.measure.colour import read_colours
from sheafwright.measure.find import Camera, find_markers, fit_camera
from sheafwright.measure.mask import straw_mask
from sheafwright.measure.photo import open_photo
from sheafwright.measure.quality import (
    Quality,
    check_board,
    check_dark,
    check_ground,
    check_light,
    warnings_of,
)
from sheafwright.measure.stems import Rejected, Stem, measure_stems

LEAST_BAR, MOST_BAR = 0.9, 1.1
"""Of the bar's length: no printer errs more, unless it fits sheets to the page."""


@dataclasses.dataclass(frozen=True)
class Measured:
    """What one photograph tells."""

    stems: list[Stem]
    rejected: list[Rejected]
    scraps: int
    camera: Camera
    quality: Quality
    colour_error_lab: float
    warnings: list[str]
    rgb: np.ndarray


def measure_straw(content, sheets=None, bar_mm=None):
    """Straw in a photograph's bytes.

    Parameters
    ----------
    content : bytes
        A JPEG or a PNG.
    sheets : int, optional
        Of the board, if it isn't the table's.
    bar_mm : float, optional
        What a ruler says of the printed bar, if it isn't what is printed beside it.

    Returns
    -------
    Measured

    Raises
    ------
    OutOfRange, UnreadableInput
        If the photograph can't be measured: why, and what to do.
    """
    check_can_measure()
    photo, board = open_photo(content), printed_board(sheets, bar_mm)
    rgb = photo.rgb
    size = rgb.shape[1], rgb.shape[0]
    check_dark(rgb)
    numbers, corners = find_markers(rgb, board)
    camera, kept = fit_camera(numbers, corners, board, size, photo.focal_px)
    numbers, corners = numbers[kept], corners[kept]
    scale = check_board(numbers, corners, camera, board, size)
    colours = read_colours(rgb, camera, board)
    quality = check_light(rgb, camera, corners, colours, scale)
    mask = straw_mask(rgb, camera, board, colours)
    covered = check_ground(mask)
    stems, rejected, scraps = measure_stems(rgb, camera, board, colours, mask)
    warnings = warnings_of(camera, colours, quality, covered)
    return Measured(
        stems, rejected, scraps, camera, quality, colours.error_lab, warnings, rgb
    )


def can_measure():
    """Whether what measures is installed."""
    try:
        import cv2  # noqa: F401
    except ImportError:
        return False
    return True


def check_can_measure():
    """Refuse, and say how to get what is missing."""
    if not can_measure():
        raise UnreadableInput(
            "Photographs can't be measured, as OpenCV is not installed; install "
            "Sheafwright with its extra “measure”."
        )


def printed_board(sheets=None, bar_mm=None):
    """The board as the printer made it: all of it larger or smaller."""
    board = board_of(sheets)
    if bar_mm is None:
        return board
    meant = board.sizes.bar_length_mm
    if not LEAST_BAR <= bar_mm / meant <= MOST_BAR:
        raise OutOfRange(
            "A bar of {bar} is odd; it should be about {meant}.",
            bar=measured(bar_mm, "mm"),
            meant=measured(meant, "mm"),
        )
    return board.scaled(bar_mm / meant)
