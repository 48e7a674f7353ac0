"""Lots with what is left of them, what the drum made, and who may see a lot."""

import dataclasses

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


def lots_now(*, holding, kinds=None):
    """Lots that something is left of, or that nothing ever was in, newest first."""
    lots = Lot.objects.filter(holding=holding)
    if kinds:
        lots = lots.filter(kind__in=kinds)
    left = dict(
        Place.objects.filter(holding=holding, kind=Place.Kind.LOT).values_list(
            "subject", "balance__grams"
        )
    )
    return [LotNow(lot, left.get(lot.pk, 0)) for lot in lots if left.get(lot.pk)]


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


def runs_of_drum(*, holding):
    """Every run that wasn't undone, the last first."""
    threshings = not_undone(Threshing.objects.filter(holding=holding))
    threshings = list(threshings.select_related("rick").order_by("-date", "-made_at"))
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
