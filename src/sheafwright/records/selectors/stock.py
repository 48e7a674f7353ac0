"""What is where now."""

import dataclasses

from sheafwright.records.models import Place
from sheafwright.records.selectors.places import name_of, subjects_of


@dataclasses.dataclass(frozen=True)
class Stock:
    """What one place holds."""

    place: Place
    subject: object
    """The sowing, stook set, rick, threshing, lot or sale; None if the holding's."""
    name: str
    grams: int

    @property
    def kg(self):
        return self.grams / 1000


def balances(*, holding, kinds=None):
    """`Stock` of every place that was ever used, or of those of some kinds."""
    places = Place.objects.filter(holding=holding).select_related("balance")
    if kinds:
        places = places.filter(kind__in=kinds)
    subjects = subjects_of(places)
    return [
        Stock(
            place,
            subjects[place.pk],
            name_of(place, subjects[place.pk]),
            place.balance.grams,
        )
        for place in places
    ]


def stock_now(*, holding, kind):
    """`Stock` of the places of a kind that hold something: ricks, lots, stooks."""
    return [s for s in balances(holding=holding, kinds=[kind]) if s.grams]
