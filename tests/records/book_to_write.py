"""An empty book in a folder, with people, a sowing and a rick to write about.

For programs of their own: Django's settings hold for a whole process, and a book that
refuses to forget cannot be rolled back between tests that really commit.
"""

import dataclasses
import datetime
import uuid

SOWN = datetime.date(2025, 9, 28)
DAY = datetime.date(2026, 8, 10)


@dataclasses.dataclass
class OwnBook:
    """Whom and what to write about."""

    holding: object
    ann: object
    sowing: object
    rick: object

    def write(self, service, id=None, **said):
        return service(
            id=id or uuid.uuid4(), holding=self.holding, made_by=self.ann, **said
        )


def new_book(slug):
    """A holding of its own; call it once Django is set up."""
    from sheafwright.accounts.models import Holding, Person
    from sheafwright.records.models import Field, Rick, SeedLot, Sowing

    holding = Holding.objects.create(name=f"Holding {slug}", slug=slug)
    ann = Person.objects.create(email=f"ann@{slug}.example.org", name="Ann")
    ours = {"holding": holding, "made_by": ann}
    field = Field.objects.create(name="Long Meadow", area_ha=2.0, **ours)
    seed = SeedLot.objects.create(
        name="W-25",
        variety="Maris Widgeon",
        came="bought",
        standing="organic",
        **ours,
    )
    sowing = Sowing.objects.create(
        field=field, seed_lot=seed, date=SOWN, harvest_year=2026, area_ha=2.0, **ours
    )
    rick = Rick.objects.create(
        name="Barn end", built=datetime.date(2026, 8, 1), cover="roof", **ours
    )
    return OwnBook(holding, ann, sowing, rick)


def same_book(slug):
    """The book that another process made."""
    from sheafwright.accounts.models import Holding, Person
    from sheafwright.records.models import Rick, Sowing

    holding = Holding.objects.get(slug=slug)
    return OwnBook(
        holding,
        Person.objects.get(email=f"ann@{slug}.example.org"),
        Sowing.objects.get(holding=holding),
        Rick.objects.get(holding=holding),
    )
