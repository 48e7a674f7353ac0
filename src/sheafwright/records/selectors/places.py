"""Whose each place of the book is: which sowing, rick, lot or sale."""

from collections import defaultdict

from sheafwright.records.models import (
    Lot,
    Place,
    Rick,
    Sale,
    Sowing,
    StookSet,
    Threshing,
)

LOTS = Lot.objects.all()
SUBJECTS = {
    Place.Kind.STANDING: Sowing.objects.select_related("field", "seed_lot__grown_as"),
    Place.Kind.STOOKS: StookSet.objects.select_related("cut__sowing__field"),
    Place.Kind.RICK: Rick.objects.all(),
    Place.Kind.DRUM: Threshing.objects.select_related("rick", "stook_set__cut__sowing"),
    Place.Kind.LOT: LOTS,
    Place.Kind.MILL: LOTS,
    Place.Kind.SEED: LOTS,
    Place.Kind.FED: LOTS,
    Place.Kind.OWED: LOTS,
    Place.Kind.SOLD: Sale.objects.select_related("lot", "delivery__order"),
}
"""A kind of place to the things it may be of; any other kind is the holding's own."""
GONE = (Place.Kind.MILL, Place.Kind.SEED, Place.Kind.FED, Place.Kind.OWED)
"""Places of a lot where it no longer is: 24-05 fed, 24-05 at the mill."""


def subjects_of(places):
    """Each place's id to what it is of; to None where it is the holding's own."""
    by_kind = defaultdict(list)
    for place in places:
        by_kind[place.kind].append(place)
    return {
        place.pk: subject
        for kind, its_places in by_kind.items()
        for place, subject in _with_subjects(kind, its_places)
    }


def name_of(place, subject):
    """What a place is called where it stands among others."""
    if place.kind in GONE and subject:
        return f"{subject} {place}"
    return str(subject) if subject else str(place)


def _with_subjects(kind, places):
    things = {}
    if kind in SUBJECTS:
        things = SUBJECTS[kind].in_bulk([place.subject for place in places])
    return [(place, things.get(place.subject)) for place in places]
