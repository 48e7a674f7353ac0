import pytest
from django.core.exceptions import ValidationError

from sheafwright.accounts.models import Membership
from sheafwright.accounts.rights import Right, Role
from sheafwright.accounts.services import (
    holding_create,
    membership_end,
    membership_set,
    person_create,
    person_settings_change,
)


def _ann_at(marl, ann):
    return Membership.objects.get(person=ann, holding=marl)


def test_ann_signs_up_with_a_password_of_her_own(db):
    person = person_create(
        email="ann@example.org", name="Ann", password="three wet harvests"
    )
    assert person.check_password("three wet harvests")


def test_a_password_as_short_as_a_word_is_refused(db, settings):
    settings.AUTH_PASSWORD_VALIDATORS = [
        {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator"}
    ]
    with pytest.raises(ValidationError, match="too short"):
        person_create(email="ann@example.org", name="Ann", password="rick")


def test_one_address_is_one_person(ann):
    with pytest.raises(ValidationError, match="already exists"):
        person_create(email=ann.email, name="Anna", password="three wet harvests")


def test_ann_changes_her_units_and_name(ann):
    person_settings_change(person=ann, units="imperial", name="Annie")
    ann.refresh_from_db()
    assert (ann.units, ann.name) == ("imperial", "Annie")


def test_units_that_nobody_has_are_refused(ann):
    with pytest.raises(ValidationError, match="units"):
        person_settings_change(person=ann, units="furlongs", name="Ann")


def test_cleo_owns_the_holding_that_she_makes(cleo):
    holding = holding_create(name="Combe Bottom", made_by=cleo)
    assert holding.slug == "combe-bottom"
    assert Membership.objects.get(holding=holding, person=cleo).may(Right.RUN)


def test_two_holdings_of_one_name_have_two_addresses(marl, cleo):
    assert holding_create(name="Marl Hollow", made_by=cleo).slug == "marl-hollow-2"


@pytest.mark.parametrize(("name", "slug"), [("API", "api-2"), ("★", "holding")])
def test_no_holding_takes_the_address_of_something_else(cleo, name, slug):
    assert holding_create(name=name, made_by=cleo).slug == slug


def test_ben_is_one_thing_to_a_holding_at_a_time(marl, ann, ben):
    membership_set(person=ben, holding=marl, role=Role.ADVISER)
    assert [m.role for m in ben.memberships.all()] == [Role.ADVISER]


def test_the_last_owner_does_not_leave(marl, ann):
    with pytest.raises(ValidationError, match="only owner of Marl Hollow"):
        membership_end(membership=_ann_at(marl, ann))


def test_the_last_owner_becomes_nothing_else(marl, ann):
    with pytest.raises(ValidationError, match="only owner"):
        membership_set(person=ann, holding=marl, role=Role.HAND)


def test_ann_leaves_once_ben_is_an_owner_too(marl, ann, ben):
    membership_set(person=ben, holding=marl, role=Role.OWNER)
    membership_end(membership=_ann_at(marl, ann))
    assert not ann.memberships.exists()
