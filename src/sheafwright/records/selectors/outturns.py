"""What the drum gave, crop by crop."""

import collections
import dataclasses

from sheafwright.records.models import (
    Cut,
    Line,
    Lot,
    Movement,
    Place,
    Sowing,
    Threshing,
)
from sheafwright.records.selectors.undone import not_undone

Kind = Place.Kind
GRAIN = (Lot.Kind.GRAIN, Lot.Kind.TAIL)


@dataclasses.dataclass(frozen=True)
class CropOutturn:
    """One crop's share of what its ricks and stooks gave."""

    sowing: Sowing
    area_ha: float
    """That was cut."""
    reed_kg: float
    long_straw_kg: float
    grain_kg: float


def outturns(*, holding, before):
    """`CropOutturn` of each crop of earlier harvests that was threshed to the end.

    A rick of several crops gave of each as much as it took of it.

    Parameters
    ----------
    holding : Holding
    before : int
        A harvest.
    """
    sowings = Sowing.objects.filter(holding=holding, harvest_year__lt=before)
    sowings = sowings.select_related("field", "seed_lot")
    areas, stooks = _cut(sowings)
    shares = _shares(holding, stooks)
    gave, unthreshed = _gave(holding), _unthreshed(holding)
    for sowing in sowings:
        stores = shares.get(sowing.pk, {})
        if areas[sowing.pk] and stores and not unthreshed & stores.keys():
            yield _outturn(sowing, areas[sowing.pk], stores, gave)


def _outturn(sowing, area_ha, stores, gave):
    came = collections.Counter()
    for store, share in stores.items():
        for kind, grams in gave[store].items():
            came[kind] += share * grams / 1000
    return CropOutturn(
        sowing=sowing,
        area_ha=area_ha,
        reed_kg=came[Lot.Kind.REED],
        long_straw_kg=came[Lot.Kind.LONG_STRAW],
        grain_kg=sum(came[kind] for kind in GRAIN),
    )


def _cut(sowings):
    """Area that was cut of each sowing, and the sowing of each stook set."""
    areas, stooks = collections.Counter(), {}
    cuts = not_undone(Cut.objects.filter(sowing__in=sowings))
    for sowing, area, stook_set in cuts.values_list("sowing", "area_ha", "stook_set"):
        areas[sowing] += area
        stooks[stook_set] = sowing
    return areas, stooks


def _shares(holding, stooks):
    """Sowing to the share that it had of each store that the drum was fed from."""
    held = collections.defaultdict(collections.Counter)
    carts = Line.objects.filter(
        movement__holding=holding,
        movement__kind=Movement.Kind.CART,
        movement__reversed_by=None,
    )
    moved = collections.defaultdict(dict)
    for movement, kind, subject, grams in carts.values_list(
        "movement", "place__kind", "place__subject", "grams"
    ):
        moved[movement][kind] = subject, grams
    for lines in moved.values():
        if Kind.RICK in lines and Kind.STOOKS in lines:
            stook_set = lines[Kind.STOOKS][0]
            rick, grams = lines[Kind.RICK]
            held[rick][stooks.get(stook_set)] += grams
    shares = collections.defaultdict(dict)
    for rick, crops in held.items():
        for sowing, grams in crops.items():
            shares[sowing][rick] = grams / crops.total()
    for stook_set, sowing in stooks.items():
        shares[sowing][stook_set] = 1.0
    return shares


def _gave(holding):
    """Store to the grams of each kind of lot that the drum gave of it."""
    runs = not_undone(Threshing.objects.filter(holding=holding))
    stores = {
        pk: rick or stook
        for pk, rick, stook in runs.values_list("pk", "rick", "stook_set")
    }
    kinds = dict(Lot.objects.filter(holding=holding).values_list("pk", "kind"))
    # The movement of what the drum gave bears the threshing's own id.
    given = Line.objects.filter(
        movement__in=runs.values("pk"), place__kind=Kind.LOT, grams__gt=0
    )
    gave = collections.defaultdict(collections.Counter)
    for run, lot, grams in given.values_list("movement", "place__subject", "grams"):
        gave[stores[run]][kinds[lot]] += grams
    return gave


def _unthreshed(holding):
    """Ids of the stooks and ricks that something is in."""
    full = Place.objects.filter(
        holding=holding, kind__in=(Kind.STOOKS, Kind.RICK), balance__grams__gt=0
    )
    return set(full.values_list("subject", flat=True))
