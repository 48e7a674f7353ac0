"""The book as one file, by each database's own means."""

import contextlib
import hashlib
import os
import shutil
import sqlite3
import subprocess

from django.db import connection, transaction

from sheafwright.core.errors import ServiceUnavailable, UnreadableInput

DUMP_OF = {"sqlite": "book.sqlite3", "postgresql": "book.pgdump"}
"""What the file is called, by kind of database."""


def dump_book(folder):
    """The path of the book of this moment, and a hash of every table in it."""
    dumps = {"sqlite": _dump_sqlite, "postgresql": _dump_postgresql}
    return dumps[connection.vendor](folder)


def put_back(path, names):
    """Make the dump at this path the book that Django is pointed at.

    Returns a hash of each table of these names, as `dump_book` does.
    """
    ways = {"sqlite": _check_sqlite, "postgresql": _fill_postgresql}
    return ways[connection.vendor](path, names)


def _table_hashes(cursor, names):
    """Name of each table to its number of rows and one SHA-256 of them all."""
    return {name: _table_hash(cursor, name) for name in names}


def _table_hash(cursor, name):
    cursor.execute(f'SELECT * FROM "{name}"')
    rows = sorted(hashlib.sha256(repr(tuple(row)).encode()).digest() for row in cursor)
    return {"rows": len(rows), "sha256": hashlib.sha256(b"".join(rows)).hexdigest()}


def _dump_sqlite(folder):
    path = folder / DUMP_OF["sqlite"]
    live = sqlite3.connect(connection.settings_dict["NAME"])
    with contextlib.closing(live), contextlib.closing(sqlite3.connect(path)) as copy:
        live.backup(copy)
        # The copy is one file by itself, without a log beside it.
        copy.execute("PRAGMA journal_mode=DELETE")
        tables = copy.execute(
            "SELECT name FROM sqlite_master WHERE type = 'table' "
            "AND name NOT LIKE 'sqlite|_%' ESCAPE '|'"
        )
        return path, _table_hashes(copy.cursor(), [name for (name,) in tables])


def _dump_postgresql(folder):
    path = folder / DUMP_OF["postgresql"]
    with transaction.atomic(), connection.cursor() as cursor:
        # What is hashed here and what is dumped there is of the same moment.
        cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ")
        cursor.execute("SELECT pg_export_snapshot()")
        (snapshot,) = cursor.fetchone()
        names = connection.introspection.table_names(cursor)
        form = ("--format=custom", "--no-owner", f"--snapshot={snapshot}")
        _run("pg_dump", *form, "--file", path, _name())
        return path, _table_hashes(cursor, names)


def _check_sqlite(path, names):
    """The file is in its place already, if the database itself calls it sound."""
    with contextlib.closing(sqlite3.connect(path)) as book:
        try:
            (says,) = book.execute("PRAGMA integrity_check").fetchone()
            if says == "ok" and not book.execute("PRAGMA foreign_key_check").fetchall():
                return _table_hashes(book.cursor(), names)
        except sqlite3.DatabaseError as error:
            says = error
    raise UnreadableInput(f"The book in the backup is not sound ({says}).")


def _fill_postgresql(path, names):
    """Fill the empty database; all of it, or nothing."""
    if connection.introspection.table_names():
        raise UnreadableInput(
            "The database holds tables already; name an empty one in DATABASE_URL."
        )
    connection.close()
    _run("pg_restore", "--single-transaction", "--no-owner", "--dbname", _name(), path)
    path.unlink()
    with connection.cursor() as cursor:
        return _table_hashes(cursor, names)


def _run(program, *arguments):
    if shutil.which(program) is None:
        raise ServiceUnavailable(
            f"{program} is not installed here; it comes with PostgreSQL's client."
        )
    done = subprocess.run(
        [program, *map(str, arguments)],
        env=os.environ | _environment(),
        capture_output=True,
        text=True,
    )
    if done.returncode:
        said = " ".join(done.stderr.split())
        raise ServiceUnavailable(f"{program} would not do it: {said}")


def _name():
    return connection.settings_dict["NAME"]


def _environment():
    """How to reach the server: by environment, for others can read a command line."""
    said = connection.settings_dict
    names = {"HOST": "PGHOST", "PORT": "PGPORT", "USER": "PGUSER"}
    names |= {"PASSWORD": "PGPASSWORD"}
    return {names[key]: str(said[key]) for key in names if said[key]}
