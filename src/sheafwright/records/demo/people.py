"""The invented people of the demo, one for each role."""

import secrets

from sheafwright.accounts.rights import Role
from sheafwright.accounts.services import person_create

PEOPLE = {
    Role.OWNER: "Hazel Marl",
    Role.HAND: "Rowan Pike",
    Role.ADVISER: "Linden Gray",
    Role.INSPECTOR: "Sorrel Vane",
    Role.BUYER: "Orla Quince",
}


def people_make(id_of):
    """Role to person, and the one password of them all."""
    password = secrets.token_urlsafe(9)
    people = {
        role: person_create(
            id=id_of(f"person {role}"),
            email=f"{role}@example.org",
            name=name,
            password=password,
        )
        for role, name in PEOPLE.items()
    }
    return people, password


def password_renew(people):
    """A new password for them all: the old one was shown once and never kept."""
    password = secrets.token_urlsafe(9)
    for person in people:
        person.set_password(password)
        person.save(update_fields=("password",))
    return password
