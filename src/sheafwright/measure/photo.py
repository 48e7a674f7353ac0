"""A photograph's bytes made an array of colours, if they are safe to open.

Size is judged before anything is decoded, and only pixels come out: what else was in
the file, where the phone was and whose it is, stays behind.
"""

import dataclasses
import io
import re
import warnings

import numpy as np

from sheafwright.core.errors import OutOfRange, UnreadableInput

MOST_BYTES = 40 * 2**20
MOST_PIXELS = 60_000_000
MOST_SIDE = 20_000
MOST_SCANS = 64
"""A JPEG comes in ten scans or so; hundreds are made to keep a reader busy."""
FORMATS = ("JPEG", "PNG")
STRANGERS = (b"%pdf-", b"<html", b"<script", b"<?php", b"<svg ")
"""What another kind of file has, that a photograph has no use for."""
ZIP_END, ZIP_END_LENGTH = b"PK\x05\x06", 22
JPEG_START, SCAN, NO_LENGTH = b"\xff\xd8", 0xDA, {0x01, *range(0xD0, 0xD9)}
NEXT_MARKER = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]")
LOOKED_AT = 70_000
"""Of a file's beginning and end. [byte]"""
FOCAL_TAG, EXIF_IFD = 0xA405, 0x8769
FILM_MM = 36.0
QUALITY = 88


@dataclasses.dataclass(frozen=True)
class Photo:
    """A picture, and how long the lens says that it is."""

    rgb: np.ndarray
    """(row, column, colour), 0–255."""
    focal_px: float | None = None
    """From what the phone wrote. [pixel]"""


def open_photo(content):
    """The `Photo` in a file's bytes, or one sentence."""
    _check_bytes(content)
    from PIL import Image

    try:
        with warnings.catch_warnings():
            # Pillow warns of large pictures; ours are judged by our own limits.
            warnings.simplefilter("ignore")
            picture = Image.open(io.BytesIO(content), formats=FORMATS)
            _check_size(*picture.size)
            return _decoded(picture)
    except Image.DecompressionBombError:
        # So large that Pillow won't even say how large.
        raise OutOfRange(
            "The photograph has far too many pixels; it should have at most {most} "
            "million.",
            most=MOST_PIXELS // 10**6,
        ) from None
    except (OSError, SyntaxError, ValueError, EOFError):
        raise UnreadableInput(
            "The file is not a whole photograph; it should be a JPEG or a PNG, just as "
            "the phone made it."
        ) from None


def plain_jpeg(rgb):
    """Bytes of a JPEG of these colours, and of nothing else."""
    from PIL import Image

    out = io.BytesIO()
    Image.fromarray(np.ascontiguousarray(rgb)).save(out, "JPEG", quality=QUALITY)
    return out.getvalue()


def _check_bytes(content):
    if len(content) > MOST_BYTES:
        raise OutOfRange(
            "The photograph's file has {size} million bytes; it should have at most "
            "{most}.",
            size=round(len(content) / 1e6),
            most=round(MOST_BYTES / 1e6),
        )
    ends = (content[:LOOKED_AT] + content[-LOOKED_AT:]).lower()
    if _is_zip(content) or any(each in ends for each in STRANGERS):
        raise UnreadableInput(
            "The file is a photograph and something else at once; it should be a "
            "photograph alone."
        )
    if content.startswith(JPEG_START) and _scans(content) > MOST_SCANS:
        raise UnreadableInput(
            "The photograph is stored in more layers than any camera makes; save it "
            "again as an ordinary JPEG."
        )


def _is_zip(content):
    """Whether a ZIP ends where the file does."""
    at = content.rfind(ZIP_END, -LOOKED_AT)
    end = content[at : at + ZIP_END_LENGTH] if at >= 0 else b""
    if len(end) < ZIP_END_LENGTH:
        return False
    return at + ZIP_END_LENGTH + int.from_bytes(end[20:22], "little") == len(content)


def _scans(content):
    """How often a JPEG's picture is told anew, until that is too often."""
    at, scans = len(JPEG_START), 0
    while scans <= MOST_SCANS:
        found = NEXT_MARKER.search(content, at)
        if not found or content[found.end() - 1] == 0xD9:
            break
        at, marker = found.end(), content[found.end() - 1]
        scans += marker == SCAN
        if marker not in NO_LENGTH:
            # A block is at least its own length: damage can't send us back.
            at += max(int.from_bytes(content[at : at + 2], "big"), 2)
    return scans


def _check_size(width, height):
    if width * height > MOST_PIXELS or max(width, height) > MOST_SIDE:
        raise OutOfRange(
            "The photograph has {size} million pixels; it should have at most {most}.",
            size=round(width * height / 1e6),
            most=MOST_PIXELS // 10**6,
        )


def _decoded(picture):
    from PIL import ImageOps

    focal = _focal_px(picture)
    picture = ImageOps.exif_transpose(picture)
    if picture.mode != "RGB":
        picture = picture.convert("RGB")
    return Photo(np.asarray(picture), focal)


def _focal_px(picture):
    """The focal length in pixels, if the phone wrote one that a lens may have."""
    try:
        film_mm = float(picture.getexif().get_ifd(EXIF_IFD).get(FOCAL_TAG) or 0)
    except (ValueError, TypeError, KeyError, SyntaxError, OSError, ZeroDivisionError):
        return None
    return film_mm / FILM_MM * max(picture.size) if 10 < film_mm < 200 else None
