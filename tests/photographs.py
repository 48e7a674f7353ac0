"""Photographs of invented straw on its board, and files that are none."""

import functools
import io
import struct
import sys
import zipfile
import zlib
from pathlib import Path

from PIL import Image

from sheafwright.measure.straw import measure_straw

sys.path.insert(0, str(Path(__file__).parent / "measure"))
DARK = 2
"""Which of the bad photographs is taken in the dark."""
GPS, GPS_PLACE = 0x8825, {1: "N", 2: (52.0, 24.0, 0.0), 3: "W", 4: (1.0, 30.0, 0.0)}
MAKER = "Nobody's phone"


@functools.cache
def good():
    """Five stems, or so many of them as can be told apart."""
    from scenes import make_scene

    return make_scene(1, (3200, 2400), 5).jpeg


@functools.cache
def another():
    from scenes import make_scene

    return make_scene(2, (3200, 2400), 5).jpeg


@functools.cache
def dark():
    from scenes import make_bad

    photo, kind = make_bad(DARK, (3200, 2400))
    assert kind == "dark"
    return photo.jpeg


@functools.cache
def stems_in(content, *said):
    """What is measured in a photograph; each measured once."""
    return measure_straw(content, *said)


def as_a_phone_writes(content):
    """The same with what a phone adds: its maker, and where it was."""
    exif, out = Image.Exif(), io.BytesIO()
    exif[0x010F] = MAKER
    exif[GPS] = GPS_PLACE
    Image.open(io.BytesIO(content)).save(out, "JPEG", quality=95, exif=exif)
    assert MAKER.encode() in out.getvalue()
    return out.getvalue()


def _chunk(kind, content):
    check = zlib.crc32(kind + content)
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", check)


def bomb():
    """A small PNG that says it has ten thousand million pixels."""
    head = struct.pack(">IIBBBBB", 100_000, 100_000, 8, 2, 0, 0, 0)
    body = zlib.compress(b"\0" * 1_000_000, 9)
    parts = _chunk(b"IHDR", head), _chunk(b"IDAT", body), _chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts)


def polyglot():
    """A photograph that is an archive too."""
    out = io.BytesIO(good())
    with zipfile.ZipFile(out, "a") as archive:
        archive.writestr("run.sh", "echo no photograph")
    return out.getvalue()


HOSTILE = {
    "a bomb": (bomb, "far too many pixels; it should have at most 60 million."),
    "cut short": (lambda: good()[:60_000], "not a whole photograph"),
    "two things at once": (polyglot, "a photograph and something else at once"),
    "huge": (lambda: b"\xff\xd8" + bytes(45_000_000), "million bytes; it should have"),
    "text": (lambda: b"Long Meadow, 12 stems\n", "not a whole photograph"),
    "a page": (lambda: b"<svg onload='x()'/>", "something else at once"),
    "nothing": (lambda: b"", "not a whole photograph"),
}
"""Files that no one should open, and what is said of each."""
