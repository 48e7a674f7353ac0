"""A file as lines of text, packed or not, and refused in words where it is neither."""

import codecs
import dataclasses
import gzip
import zlib
from pathlib import Path

from sheafwright.core.errors import UnreadableInput

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
        """The sentence that says what is wrong, and on which line."""
        where = self.name if line is None else f"{self.name}, line {line}"
        return UnreadableInput(f"{where}: {says}")


def shown(cell):
    """A cell as a sentence can quote it."""
    text = cell.strip()
    return repr(text if len(text) <= 30 else text[:30] + "…")


def read_text(path, kind="weather file"):
    """The lines of a text file, plain or gzip, UTF-8 or marked as UTF-16."""
    name = _name(path)
    content = _unpacked(Path(path), name, kind)
    if not content.strip():
        raise UnreadableInput(f"{name} is empty; it should be a {kind}.")
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
            f"{name} is a damaged or cut-off gzip file; fetch it again."
        ) from None
    except OSError as error:
        raise UnreadableInput(
            f"{name} can't be read ({error.strerror}); it should be a {kind}."
        ) from None
    if len(content) > LARGEST_BYTES:
        raise UnreadableInput(
            f"{name} holds over {LARGEST_BYTES >> 20} MiB, more than any record of "
            f"one station; it should hold the days of one station."
        )
    return content


def _decoded(content, name):
    if content.startswith(UTF_16):
        encoding = "UTF-16"
    elif b"\0" in content:
        raise UnreadableInput(
            f"{name} is not text (byte {content.index(0)} is zero); "
            f"it should be plain text or gzip."
        )
    else:
        encoding = "UTF-8-sig"
    try:
        return content.decode(encoding)
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise UnreadableInput(
            f"{name}, line {line}: this is not {encoding[:6].rstrip('-')} text; "
            f"save the file as UTF-8."
        ) from None
