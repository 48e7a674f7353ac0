"""Files that are no photographs, or worse, are refused before they do harm."""

import io
import struct
import zlib

import numpy as np
import pytest
from PIL import Image

from sheafwright.core.errors import OutOfRange, SheafwrightError, UnreadableInput
from sheafwright.measure import photo
from sheafwright.measure.photo import open_photo, plain_jpeg


def jpeg(size=(64, 48), **how):
    out = io.BytesIO()
    Image.new("RGB", size, (90, 120, 200)).save(out, "JPEG", **how)
    return out.getvalue()


def chunk(kind, content):
    check = zlib.crc32(kind + content)
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", check)


def png_of(width, height):
    """A PNG that says it is so large, and holds next to nothing."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    body = zlib.compress(b"\0" * 10_000_000, 9)
    parts = chunk(b"IHDR", head), chunk(b"IDAT", body), chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts)


def test_a_photo_is_opened_as_its_colours():
    assert open_photo(jpeg()).rgb.shape == (48, 64, 3)


def test_a_phones_turn_is_undone():
    exif = Image.Exif()
    exif[0x0112] = 6
    assert open_photo(jpeg(exif=exif)).rgb.shape == (64, 48, 3)


def test_the_focal_length_is_read_if_a_lens_may_have_it():
    for film_mm, focal in ((26, 26 / 36 * 64), (0, None), (5000, None)):
        exif = Image.Exif()
        exif.get_ifd(photo.EXIF_IFD)[photo.FOCAL_TAG] = film_mm
        assert open_photo(jpeg(exif=exif)).focal_px == pytest.approx(focal)


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\xff\xd8\xff",
        b"GIF89a",
        b"<svg xmlns=''/>",
        bytes(1000),
        b"BM" + bytes(99),
    ],
)
def test_no_photo_is_refused(content):
    with pytest.raises(UnreadableInput):
        open_photo(content)


def test_half_a_photo_is_refused():
    whole = jpeg((900, 700))
    with pytest.raises(UnreadableInput, match="not a whole photograph"):
        open_photo(whole[: len(whole) // 2])


@pytest.mark.parametrize(
    "size", [(30_000, 30_000), (40_000, 10), (2**31 - 1, 2**31 - 1)]
)
def test_a_small_file_with_a_huge_picture_is_refused_before_it_is_opened(size):
    with pytest.raises(SheafwrightError):
        open_photo(png_of(*size))


def test_a_file_of_too_many_bytes_is_refused():
    with pytest.raises(OutOfRange, match="at most 42"):
        open_photo(bytes(photo.MOST_BYTES + 1))


@pytest.mark.parametrize("other", [b"PK\x05\x06" + bytes(18), b"<script>", b"%PDF-1.7"])
def test_a_photo_that_is_another_file_too_is_refused(other):
    with pytest.raises(UnreadableInput, match="something else at once"):
        open_photo(jpeg() + other)


def test_a_jpeg_of_endless_layers_is_refused():
    start = jpeg()[:-2]
    with pytest.raises(UnreadableInput, match="more layers"):
        open_photo(start + b"\xff\xda\x00\x02" * 100 + b"\xff\xd9")


def test_a_short_film_after_a_photo_does_no_harm():
    film = np.random.default_rng(2).integers(0, 256, 3_000_000, np.uint8).tobytes()
    assert open_photo(jpeg() + film).rgb.shape == (48, 64, 3)


def test_a_layered_jpeg_of_an_ordinary_phone_is_opened():
    assert open_photo(jpeg((300, 200), progressive=True)).rgb.shape == (200, 300, 3)


def test_any_damage_to_a_photo_is_one_sentence_or_a_picture():
    whole, rng = bytearray(jpeg((200, 150))), np.random.default_rng(1)
    for _ in range(200):
        harmed = bytearray(whole)
        for at in rng.integers(0, len(whole), 5):
            harmed[at] = rng.integers(256)
        try:
            assert open_photo(bytes(harmed)).rgb.ndim == 3
        except SheafwrightError as error:
            assert str(error).endswith(".")


def test_what_is_kept_is_pixels_alone():
    exif = Image.Exif()
    exif[0x010F] = "A phone"
    kept = plain_jpeg(open_photo(jpeg(exif=exif)).rgb)
    assert b"A phone" not in kept
    assert not Image.open(io.BytesIO(kept)).getexif()
