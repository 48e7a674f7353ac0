"""Ann owns Long Meadow, Ben works for her, Cleo is a stranger."""

import pytest

from sheafwright.accounts.models import Holding, Membership, Person
from sheafwright.accounts.rights import Role


@pytest.fixture
def marl(db):
    return Holding.objects.create(name="Marl Hollow", slug="marl-hollow")


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
