"""Parameter tables: TOML rows of value, unit, standing and source.

A table is read into the frozen dataclass of the core that needs it, field by
field, so a row that nothing reads, or a field that no row fills, is an error.
A user's own file may give a bare value in place of a row.
"""

import dataclasses
import math
import tomllib
from functools import cache
from importlib import resources
from pathlib import Path

from sheafwright.core.errors import UnreadableInput

STANDINGS = ("published", "from memory", "common practice", "assumed")


@dataclasses.dataclass(frozen=True)
class Row:
    """One parameter as the table holds it."""

    table: str
    name: str
    value: object
    unit: str = ""
    standing: str = "assumed"
    source: str = ""


def _rows(where, entries):
    for name, entry in entries.items():
        given = entry if isinstance(entry, dict) else {"value": entry}
        try:
            row = Row(where, name, **given)
        except TypeError:
            raise UnreadableInput(
                f"{where}: {name} should be a value, or a row with value, unit, "
                f"standing and source."
            ) from None
        if row.standing not in STANDINGS:
            raise UnreadableInput(
                f"{where}: {name} has standing {row.standing!r}; "
                f"it should be one of {', '.join(STANDINGS)}."
            )
        yield name, row


def parse(text, where):
    """Sections of rows: {section: {name: Row}}."""
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise UnreadableInput(f"{where} is not a TOML table: {error}.") from None
    loose = [name for name, entry in document.items() if not isinstance(entry, dict)]
    if loose:
        raise UnreadableInput(
            f"{where}: {loose[0]} stands above the first section; it should stand "
            f"below the [section] that it belongs to."
        )
    return {
        section: dict(_rows(f"{where} [{section}]", entries))
        for section, entries in document.items()
    }


@cache
def shipped(name):
    """The package's own table, such as ``development``."""
    path = resources.files("sheafwright") / "data" / f"{name}.toml"
    return parse(path.read_text("utf-8"), f"{name}.toml")


def read_file(path):
    """A user's table."""
    try:
        text = Path(path).read_text("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise UnreadableInput(f"{path} cannot be read as UTF-8: {error}.") from None
    return parse(text, str(path))


def build(kind, rows, where):
    """The core's dataclass ``kind`` from the rows of one section, one for one."""
    fields = dataclasses.fields(kind)
    known = {field.name for field in fields}
    needed = {f.name for f in fields if f.default is dataclasses.MISSING}
    missing, unread = sorted(needed - set(rows)), sorted(set(rows) - known)
    if missing or unread:
        says = [f"lacks {', '.join(missing)}"] if missing else []
        says += [f"has {', '.join(unread)}, which nothing reads"] if unread else []
        raise UnreadableInput(f"{where} {' and '.join(says)}.")
    shapes = {field.name: str(field.type) for field in fields}
    return kind(**{n: _value(row, shapes[n], where) for n, row in rows.items()})


def _value(row, shape, where):
    """The row's value, of the kind that its field is said to be."""
    several = "tuple" in shape
    value = tuple(row.value) if isinstance(row.value, list) else row.value
    numbers = value if isinstance(value, tuple) else (value,)
    right = isinstance(value, tuple) == several and all(map(_is_number, numbers))
    if not right and ("float" in shape or "int" in shape):
        raise UnreadableInput(
            f"{where}: {row.name} is {row.value!r}; it should be "
            f"{'a list of numbers' if several else 'a number'}."
        )
    return value


def _is_number(value):
    return (
        isinstance(value, int | float)
        and not isinstance(value, bool)
        and math.isfinite(value)
    )
