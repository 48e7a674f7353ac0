"""What the first release wrote, this one reads: its backup, brought forward.

``first_release.zip`` was made by release 0.1.0: ``sheafwright demo --seasons 2
--fields 3``, with what the demo leaves out (an entry undone, a weight put right, a
photo, late entries, a key, a second holding), and then ``sheafwright backup``. It is
never made anew: whoever began with that release has such a book.
"""

import contextlib
import hashlib
import json
import sqlite3
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from sheafwright import accounts, records
from sheafwright.records.triggers import POSTGRESQL, SQLITE

FIRST = Path(__file__).with_name("first_release.zip")
OPEN_PAGES = Path(__file__).with_name("open_pages.py")
GROWS = {"django_migrations", "django_content_type", "auth_permission"}
"""Django's own lists of what there is: later releases add to them."""
FROZEN = {
    (accounts, "0001_initial"): (
        "ed396e15d9ec512d550195b1134771dd16ffe0bedfe8ebd950a40ebf62f81216"
    ),
    (records, "0001_initial"): (
        "f5af85c9273acec95777f3fe87a93ca901d78cac61c02acb5ad11ccd370a2f31"
    ),
    (records, "0002_rules_of_the_book"): (
        "25b7fec6522a96e7484ba9adb4ca9fe6066063dce7387c754df54e391336bc19"
    ),
}
"""What made the first release's tables: a change of them is a new migration."""
RULES = "ead0e1aa24b578a7805c2297e6bbe24bb2182725ca8e18cf44c16f29695e69f5"
"""Of what 0002 says to the database."""


@pytest.fixture(scope="module")
def forward(tmp_path_factory):
    """The first release's book, restored by this one, and what restoring it said."""
    folder = tmp_path_factory.mktemp("first") / "book"
    restore = [Path(sys.executable).with_name("sheafwright"), "restore"]
    done = subprocess.run(
        [*restore, FIRST, "--holding", folder], capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    return folder, done.stdout


@pytest.fixture(scope="module")
def first(tmp_path_factory):
    """The first release's book as it was, never brought forward."""
    with zipfile.ZipFile(FIRST) as archive:
        return archive.extract("book.sqlite3", tmp_path_factory.mktemp("was"))


def rows_of(path):
    """Table to its columns, and its rows."""
    with contextlib.closing(sqlite3.connect(path)) as book:
        names = book.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        return {name: _rows(book, name) for (name,) in names.fetchall()}


def _rows(book, name):
    found = book.execute(f'SELECT * FROM "{name}"')
    columns = [column for column, *_ in found.description]
    return [dict(zip(columns, row, strict=True)) for row in found]


def lost(was, now):
    """Each table in which something of ``was`` is not in ``now``, and how."""
    for table, rows in was.items():
        if table == "sqlite_sequence" or not rows:
            continue
        if table not in now:
            yield f"{table} is gone"
            continue
        here = {_said(row, rows[0]) for row in now[table]}
        there = {_said(row, rows[0]) for row in rows}
        if there - here or (here - there and table not in GROWS):
            yield f"{table} says otherwise"


def _said(row, columns):
    return tuple(repr(row.get(column, "gone")) for column in columns)


def test_every_row_of_the_first_release_is_there_unchanged(first, forward):
    folder, _says = forward
    assert not list(lost(rows_of(first), rows_of(folder / "book.sqlite3")))


def test_the_first_release_held_something_of_every_kind(first):
    held = rows_of(first)
    ours = {name for name in held if name.startswith(("records", "accounts"))}
    assert not {name for name in ours if not held[name]}
    with zipfile.ZipFile(FIRST) as archive:
        manifest = json.loads(archive.read("manifest.json"))
    counts = {name: said["rows"] for name, said in manifest["tables"].items()}
    assert counts == {name: len(held[name]) for name in counts}
    assert manifest["version"] == "0.1.0"


@pytest.mark.parametrize(
    ("statement", "told"),
    [
        ("ALTER TABLE records_observation DROP COLUMN note", "records_observation"),
        ("UPDATE records_lot SET grade = 'x' WHERE code LIKE '%-01'", "records_lot"),
        ("DELETE FROM records_labour WHERE hours = 9", "records_labour"),
        ("DROP TABLE records_ley", "records_ley is gone"),
    ],
)
def test_a_migration_that_loses_something_would_be_told(
    statement, told, first, tmp_path
):
    changed = tmp_path / "changed.sqlite3"
    changed.write_bytes(Path(first).read_bytes())
    with contextlib.closing(sqlite3.connect(changed)) as book:
        book.execute(statement)
        book.commit()
    (said,) = lost(rows_of(first), rows_of(changed))
    assert told in said


def test_the_books_chain_and_rules_came_forward(forward, sheafwright):
    folder, says = forward
    assert "The book is sound: 42 movements with 104 lines" in says
    assert sheafwright("verify", "--holding", folder).code == 0


def test_every_kept_file_came_forward(forward):
    folder, _says = forward
    with zipfile.ZipFile(FIRST) as archive:
        kept = [name for name in archive.namelist() if name.startswith("kept/")]
        assert len(kept) == 3
        for name in kept:
            assert (folder / name).read_bytes() == archive.read(name)


def test_every_page_of_it_opens(forward):
    folder, _says = forward
    done = subprocess.run(
        [sys.executable, OPEN_PAGES, folder], capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    opened = json.loads(done.stdout)
    assert len(opened) > 40
    assert not {address: code for address, code in opened.items() if code != 200}


def sha256(content):
    return hashlib.sha256(content).hexdigest()


@pytest.mark.parametrize(("package", "name"), FROZEN)
def test_a_migration_of_the_first_release_stays_as_it_was(package, name):
    path = Path(package.__file__).parent / "migrations" / f"{name}.py"
    assert sha256(path.read_bytes()) == FROZEN[package, name]


def test_so_do_the_rules_that_they_say_to_the_database():
    assert sha256(json.dumps([SQLITE, POSTGRESQL]).encode()) == RULES
