"""The demo's way to the services: ids that come out the same each time."""

import collections
import dataclasses
import datetime
import uuid

from sheafwright.accounts.models import Holding, Person
from sheafwright.accounts.rights import Role
from sheafwright.accounts.services import holding_create, membership_set
from sheafwright.records.clock import zone_of
from sheafwright.records.models import Lot, Place, SeedLot
from sheafwright.records.services.book import place_of
from sheafwright.records.services.weights import there

DEMO = uuid.uuid5(uuid.NAMESPACE_URL, "https://example.org/sheafwright/demo")
MORNING = datetime.time(7, 30)


def id_of(name):
    return uuid.uuid5(DEMO, name)


@dataclasses.dataclass
class DemoBook:
    holding: Holding
    owner: Person
    hand: Person
    buyer: Person
    seed: dict[uuid.UUID, SeedLot] = dataclasses.field(default_factory=dict)
    """Lot of grain to the seed lot kept from it."""
    grain: dict[str, Lot] = dataclasses.field(default_factory=dict)
    """Variety to the last grain threshed early, for seed."""
    lots: collections.Counter = dataclasses.field(default_factory=collections.Counter)
    """Harvest to how many lots it gave."""

    @classmethod
    def open(cls, invented, people):
        holding = holding_create(
            id=id_of("holding"),
            name=invented.name,
            made_by=people[Role.OWNER],
            latitude_deg=invented.latitude,
            altitude_m=invented.altitude,
            looked_at_as_of=invented.as_of,
        )
        for role, person in people.items():
            if role != Role.OWNER:
                membership_set(person=person, holding=holding, role=role)
        who = (people[Role.OWNER], people[Role.HAND], people[Role.BUYER])
        return cls(holding, *who)

    def write(self, service, entry, /, **said):
        """Write an entry as the owner, under the name that its id comes of."""
        return self._as(self.owner, service, entry, said)

    def note(self, service, entry, /, **said):
        """As `write`, by the hand, out in the field."""
        return self._as(self.hand, service, entry, said)

    def _as(self, person, service, entry, said):
        return service(id=id_of(entry), holding=self.holding, made_by=person, **said)

    def at(self, day):
        """The morning of a day."""
        return datetime.datetime.combine(day, MORNING, zone_of(self.holding))

    def years(self, seasons):
        last = self.holding.looked_at_as_of.year
        return range(last - seasons + 1, last + 1)

    def place(self, kind, subject):
        return place_of(holding=self.holding, kind=kind, subject=subject.pk)

    def kg_in(self, kind, subject):
        return there(self.place(kind, subject)) / 1000

    def kg_of(self, lot):
        return self.kg_in(Place.Kind.LOT, lot)

    def next_code(self, year):
        self.lots[year] += 1
        return f"{year % 100:02d}-{self.lots[year]:02d}"
