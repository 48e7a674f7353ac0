"""The first start of an installation: once, and never again."""

from django.db import connection, transaction
from django.http import Http404

from sheafwright.accounts.models import Person
from sheafwright.accounts.services import holding_create, person_create


def nobody_yet():
    return not Person.objects.exists()


@transaction.atomic
def installation_start(*, person, holding):
    """The first person and the first holding, as an owner; both at once, or neither."""
    if connection.vendor == "postgresql":
        # SQLite has one writer anyway; here two could both find nobody.
        with connection.cursor() as cursor:
            cursor.execute("LOCK TABLE accounts_person IN EXCLUSIVE MODE")
    if not nobody_yet():
        raise Http404
    first = person_create(**person)
    return first, holding_create(made_by=first, **holding)
