"""Measured stems, from a file or from the book: one row a stem.

A row has any of ``length_mm``, ``butt_mm``, ``middle_mm``, ``top_mm``,
``taper_mm_per_m``, ``bends``, ``damage``, ``brightness`` and ``bundle``; what wasn't
measured is left out, null or blank. Of bends and damage a list will do, of damage a
mapping of kinds to lengths or ``crushed_mm``, ``split_mm`` and ``mouldy_mm``,
``dog_leg`` for a bend, and ``lab`` for brightness.
"""

import csv
import dataclasses
import io
import json
import math

import numpy as np

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds.plain_csv import file_bytes, text_of
from sheafwright.feeds.telling import say

LIMITS = {
    "length_mm": (20, 3000),
    "butt_mm": (0.3, 25),
    "middle_mm": (0.3, 25),
    "top_mm": (0.1, 25),
    "taper_mm_per_m": (-20, 20),
    "bends": (0, 50),
    "damage": (0, 50),
    "brightness": (0, 100),
    "bundle": (1, 1_000_000),
}
"""Columns, with the least and the most that a stem may have."""
ALSO = {
    "butt_diameter_mm": "butt_mm",
    "diameter_butt_mm": "butt_mm",
    "middle_diameter_mm": "middle_mm",
    "diameter_middle_mm": "middle_mm",
    "top_diameter_mm": "top_mm",
    "diameter_top_mm": "top_mm",
}
"""Other names of the same."""
DAMAGED = ("crushed_mm", "split_mm", "mouldy_mm")
"""How much of a stem is damaged in each way, as a measurer of photographs says it."""
MOST_STEMS = 5000
MOST_BYTES = 8_000_000


@dataclasses.dataclass(frozen=True)
class Stems:
    """Each of shape (stem,); NaN where a stem wasn't measured so."""

    length_mm: np.ndarray
    butt_mm: np.ndarray
    middle_mm: np.ndarray
    top_mm: np.ndarray
    taper_mm_per_m: np.ndarray
    bends: np.ndarray
    damage: np.ndarray
    brightness: np.ndarray
    bundle: np.ndarray
    """Whole numbers; 0 where nobody said: all of those count as one bundle."""

    def __len__(self):
        return len(self.bundle)


def stems_from_rows(rows, where):
    """`Stems` from mappings of column to value.

    Parameters
    ----------
    rows : list of mapping
    where : str
        What they are called when one is wrong.
    """
    read = _read(rows, where)
    columns = {name: np.array([row[name] for row in read]) for name in LIMITS}
    columns["bundle"] = np.nan_to_num(columns["bundle"]).astype(int)
    columns["taper_mm_per_m"] = _tapers(columns)
    return Stems(**columns)


def plain_rows(rows, where):
    """The same rows with numbers in our own columns alone, as they may be kept."""
    return [
        {name: value for name, value in row.items() if not math.isnan(value)}
        for row in _read(rows, where)
    ]


def _read(rows, where):
    if not isinstance(rows, list) or not 1 <= len(rows) <= MOST_STEMS:
        raise UnreadableInput(
            "{where} should hold a list of 1 to {most} stems.",
            where=where,
            most=MOST_STEMS,
        )
    return [_row(row, where, number) for number, row in enumerate(rows, 1)]


def _tapers(columns):
    """As measured; else by how much the butt is thicker than the top."""
    thinner = columns["butt_mm"] - columns["top_mm"]
    reckoned = 1000 * thinner / columns["length_mm"]
    given = columns["taper_mm_per_m"]
    return np.where(np.isnan(given), reckoned, given)


def _row(row, where, number):
    if not isinstance(row, dict):
        raise _wrong(where, number, "", row, say("a stem with its measures"))
    named = {ALSO.get(name, name): value for name, value in row.items()}
    named = _counted(named)
    return {name: _number(named.get(name), name, where, number) for name in LIMITS}


def _counted(row):
    """What a measurer says of places along a stem, as numbers of them."""
    row = dict(row)
    for name in ("bends", "damage"):
        if isinstance(row.get(name), list):
            row[name] = len(row[name])
    if row.get("bends") is None and "dog_leg" in row:
        row["bends"] = row["dog_leg"]
    if row.get("damage") is None:
        row["damage"] = {name: row[name] for name in DAMAGED if name in row} or None
    if isinstance(row.get("damage"), dict):
        row["damage"] = sum(map(_is_some, row["damage"].values()))
    lab = row.get("lab")
    if row.get("brightness") is None and isinstance(lab, list) and lab:
        # The first of the three is lightness, from black at 0 to white at 100.
        row["brightness"] = lab[0]
    return row


def _is_some(length):
    """Whether a length is more than none, in a CSV too."""
    try:
        return float(length or 0) > 0
    except (TypeError, ValueError):
        return bool(length)


def _number(value, name, where, number):
    if value is None or value == "":
        return math.nan
    least, most = LIMITS[name]
    wanted = say("a number from {least:g} to {most:g}", least=least, most=most)
    try:
        found = float(value)
    except (TypeError, ValueError, OverflowError):
        raise _wrong(where, number, name, value, wanted) from None
    if not least <= found <= most:
        raise _wrong(where, number, name, value, wanted)
    return found


def _wrong(where, number, name, value, wanted):
    return UnreadableInput(
        "{where}, stem {number}, {name}: {found} should be {wanted}.",
        where=where,
        number=number,
        name=name or say("the whole of it"),
        found=repr(value)[:40],
        wanted=wanted,
    )


def rows_in(content, where):
    """The rows in a file's bytes: JSON or CSV, told apart by how it begins.

    JSON is a list of stems, or an object that has them as ``stems``.
    """
    if len(content) > MOST_BYTES:
        raise UnreadableInput(
            "{where} is larger than {most:,} bytes: it should hold stems alone.",
            where=where,
            most=MOST_BYTES,
        )
    text = text_of(content, where)
    is_json = text.lstrip()[:1] in ("[", "{")
    return _in_json(text, where) if is_json else _in_csv(text, where)


def _in_json(text, where):
    try:
        read = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise UnreadableInput(
            "{where} is not JSON ({error}).", where=where, error=str(error)
        ) from None
    return read.get("stems") if isinstance(read, dict) else read


def _in_csv(text, where):
    try:
        rows = list(csv.DictReader(io.StringIO(text, newline=""), strict=True))
    except csv.Error as error:
        raise UnreadableInput(
            "{where} is not a CSV ({error}).", where=where, error=str(error)
        ) from None
    names = {ALSO.get(name, name) for name in (rows[0] if rows else ())}
    if not names & LIMITS.keys():
        raise UnreadableInput(
            "{where}, line 1: it should name any of the columns {columns}, parted by "
            "commas.",
            where=where,
            columns=", ".join(LIMITS),
        )
    return rows


def read_stems(path):
    """`Stems` in a file."""
    return stems_from_rows(rows_in(file_bytes(path), str(path)), str(path))
