"""Parameter tables: TOML rows of value, unit, standing and source.

A table is read into the frozen dataclass of the core that needs it, field by
field, so a row that nothing reads, or a field that no row fills, is an error.
A user's own file may give a bare value in place of a row.
"""

import dataclasses
import tomllib
from functools import cache
from importlib import resources
from pathlib import Path

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds.shapes import is_number
from sheafwright.feeds.telling import listed, say

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
                "{where}: {name} should be a value, or a row with value, unit, "
                "standing and source.",
                where=where,
                name=name,
            ) from None
        if row.standing not in STANDINGS:
            raise UnreadableInput(
                "{where}: {name} has standing {standing}; it should be one of "
                "{standings}.",
                where=where,
                name=name,
                standing=repr(row.standing),
                standings=", ".join(STANDINGS),
            )
        yield name, row


def parse(text, where):
    """Sections of rows: {section: {name: Row}}."""
    document = toml_of(text, where)
    loose = [name for name, entry in document.items() if not isinstance(entry, dict)]
    if loose:
        raise UnreadableInput(
            "{where}: {name} stands above the first section; it should stand below "
            "the [section] that it belongs to.",
            where=where,
            name=loose[0],
        )
    return {
        section: dict(_rows(within(where, section), entries))
        for section, entries in document.items()
    }


def within(file, section):
    """Where a section's rows stand, such as ``development.toml [tall]``."""
    return f"{file} [{section}]"


@cache
def shipped(name):
    """The package's own table, such as ``development``."""
    path = resources.files("sheafwright") / "data" / f"{name}.toml"
    return parse(path.read_text("utf-8"), f"{name}.toml")


def read_file(path):
    """A user's table."""
    return parse(read_text(path), str(path))


def read_text(path):
    """All of a text file."""
    try:
        return Path(path).read_text("utf-8")
    except UnicodeDecodeError as error:
        raise UnreadableInput(
            "{path} cannot be read as UTF-8: {error}.", path=str(path), error=str(error)
        ) from None
    except OSError as error:
        raise UnreadableInput(
            "{path} cannot be read ({why}).", path=str(path), why=error.strerror
        ) from None


def read_toml(path):
    """What a TOML file says, as a dict."""
    return toml_of(read_text(path), str(path))


def toml_of(text, where):
    """What the text of a TOML file says, as a dict; ``where`` is the file's name."""
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        # Numbers of too many figures and lists too deep are no mistakes of TOML's own.
        raise UnreadableInput(
            "{path} is not a TOML file: {error}.", path=where, error=str(error)
        ) from None


def build_shipped(kind, table, section):
    """As `build`, from one section of the package's own table."""
    return build(kind, shipped(table)[section], within(f"{table}.toml", section))


def build(kind, rows, where):
    """The core's dataclass ``kind`` from the rows of one section, one for one."""
    fields = dataclasses.fields(kind)
    known = {field.name for field in fields}
    needed = {f.name for f in fields if f.default is dataclasses.MISSING}
    missing, unread = sorted(needed - set(rows)), sorted(set(rows) - known)
    if missing or unread:
        raise UnreadableInput(
            "{where} {does}.", where=where, does=_does(missing, unread)
        )
    shapes = {field.name: str(field.type) for field in fields}
    return kind(**{n: _value(row, shapes[n], where) for n, row in rows.items()})


def _does(missing, unread):
    """What is wrong with a section, as the end of a sentence."""
    lacks = say("lacks {names}", names=", ".join(missing))
    has = say("has {names}, which nothing reads", names=", ".join(unread))
    return listed([*[lacks] * bool(missing), *[has] * bool(unread)])


def _value(row, shape, where):
    """The row's value, of the kind that its field is said to be."""
    several = "tuple" in shape
    value = tuple(row.value) if isinstance(row.value, list) else row.value
    numbers = value if isinstance(value, tuple) else (value,)
    right = isinstance(value, tuple) == several and all(map(is_number, numbers))
    if not right and ("float" in shape or "int" in shape):
        raise UnreadableInput(
            "{where}: {name} is {value}; it should be {wanted}.",
            where=where,
            name=row.name,
            value=repr(row.value),
            wanted=say("a list of numbers") if several else say("a number"),
        )
    return value
