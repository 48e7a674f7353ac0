"""The whole book in one file, and back.

A backup is a zip of the book, of the files kept beside it, and of a manifest: a SHA-256
of every file and of every table. The book is copied by the database's own means, so it
is the book of one moment however much is being written.
"""

import contextlib
import dataclasses
import datetime
import hashlib
import json
import shutil
import tempfile
import zipfile
import zlib
from pathlib import Path, PurePosixPath

from django.conf import settings
from django.db import connection
from django.db.migrations.loader import MigrationLoader

from sheafwright import __version__
from sheafwright.core.errors import UnreadableInput
from sheafwright.records.dump import DUMP_OF, dump_book, put_back

MANIFEST = "manifest.json"
KEPT = "kept"
FORMAT = 1
LARGEST_MANIFEST = 16 * 1024**2
CHUNK = 1024**2


@dataclasses.dataclass(frozen=True)
class Manifest:
    """What a backup says is in it."""

    files: dict
    """Name to its size and SHA-256."""
    tables: dict
    """Name to the number of rows and the SHA-256 of them all."""
    made_at: str
    version: str = __version__
    format: int = FORMAT

    @property
    def book(self):
        """The name of the book's file."""
        return next(name for name in DUMP_OF.values() if name in self.files)


def backup(to):
    """Write a backup of the book that Django is pointed at; returns its manifest."""
    if to.exists():
        raise UnreadableInput(f"{to} is there already; say a name that is free.")
    if not to.parent.is_dir():
        raise UnreadableInput(f"There is no folder {to.parent} to put a backup in.")
    new = to.with_name(to.name + ".new")
    with tempfile.TemporaryDirectory(dir=to.parent, prefix=".backup-") as folder:
        book, tables = dump_book(Path(folder))
        try:
            with zipfile.ZipFile(new, "w", zipfile.ZIP_DEFLATED) as archive:
                # The book first: a file comes before the entry that speaks of it, so
                # every file that the book knows is then there to be copied.
                files = dict(_pack(archive, _all_files(book)))
                made_at = datetime.datetime.now(datetime.UTC).isoformat()
                manifest = Manifest(files=files, tables=tables, made_at=made_at)
                archive.writestr(MANIFEST, json.dumps(dataclasses.asdict(manifest)))
            new.chmod(0o600)
            new.replace(to)
        finally:
            new.unlink(missing_ok=True)
    return manifest


def unpack(archive_path, folder):
    """Take a backup apart into an empty folder, if every byte is as it was written."""
    with _opened(archive_path) as archive:
        manifest = _manifest(archive)
        names = sorted(archive.namelist())
        if names != sorted([*manifest.files, MANIFEST]):
            raise UnreadableInput(
                f"{archive_path} holds other files than its manifest says; "
                "take another backup."
            )
        for name, said in manifest.files.items():
            _unpack_one(archive, name, said, folder)
    return manifest


def check_book(manifest, folder):
    """What was unpacked is sound, all of it, and not of a later version than this."""
    if manifest.book != DUMP_OF[connection.vendor]:
        raise UnreadableInput(
            f"The backup holds {manifest.book}, no book for {connection.display_name}; "
            "set DATABASE_URL for the kind of database it came from."
        )
    found = put_back(folder / manifest.book, manifest.tables)
    for name, said in manifest.tables.items():
        if found[name] != said:
            raise UnreadableInput(
                f"The table {name} is not as it was backed up; take another backup."
            )
    _not_of_a_later_version(manifest)


def put_in_place(new, folder):
    """Give a checked folder its name; what stood there is kept beside it.

    Returns
    -------
    Path or None
        Where the old folder is now.
    """
    if folder.exists() and not any(folder.iterdir()):
        # Not every system lets a folder take the name of an empty one.
        folder.rmdir()
    if not folder.exists():
        new.rename(folder)
        return None
    now = datetime.datetime.now().strftime("%Y-%m-%d-%H%M%S")
    old = folder.with_name(f"{folder.name}-before-{now}")
    folder.rename(old)
    try:
        new.rename(folder)
    except OSError:
        old.rename(folder)
        raise
    return old


def _not_of_a_later_version(manifest):
    steps = MigrationLoader(connection)
    if set(steps.applied_migrations) - set(steps.disk_migrations):
        raise UnreadableInput(
            f"The backup was made by version {manifest.version}, which is later than "
            f"this, {__version__}; restore it with that one."
        )


def _all_files(book):
    yield book.name, book
    kept = Path(settings.MEDIA_ROOT)
    for path in sorted(kept.rglob("*")):
        if path.is_file():
            yield f"{KEPT}/{path.relative_to(kept).as_posix()}", path


def _pack(archive, files):
    for name, path in files:
        # An entry refused at this moment takes its file away again.
        with contextlib.suppress(FileNotFoundError):
            yield name, _pack_one(archive, name, path)


def _pack_one(archive, name, path):
    with path.open("rb") as file, archive.open(name, "w", force_zip64=True) as packed:
        return _copy(file, packed)


def _copy(file, to, most=None):
    """Copy and hash at once, so that the hash is of what was copied."""
    sha256, size = hashlib.sha256(), 0
    while chunk := file.read(CHUNK):
        size += len(chunk)
        if most is not None and size > most:
            break
        sha256.update(chunk)
        to.write(chunk)
    return {"size": size, "sha256": sha256.hexdigest()}


@contextlib.contextmanager
def _opened(path):
    try:
        with zipfile.ZipFile(path) as archive:
            yield archive
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError) as error:
        raise UnreadableInput(
            f"{path} is no whole backup ({error}); take another one."
        ) from None


def _manifest(archive):
    try:
        if archive.getinfo(MANIFEST).file_size > LARGEST_MANIFEST:
            raise ValueError
        manifest = Manifest(**json.loads(archive.read(MANIFEST)))
        if manifest.format != FORMAT:
            raise UnreadableInput(
                f"This backup is of form {manifest.format}, made by version "
                f"{manifest.version}; restore it with that version or a later one."
            )
        if not all(map(_is_safe, manifest.files)) or not manifest.book:
            raise ValueError
    except (KeyError, TypeError, ValueError, StopIteration, AttributeError):
        raise UnreadableInput(
            f"{archive.filename} has no manifest that can be trusted; "
            "take another backup."
        ) from None
    return manifest


def _is_safe(name):
    """A name that stays below the folder it is unpacked into."""
    if name in DUMP_OF.values():
        return True
    path = PurePosixPath(name)
    inside = path.parts[:1] == (KEPT,) and len(path.parts) > 1
    plain = "\\" not in name and ":" not in name and "\0" not in name
    return inside and plain and ".." not in path.parts and path.as_posix() == name


def _unpack_one(archive, name, said, folder):
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    with archive.open(name) as packed, path.open("xb") as out:
        found = _copy(packed, out, most=said["size"])
    if found != said:
        raise UnreadableInput(
            f"{name} in {archive.filename} is not as it was backed up; "
            "take another backup."
        )


def remove(folder):
    """Take away what was unpacked and never put in place."""
    shutil.rmtree(folder, ignore_errors=True)
