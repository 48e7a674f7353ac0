"""A file as lines of text, packed or not, and refused in words where it is neither."""

import codecs
import dataclasses
import gzip
import zlib
from pathlib import Path

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds.telling import mark, say

WEATHER_FILE, COLUMNS_FILE = mark("weather file"), mark("columns file")
"""Kinds of text."""
GZIP = b"\x1f\x8b"
UTF_16 = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
# A small gzip file can unpack without end; two centuries of hours are 150 MB.
LARGEST_BYTES = 256 * 2**20


@dataclasses.dataclass(frozen=True)
class Text:
    """A file's lines, and the name it goes by in what we say of it."""

    name: str
    lines: list[str]

    @property
    def stem(self):
        """The name without its endings, for a record that names no station."""
        return self.name.split(".")[0] or self.name

    def refusal(self, says, line=None):
        """The sentence that says what is wrong, and on which line; ``says`` is said."""
        where = self.name
        if line is not None:
            where = say("{where}, line {line}", where=where, line=line)
        return UnreadableInput("{where}: {says}", where=where, says=says)


def several_stations(text, names):
    """The sentence that says so of a file."""
    says = say(
        "it holds {number} stations ({few}); it should hold one.",
        number=len(names),
        few=", ".join(names[:3]),
    )
    return text.refusal(says)


def shown(cell):
    """A cell as a sentence can quote it."""
    text = cell.strip()
    return repr(text if len(text) <= 30 else text[:30] + "…")


def read_text(path, kind=WEATHER_FILE):
    """The lines of a text file, plain or gzip, UTF-8 or marked as UTF-16."""
    name = _name(path)
    content = _unpacked(Path(path), name, kind)
    if not content.strip():
        raise UnreadableInput(
            "{name} is empty; it should be a {kind}.", name=name, kind=say(kind)
        )
    return Text(name, _decoded(content, name).splitlines())


def _name(path):
    """The file's own name, fit to stand in one line."""
    name = " ".join((Path(path).name or str(path)).split())
    return name.encode("utf-8", "replace").decode()[:80]


def _unpacked(path, name, kind):
    try:
        with path.open("rb") as file:
            packed = file.read(len(GZIP)) == GZIP
        with gzip.open(path) if packed else path.open("rb") as file:
            content = file.read(LARGEST_BYTES + 1)
    except (EOFError, zlib.error, gzip.BadGzipFile):
        raise UnreadableInput(
            "{name} is a damaged or cut-off gzip file; fetch it again.", name=name
        ) from None
    except OSError as error:
        raise UnreadableInput(
            "{name} can't be read ({error}); it should be a {kind}.",
            name=name,
            error=error.strerror,
            kind=say(kind),
        ) from None
    if len(content) > LARGEST_BYTES:
        raise UnreadableInput(
            "{name} holds over {most} MiB, more than any record of one station; it "
            "should hold the days of one station.",
            name=name,
            most=LARGEST_BYTES >> 20,
        )
    return content


def _decoded(content, name):
    if content.startswith(UTF_16):
        encoding = "UTF-16"
    elif b"\0" in content:
        raise UnreadableInput(
            "{name} is not text (byte {byte} is zero); it should be plain text or "
            "gzip.",
            name=name,
            byte=content.index(0),
        )
    else:
        encoding = "UTF-8-sig"
    try:
        return content.decode(encoding)
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise UnreadableInput(
            "{name}, line {line}: this is not {encoding} text; save the file as UTF-8.",
            name=name,
            line=line,
            encoding=encoding[:6].rstrip("-"),
        ) from None
