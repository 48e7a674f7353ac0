"""Open every page of a folder's book as its owner: ``open_pages.py FOLDER``.

Prints the number each answers with. A program of its own, since Django's settings hold
for a whole process.
"""

import json
import sys
from pathlib import Path


def main(folder):
    from sheafwright.server.run import configure

    configure(folder)
    from django.core.management import call_command

    call_command("collectstatic", verbosity=0, interactive=False)
    print(json.dumps(opened()))  # noqa: T201


def opened():
    from django.test import Client

    from sheafwright.accounts.models import Membership
    from sheafwright.web.context import pages_for

    found = {}
    for membership in Membership.objects.filter(role="owner"):
        client = Client()
        client.force_login(
            membership.person, "django.contrib.auth.backends.ModelBackend"
        )
        addresses = [*addresses_of(membership), *dict(pages_for(membership)).values()]
        found |= {address: client.get(address).status_code for address in addresses}
    return found


def addresses_of(membership):
    """The pages of single things, and the papers of a holding that has a field."""
    from django.urls import reverse

    from sheafwright.records.models import Field, Lot, Observation, Rick

    slug = membership.holding.slug
    for name, kind, of in (
        ("field", Field, {}),
        ("lot", Lot, {}),
        ("rick-card", Rick, {}),
        ("photo", Observation, {"photo__gt": ""}),
    ):
        for thing in kind.objects.filter(holding=membership.holding, **of):
            yield reverse(f"web:{name}", args=[slug, thing.pk])
    if Field.objects.filter(holding=membership.holding).exists():
        for name in ("book-pdf", "book-csv", "book-epcis", "almanac", "harvest-sheet"):
            yield reverse(f"web:{name}", args=[slug])


if __name__ == "__main__":
    main(Path(sys.argv[1]))
