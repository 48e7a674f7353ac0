"""Ann owns Long Meadow, Ben works for her, Cleo is a stranger."""

import datetime

import pytest

from sheafwright.accounts.models import Holding, Membership, Person
from sheafwright.accounts.rights import Role
from sheafwright.records.models import Field, SeedLot, Sowing


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
