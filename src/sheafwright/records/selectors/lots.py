"""Lots with what is left of them, what the drum made, and who may see a lot."""

import dataclasses

from django.db.models import Sum

from sheafwright.accounts.rights import Right
from sheafwright.answers.outturn import Outturn, outturn
from sheafwright.records.models import Line, Lot, Place, Sale, Threshing
from sheafwright.records.selectors.places import name_of, subjects_of
from sheafwright.records.selectors.undone import not_undone


@dataclasses.dataclass(frozen=True)
class LotNow:
    lot: Lot
    grams: int
    """Left in store."""


@dataclasses.dataclass(frozen=True)
class LotsHeld:
    count: int
    grams: int
    set_apart: tuple[str, ...]
    """Codes of those kept from sale."""


@dataclasses.dataclass(frozen=True)
class Run:
    """One run of the drum."""

    threshing: Threshing
    came: tuple[tuple[str, int], ...]
    """Name of each thing that it gave, and its weight. [g]"""
    outturn: Outturn | None
    """None where nothing was weighed."""

    @property
    def grams(self):
        return sum(grams for _, grams in self.came)


def lots_now(*, holding, kinds=None, begins=0, most=None):
    """Lots that something is left of, newest first: so many, after some."""
    ends = None if most is None else begins + most
    lots = _held(holding, kinds)[begins:ends]
    left = Place.objects.filter(
        kind=Place.Kind.LOT, subject__in=[lot.pk for lot in lots]
    )
    grams = dict(left.values_list("subject", "balance__grams"))
    return [LotNow(lot, grams[lot.pk]) for lot in lots]


def lots_held(*, holding, kinds=None):
    """All the lots that something is left of, together."""
    lots = _held(holding, kinds)
    places = Place.objects.filter(kind=Place.Kind.LOT, subject__in=lots.values("pk"))
    return LotsHeld(
        count=lots.count(),
        grams=places.aggregate(held=Sum("balance__grams"))["held"] or 0,
        set_apart=tuple(lots.filter(set_apart=True).values_list("code", flat=True)),
    )


def _held(holding, kinds):
    held = Place.objects.filter(
        holding=holding, kind=Place.Kind.LOT, balance__grams__gt=0
    )
    lots = Lot.objects.filter(holding=holding, pk__in=held.values("subject"))
    return lots.filter(kind__in=kinds) if kinds else lots


def lot_of(*, membership, id):
    """A lot that this member may see: a buyer, only what was sold to them."""
    lot = Lot.objects.filter(holding=membership.holding, pk=id).first()
    if lot is None or membership.may(Right.SEE_WORK) or membership.may(Right.SEE_BOOK):
        return lot
    sold = sales_to(membership=membership).filter(lot=lot)
    return lot if sold.exists() else None


def sales_to(*, membership):
    """What was sold to this member."""
    sales = Sale.objects.filter(holding=membership.holding, buyer=membership.person)
    return not_undone(sales).select_related("lot")


def runs_of_drum(*, holding, most):
    """So many runs that weren't undone, the last first."""
    threshings = not_undone(Threshing.objects.filter(holding=holding))
    threshings = threshings.select_related("rick").order_by("-date", "-made_at")[:most]
    # The movement of what the drum gave bears the threshing's own id.
    lines = Line.objects.filter(
        movement__in=[t.pk for t in threshings], grams__gt=0
    ).select_related("place")
    subjects = subjects_of([line.place for line in lines])
    came = {threshing.pk: [] for threshing in threshings}
    for line in lines:
        came[line.movement_id].append((line, subjects[line.place_id]))
    return [_run(threshing, came[threshing.pk]) for threshing in threshings]


def _run(threshing, came):
    named = tuple((name_of(line.place, what), line.grams) for line, what in came)
    weights = {}
    for line, what in came:
        if isinstance(what, Lot):
            weights[what.kind] = weights.get(what.kind, 0) + line.grams / 1000
    total = sum(grams for _, grams in named) / 1000
    made = outturn(total, weights, threshing.combed) if weights else None
    return Run(threshing, named, made)
