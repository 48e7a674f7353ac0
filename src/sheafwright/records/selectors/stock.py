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


def balances(*, holding):
    """`Stock` of every place that was ever used."""
    return _stocks(Place.objects.filter(holding=holding))


def stock_now(*, holding, kinds):
    """`Stock` of the places of some kinds that hold something: ricks, lots, stooks."""
    places = Place.objects.filter(holding=holding, kind__in=kinds)
    return _stocks(places.exclude(balance__grams=0))


def _stocks(places):
    places = places.select_related("balance")
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
