"""An empty book in this release's form: made once, and copied wherever one is needed.

``blank_book.py FOLDER`` takes a new book through every migration. That is long, and
comes out the same each time, so only tests of a first start do it anew.
"""

import hashlib
import importlib.metadata
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

NAME = "book.sqlite3"
PACKAGE = Path(__file__).parents[1] / "src/sheafwright"
MADE_BY = (
    "accounts/**/*.py",
    "records/migrations/*.py",
    "records/models/*.py",
    "records/triggers.py",
    "server/settings.py",
    "server/run.py",
)
"""What the tables of a new book come from, beside these:"""
PACKAGES = "django", "django-axes"


def blank_in(kept):
    """The blank book in a folder of kept ones, made if it isn't there."""
    file = kept / f"{_form()}.sqlite3"
    if not file.exists():
        for older in kept.glob("*.sqlite3"):
            older.unlink()
        with tempfile.TemporaryDirectory() as folder:
            make(folder)
            shutil.move(Path(folder) / NAME, file)
    return file


def make(folder, **environment):
    """A book through every migration, in a folder or where the environment says."""
    command = [sys.executable, __file__, str(folder)]
    subprocess.run(command, check=True, env=environment or None)


def begin(folder, blank):
    """A folder that begins with the blank book."""
    folder.mkdir(parents=True, exist_ok=True)
    shutil.copy(blank, folder / NAME)
    return folder


def _form():
    """What tells the form of this release's book from any other."""
    said = hashlib.sha256()
    for package in PACKAGES:
        said.update(importlib.metadata.version(package).encode())
    for pattern in MADE_BY:
        for path in sorted(PACKAGE.glob(pattern)):
            said.update(path.read_bytes())
    return said.hexdigest()[:16]


if __name__ == "__main__":
    from sheafwright.server.run import prepare

    prepare(Path(sys.argv[1]))
