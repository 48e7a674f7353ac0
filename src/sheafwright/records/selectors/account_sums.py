"""The material book summed by account, in the database that keeps it.

A year of a large holding has thousands of lines and a dozen accounts. An account is a
material in hand of one harvest: ``("sheaves", 2025)``, ``("reed", 2025)``.
"""

import dataclasses
from collections import Counter

from django.db.models import (
    Case,
    Count,
    F,
    IntegerField,
    OuterRef,
    Q,
    Subquery,
    Sum,
    Value,
    When,
)
from django.db.models.functions import Coalesce, Least

from sheafwright.records.models import (
    Line,
    Lot,
    Movement,
    Place,
    Rick,
    Sowing,
    StookSet,
    Threshing,
)
from sheafwright.records.selectors.flows import flows

Kind = Place.Kind
SHEAVES = "sheaves"
OF_SHEAVES = (Kind.STANDING, Kind.STOOKS, Kind.RICK, Kind.DRUM)
OF_LOTS = (Kind.LOT, Kind.MILL)
YEAR = IntegerField()
IN_HAND = (*OF_SHEAVES, *OF_LOTS)
HARVEST_YEAR = {
    Kind.STANDING: (Sowing, F("harvest_year")),
    Kind.STOOKS: (StookSet, F("cut__sowing__harvest_year")),
    Kind.RICK: (Rick, F("built__year")),
    Kind.DRUM: (
        Threshing,
        Coalesce(
            "rick__built__year",
            "stook_set__cut__sowing__harvest_year",
            output_field=YEAR,
        ),
    ),
    **dict.fromkeys(OF_LOTS, (Lot, F("harvest_year"))),
}
"""A kind of place in hand to its things, and what says of which harvest they are."""


@dataclasses.dataclass(frozen=True)
class Side:
    """Where something was taken from or given to."""

    kind: str
    account: tuple[str, int] | None
    """None where it is not in hand."""


@dataclasses.dataclass(frozen=True)
class Moved:
    """All that went from one side to another for one reason."""

    giver: Side
    taker: Side
    adjusts: bool
    """It put a weight right, or undid what had."""
    grams: int


def held_by_account(entries):
    """Account to the grams that lines or balances say together."""
    in_hand = entries.filter(place__kind__in=IN_HAND)
    sums = in_hand.values_list(*_account_of("place__")).annotate(Sum("grams"))
    return Counter({(what, year): grams for what, year, grams in sums})


def moved_between_accounts(movements):
    """Every `Moved` of the movements, exact to the gram."""
    walked = _to_walk(movements)
    yield from _summed(movements.exclude(pk__in=walked) if walked else movements)
    if walked:
        yield from _walked(movements.filter(pk__in=walked))


def _to_walk(movements):
    """Ids of those that no sum has right: several gave to several, or twice undone."""
    givers = Count("lines", filter=Q(lines__grams__lt=0))
    takers = Count("lines", filter=Q(lines__grams__gt=0))
    several = Q(givers__gt=1, takers__gt=1)
    twice_undone = Q(reverses__reverses__isnull=False)
    counted = movements.order_by().annotate(givers=givers, takers=takers)
    return list(counted.filter(several | twice_undone).values_list("pk", flat=True))


def _summed(movements):
    """Between one and one, or one and several, the lesser line of each two went."""
    pairs = Line.objects.filter(
        movement__in=movements, grams__gt=0, movement__lines__grams__lt=0
    )
    giver, taker = "movement__lines__place__", "place__"
    sums = pairs.values_list(
        f"{giver}kind",
        *_account_of(giver),
        f"{taker}kind",
        *_account_of(taker),
        Coalesce("movement__reverses__kind", "movement__kind"),
    ).annotate(went=Sum(Least("grams", -F("movement__lines__grams"))))
    for *sides, kind, grams in sums:
        adjusts = kind == Movement.Kind.ADJUST
        yield Moved(_side(*sides[:3]), _side(*sides[3:]), adjusts, grams)


def _walked(movements):
    found = list(flows(movements))
    places = {place.pk for flow in found for place in (flow.taken_from, flow.given_to)}
    listed = Place.objects.filter(pk__in=places)
    sides = {
        pk: _side(*said)
        for pk, *said in listed.values_list("pk", "kind", *_account_of(""))
    }
    for flow in found:
        adjusts = _first_kind(flow.movement) == Movement.Kind.ADJUST
        giver, taker = sides[flow.taken_from.pk], sides[flow.given_to.pk]
        yield Moved(giver, taker, adjusts, flow.grams)


def _first_kind(movement):
    while movement.reverses is not None:
        movement = movement.reverses
    return movement.kind


def _side(kind, material, year):
    return Side(kind, (material, year) if material else None)


def _account_of(place):
    """Material and harvest year of the place that ``place`` leads to, if in hand."""
    subject, kind = OuterRef(f"{place}subject"), f"{place}kind"
    lot = Lot.objects.filter(pk=subject).values("kind")
    material = Case(
        When(**{f"{kind}__in": OF_SHEAVES}, then=Value(SHEAVES)),
        When(**{f"{kind}__in": OF_LOTS}, then=Subquery(lot)),
    )
    of_kind = (
        When(
            **{kind: of},
            then=Subquery(things.objects.filter(pk=subject).values(y=year)),
        )
        for of, (things, year) in HARVEST_YEAR.items()
    )
    return material, Case(*of_kind, output_field=YEAR)
