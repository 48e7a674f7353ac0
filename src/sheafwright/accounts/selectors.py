"""Who may see which holding."""

import secrets

from django.http import Http404

from sheafwright.accounts.keys import key_sha256
from sheafwright.accounts.models import Membership, Person, Token
from sheafwright.accounts.rights import RIGHTS, Right


def membership_with(*, person, slug, right):
    """The person's membership of a holding, if it gives the right.

    A holding that is another's looks just like one that is not there, so that no
    address tells a stranger what exists.
    """
    found = (
        Membership.objects.select_related("holding", "person")
        .filter(person_id=person.pk, holding__slug=slug)
        .first()
    )
    if found is None or not found.may(right):
        raise Http404
    return found


def memberships_of(*, person):
    return (
        Membership.objects.select_related("holding")
        .filter(person=person)
        .order_by("holding__name")
    )


def people_at_work(*, holding):
    """Whoever may write down the day's work, by name."""
    roles = [role for role, rights in RIGHTS.items() if Right.DO_WORK in rights]
    return Person.objects.filter(
        memberships__holding=holding, memberships__role__in=roles
    ).order_by("name")


def person_of_token(key):
    """Whom a key speaks for; nobody if it was never made, or has ended."""
    said = key_sha256(key)
    token = (
        Token.objects.select_related("person")
        .filter(key_sha256=said, ended_at=None, person__is_active=True)
        .first()
    )
    # Only hashes are compared, and in a time that tells nothing of how much agreed.
    if token is None or not secrets.compare_digest(token.key_sha256, said):
        return None
    return token.person
