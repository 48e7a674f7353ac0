"""Books in folders of their own, made and kept by commands as a grower would."""

import dataclasses
import os
import subprocess
import sys
from pathlib import Path

import pytest

SHEAFWRIGHT = Path(sys.executable).with_name("sheafwright")
OWN_BOOK = Path(__file__).parents[1] / "web/own_book.py"


@dataclasses.dataclass
class Done:
    code: int
    says: str


@pytest.fixture
def sheafwright():
    """Run a command to its end."""

    def run(*words, **environment):
        done = subprocess.run(
            [SHEAFWRIGHT, *map(str, words)],
            capture_output=True,
            text=True,
            env=os.environ | environment,
        )
        return Done(done.returncode, done.stdout + done.stderr)

    return run


@pytest.fixture(scope="session")
def anns_book(book_of):
    """A small book with a kept file; tests leave it as it is."""
    folder = book_of(OWN_BOOK.name)
    photos = folder / "kept/photos"
    photos.mkdir(parents=True)
    (photos / "nodes.jpg").write_bytes(b"a picture")
    return folder
