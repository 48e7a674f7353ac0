"""Lots with what is left of them, what the drum made, and who may see a lot."""

import dataclasses
import datetime

from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.answers.outturn import Outturn, outturn
from sheafwright.records.models import Line, Lot, LotStanding, Place, Sale, Threshing
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
    by_kind: dict[str, int]
    """Kind of lot to the weight of all of it. [g]"""
    set_apart: tuple[str, ...]
    """Codes of those kept from sale."""
    lots: tuple[LotNow, ...]
    """Those asked for, newest first."""

    @property
    def grams(self):
        return sum(self.by_kind.values())


@dataclasses.dataclass(frozen=True)
class Run:
    """One run of the drum."""

    threshing: Threshing
    came: tuple[tuple[str, int], ...]
    """Name of each thing that it gave, and its weight. [g]"""
    weights: dict[str, float]
    """Of each kind of lot. [kg]"""
    outturn: Outturn | None
    """None where nothing was weighed."""

    @property
    def grams(self):
        return sum(grams for _name, grams in self.came)


def lots_held(*, holding, kinds=None, begins=0, most=None):
    """All the lots that something is left of, and so many of them, after some."""
    in_store = Place.objects.filter(
        holding=holding, kind=Place.Kind.LOT, balance__grams__gt=0
    )
    grams = dict(in_store.values_list("subject", "balance__grams"))
    lots = Lot.objects.filter(holding=holding, pk__in=grams)
    lots = lots.filter(kind__in=kinds) if kinds else lots
    known = list(lots.values_list("pk", "kind", "code", "set_apart"))
    by_kind = dict.fromkeys(Lot.Kind.values, 0)
    for pk, kind, _code, _apart in known:
        by_kind[kind] += grams[pk]
    shown = lots[begins : None if most is None else begins + most]
    return LotsHeld(
        count=len(known),
        by_kind={kind: held for kind, held in by_kind.items() if held},
        set_apart=tuple(code for *_, code, set_apart in known if set_apart),
        lots=tuple(LotNow(lot, grams[lot.pk]) for lot in shown),
    )


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


@dataclasses.dataclass(frozen=True)
class Stood:
    """A lot set apart, or cleared."""

    date: datetime.date
    lot: str
    set_apart: bool
    why: str
    by: str


def standings_of(*, holding, begins, ends):
    """Every lot set apart or cleared in a period, by day."""
    said = LotStanding.objects.filter(holding=holding, date__range=(begins, ends))
    stood = [
        Stood(each.date, each.lot.code, each.set_apart, each.why, each.made_by.name)
        for each in said.select_related("lot", "made_by")
    ]
    for run in smelly_runs(holding=holding).filter(date__range=(begins, ends)):
        for lot in _came_of(run):
            why = _("a fishy smell at the drum")
            stood.append(Stood(run.date, lot.code, True, why, run.made_by.name))
    return sorted(stood, key=lambda each: (each.date, not each.set_apart, each.lot))


def smelly_runs(*, holding, lot=None):
    """Runs of the drum that smelt of fish; of those, the ones that gave a lot."""
    smelt = Threshing.objects.filter(holding=holding, smelt_of_fish=True)
    runs = not_undone(smelt).select_related("made_by")
    if lot is None:
        return runs
    gave = Line.objects.filter(place__kind=Place.Kind.LOT, place__subject=lot.pk)
    return runs.filter(pk__in=gave.filter(grams__gt=0).values("movement"))


def _came_of(run):
    given = Line.objects.filter(movement=run.pk, place__kind=Place.Kind.LOT)
    return Lot.objects.filter(pk__in=given.values("place__subject"))


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
    total = sum(grams for _name, grams in named) / 1000
    made = outturn(total, weights, threshing.combed) if weights else None
    return Run(threshing, named, weights, made)
