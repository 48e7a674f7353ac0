"""Change people, their holdings, and who is what to which."""

import secrets
import uuid

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _

from sheafwright.accounts.keys import key_sha256
from sheafwright.accounts.models import Holding, Membership, Person, Token, Units
from sheafwright.accounts.rights import Role

NOT_A_SLUG = frozenset(
    (
        "api",
        "csrf",
        "holdings",
        "keys",
        "offline",
        "sign-in",
        "sign-out",
        "start",
        "static",
        "units",
        "unsent",
    )
)
"""First parts of addresses that are no holding's."""
LONGEST_SLUG = 50


def person_create(*, email, name, password, id=None, units=Units.METRIC):
    person = Person(id=id or uuid.uuid4(), email=email, name=name, units=units)
    validate_password(password, person)
    person.set_password(password)
    person.full_clean()
    person.save(force_insert=True)
    return person


def person_settings_change(*, person, units, name):
    person.units, person.name = units, name
    person.full_clean(exclude=("password",))
    person.save(update_fields=("units", "name"))
    return person


@transaction.atomic
def holding_create(*, name, made_by, id=None, **about):
    """A new holding, owned by whoever makes it."""
    holding = Holding(id=id or uuid.uuid4(), name=name, slug=_slug(name), **about)
    holding.full_clean()
    holding.save(force_insert=True)
    membership_set(person=made_by, holding=holding, role=Role.OWNER)
    return holding


@transaction.atomic
def membership_set(*, person, holding, role):
    """Make a person this to a holding, and nothing else."""
    if role != Role.OWNER:
        _leave_an_owner(person, holding)
    membership = Membership.objects.filter(person=person, holding=holding).first()
    membership = membership or Membership(person=person, holding=holding)
    membership.role = role
    membership.full_clean()
    membership.save()
    return membership


@transaction.atomic
def membership_end(*, membership):
    _leave_an_owner(membership.person, membership.holding)
    membership.delete()


def token_make(*, person, label):
    """A new token and its key, which nobody can show again."""
    key = secrets.token_urlsafe(32)
    token = Token(person=person, label=label, key_sha256=key_sha256(key))
    token.full_clean()
    token.save()
    return token, key


def token_end(*, token):
    token.ended_at = token.ended_at or timezone.now()
    token.save(update_fields=("ended_at",))
    return token


def _slug(name):
    """An address that no other holding has."""
    said = slugify(name)[:LONGEST_SLUG] or "holding"
    taken = NOT_A_SLUG | set(
        Holding.objects.filter(slug__startswith=said).values_list("slug", flat=True)
    )
    slug, number = said, 2
    while slug in taken:
        slug, number = f"{said}-{number}", number + 1
    return slug


def _leave_an_owner(person, holding):
    # The holding is locked, so that two owners cannot both go at once.
    Holding.objects.select_for_update().get(pk=holding.pk)
    owners = Membership.objects.filter(holding=holding, role=Role.OWNER)
    if [owner.person_id for owner in owners] == [person.pk]:
        raise ValidationError(
            _("%(person)s is the only owner of %(holding)s; make someone else one too.")
            % {"person": person, "holding": holding},
        )


def holding_place_change(*, holding, latitude_deg, altitude_m):
    holding.latitude_deg, holding.altitude_m = latitude_deg, altitude_m
    holding.last_write = uuid.uuid4()
    holding.full_clean()
    holding.save(update_fields=("latitude_deg", "altitude_m", "last_write"))
    return holding


@transaction.atomic
def person_let_in(*, holding, email, name, role, password):
    """Make someone this to a holding; someone new needs a first password."""
    person = Person.objects.filter(email__iexact=email).first()
    if person is None:
        person = person_create(email=email, name=name, password=password)
    return membership_set(person=person, holding=holding, role=role)
