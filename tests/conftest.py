"""Ann owns Long Meadow, Ben works for her, Cleo is a stranger."""

import contextlib
import datetime
import os
import shutil
import sqlite3
import subprocess
import sys
import uuid
from pathlib import Path

import hypothesis
import pytest

import blank_book
from sheafwright.accounts.models import Holding, Membership, Person
from sheafwright.accounts.rights import Role
from sheafwright.records.lock import locked
from sheafwright.records.models import Field, Lot, Rick, SeedLot, Sowing
from sheafwright.records.services.book import place_of
from sheafwright.records.services.harvest import carting_record, cut_record
from sheafwright.records.services.threshing import Outturn, threshing_record

# No test is slow by itself: a machine with much else to do is no fault of ours.
hypothesis.settings.register_profile("unhurried", deadline=None)
hypothesis.settings.load_profile("unhurried")


@pytest.fixture(scope="session")
def blank_file(request, tmp_path_factory):
    """The file of a blank book, kept from run to run while its form stays the same."""
    kept = request.config.cache.mkdir("blank-book")
    with locked(kept):
        file = tmp_path_factory.mktemp("blank") / blank_book.NAME
        return shutil.copy(blank_book.blank_in(kept), file)


@pytest.fixture(scope="session")
def book_of(tmp_path_factory, blank_file):
    """A folder of one's own with the book that a program in ``web`` makes.

    Each is made once a run, by whichever worker asks first, and copied.
    """
    run = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        run = run.parent

    def book_of(program):
        made = run / f"made-{program}"
        with locked(run):
            if not made.exists():
                begun = blank_book.begin(tmp_path_factory.mktemp("made"), blank_file)
                make = Path(__file__).parent / "web" / program
                subprocess.run([sys.executable, make, begun], check=True)
                begun.rename(made)
        return Path(shutil.copytree(made, tmp_path_factory.mktemp("own") / "book"))

    return book_of


@pytest.fixture(scope="session")
def django_db_setup(request, django_test_environment, django_db_blocker, blank_file):
    """The book that these tests write in: the blank one, in memory."""
    from django.db import connection

    if connection.vendor != "sqlite":
        request.getfixturevalue("django_db_setup")
        return
    with django_db_blocker.unblock():
        connection.close()
        connection.settings_dict["NAME"] = "file:of-tests?mode=memory&cache=shared"
        connection.ensure_connection()
        with contextlib.closing(sqlite3.connect(blank_file)) as book:
            book.backup(connection.connection)


@pytest.fixture
def marl(db):
    return Holding.objects.create(name="Marl Hollow", slug="marl-hollow")


@pytest.fixture
def other_holding(db):
    """Another's holding, where Ann has no business."""
    return Holding.objects.create(name="Far Edge", slug="far-edge")


def _person(name, holding=None, role=None):
    person = Person.objects.create(email=f"{name.lower()}@example.org", name=name)
    if holding:
        Membership.objects.create(person=person, holding=holding, role=role)
    return person


@pytest.fixture
def ann(marl):
    return _person("Ann", marl, Role.OWNER)


@pytest.fixture
def ben(marl):
    return _person("Ben", marl, Role.HAND)


@pytest.fixture
def cleo(db):
    return _person("Cleo")


@pytest.fixture
def long_meadow(marl, ann):
    return Field.objects.create(
        holding=marl, made_by=ann, name="Long Meadow", area_ha=2.0
    )


@pytest.fixture
def seed_lot(marl, ann):
    return SeedLot.objects.create(
        holding=marl,
        made_by=ann,
        name="W-25",
        variety="Maris Widgeon",
        came=SeedLot.Came.BOUGHT,
        standing=SeedLot.Standing.ORGANIC,
    )


@pytest.fixture
def sowing(marl, ann, long_meadow, seed_lot):
    """Long Meadow, for the harvest of 2026."""
    return Sowing.objects.create(
        holding=marl,
        made_by=ann,
        field=long_meadow,
        seed_lot=seed_lot,
        date=datetime.date(2025, 9, 28),
        harvest_year=2026,
        area_ha=2.0,
    )


@pytest.fixture
def writes(marl, ann):
    """Write an entry as Ann: under an id of its own, if it isn't given one."""

    def write(service, *, id=None, **said):
        return service(id=id or uuid.uuid4(), holding=marl, made_by=ann, **said)

    return write


@pytest.fixture
def cut(writes, sowing):
    """Half of Long Meadow, 1,000 sheaves of 9 kg: 9,000 kg in stooks."""
    return writes(
        cut_record,
        sowing=sowing,
        date=datetime.date(2026, 8, 5),
        area_ha=1.0,
        sheaves=1000,
        kg_per_sheaf=9,
    )


@pytest.fixture
def rick(marl, ann):
    return Rick.objects.create(
        holding=marl,
        made_by=ann,
        name="Barn end",
        built=datetime.date(2026, 8, 20),
        cover=Rick.Cover.ROOF,
    )


@pytest.fixture
def ricked(writes, cut, rick):
    """The rick, with all 9,000 kg of the cut in it."""
    writes(
        carting_record,
        stook_set=cut.stook_set,
        rick=rick,
        date=datetime.date(2026, 8, 21),
    )
    return rick


@pytest.fixture
def threshing(writes, ricked):
    """The rick threshed: 4,000 kg of reed, 2,500 kg of grain, the rest waste."""
    return writes(
        threshing_record,
        rick=ricked,
        date=datetime.date(2026, 11, 3),
        outturn=(
            Outturn("reed", 4000, "R-26-1", bundles=300),
            Outturn("grain", 2500, "G-26-1", moisture_pct=14.5),
        ),
    )


@pytest.fixture
def reed(threshing):
    return Lot.objects.get(code="R-26-1")


@pytest.fixture
def grain(threshing):
    return Lot.objects.get(code="G-26-1")


@pytest.fixture
def kg_in(marl):
    """What is in a place, by its kind and whose it is. [kg]"""

    def look(kind, subject=None):
        place = place_of(
            holding=marl, kind=kind, subject=subject.pk if subject else None
        )
        place.balance.refresh_from_db()
        return place.balance.grams / 1000

    return look
