"""Ricks, with what is in them and how warm they were."""

import dataclasses

from django.http import Http404

from sheafwright.records.models import Line, Place, Rick, StookSet


@dataclasses.dataclass(frozen=True)
class RickNow:
    rick: Rick
    kg: float
    """What the book says is left in it."""
    from_stooks: tuple[StookSet, ...]
    """What was carted to it."""


def ricks_now(*, holding):
    """Ricks that stand."""
    return _now(_ricks(holding).filter(emptied=None))


def rick_now(*, holding, id):
    found = _now(_ricks(holding).filter(pk=id))
    if not found:
        raise Http404
    return found[0]


def _ricks(holding):
    ricks = Rick.objects.filter(holding=holding).select_related("holding")
    return ricks.prefetch_related("readings")


def _now(ricks):
    places = Place.objects.filter(
        kind=Place.Kind.RICK, subject__in=[rick.pk for rick in ricks]
    )
    left = dict(places.values_list("subject", "balance__grams"))
    came = _carted(places)
    return tuple(
        RickNow(rick, left.get(rick.pk, 0) / 1000, tuple(came.get(rick.pk, ())))
        for rick in ricks
    )


def _carted(places):
    """Rick to the stook sets that were carted to it and not taken back."""
    given = Line.objects.filter(
        place__in=places, grams__gt=0, movement__reversed_by=None
    ).values_list("movement", "place__subject")
    rick_of = dict(given)
    took = Line.objects.filter(
        movement__in=rick_of, place__kind=Place.Kind.STOOKS, grams__lt=0
    ).values_list("movement", "place__subject")
    sets = StookSet.objects.select_related(
        "cut__sowing__field", "cut__sowing__seed_lot"
    ).prefetch_related("readings")
    known = sets.in_bulk([stook_set for _, stook_set in took])
    came = {}
    for movement, stook_set in took:
        came.setdefault(rick_of[movement], {})[stook_set] = known[stook_set]
    return {rick: tuple(sets.values()) for rick, sets in came.items()}
