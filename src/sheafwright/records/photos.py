"""Photographs of the crop: known by content, and drawn again before they are kept.

Drawing again drops whatever else was in the file: where the phone was, whose it is.
"""

import contextlib
import io
import warnings

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from sheafwright.records.files import bytes_of, kept

MOST_BYTES = 10 * 2**20
MOST_PIXELS = 50_000_000
LONGEST_SIDE = 2000
"""Enough to count nodes by; larger pictures are made this small. [pixel]"""
QUALITY = 85


@contextlib.contextmanager
def photo_kept(id, file):
    """Keep a photo while its entry is written; gives the name that it is kept under."""
    if not file:
        yield ""
        return
    photo = drawn_again(bytes_of(file, MOST_BYTES, "photo"))
    with kept(f"photos/{id}.jpg", photo) as name:
        yield name


def drawn_again(content):
    """The picture in a file's bytes as a plain JPEG, and nothing else of it."""
    from PIL import Image, ImageOps

    try:
        with warnings.catch_warnings():
            # A small file can hold a picture too large to open: size is judged first.
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            picture = Image.open(io.BytesIO(content), formats=("JPEG", "PNG"))
        _check_size(picture)
        picture = ImageOps.exif_transpose(picture).convert("RGB")
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError):
        raise ValidationError(
            {"photo": _("The file is not a photograph; it should be a JPEG or a PNG.")}
        ) from None
    picture.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    plain = Image.new("RGB", picture.size)
    plain.paste(picture)
    out = io.BytesIO()
    plain.save(out, "JPEG", quality=QUALITY)
    return out.getvalue()


def _check_size(picture):
    if picture.width * picture.height > MOST_PIXELS:
        raise ValidationError(
            {
                "photo": _("The photograph has over %(most)d million pixels.")
                % {"most": MOST_PIXELS // 1_000_000}
            }
        )
