"""Lots whose stems were measured, each with the field and the days behind it."""

import dataclasses
import datetime
from collections import defaultdict

import numpy as np

from sheafwright.records.models import Cut, Lot, Place, Rick, Sowing, StemSample
from sheafwright.records.selectors.grading import stems_of
from sheafwright.records.selectors.grown import crops_grown
from sheafwright.records.selectors.undone import not_undone
from sheafwright.records.selectors.walk import walk_back

MEANS = ("length_mm", "taper_mm_per_m", "brightness", "bends")
"""Of a lot's stems."""


@dataclasses.dataclass(frozen=True)
class StrawGrown:
    """One lot's straw and how it was grown; None for what isn't known."""

    lot: Lot
    stems: int
    means: dict[str, float | None]
    field: str
    """'' where several crops are in the lot."""
    nitrogen_index: int | None
    cut: datetime.date | None
    """The first day of it."""
    carried: datetime.date | None
    """To the rick."""

    def to_json(self):
        """What an answer rests on."""
        said = {f.name: getattr(self, f.name) for f in dataclasses.fields(self)}
        grown = {"variety": self.lot.variety, "harvest_year": self.lot.harvest_year}
        return said | {"lot": self.lot.code} | grown


def straw_grown(*, holding):
    """`StrawGrown` of each lot whose stems were measured, by code."""
    samples = defaultdict(list)
    measured = StemSample.objects.filter(holding=holding).select_related("lot")
    for sample in measured.order_by("lot__code", "date", "made_at"):
        samples[sample.lot].append(sample)
    return [_grown(lot, each) for lot, each in samples.items()]


def _grown(lot, samples):
    stems = stems_of(samples)
    nodes = [node.id for node in walk_back(lot=lot).nodes]
    sowings = Sowing.objects.filter(holding=lot.holding_id, pk__in=nodes)
    sowings = list(sowings.select_related("field", "seed_lot"))
    # Of several crops together nothing is told of how one was grown.
    one = sowings[0] if len(sowings) == 1 else None
    return StrawGrown(
        lot=lot,
        stems=len(stems),
        means={name: _mean(getattr(stems, name)) for name in MEANS},
        field=one.field.name if one else "",
        nitrogen_index=_nitrogen(one) if one else None,
        cut=_cut(one) if one else None,
        carried=_carried(nodes),
    )


def _mean(values):
    known = values[~np.isnan(values)]
    return float(known.mean()) if known.size else None


def _nitrogen(sowing):
    (grown,) = crops_grown(holding=sowing.holding, sowings=[sowing])
    answer = grown.supplied.answer
    return None if answer is None else answer.index


def _cut(sowing):
    cuts = not_undone(Cut.objects.filter(sowing=sowing)).order_by("date")
    return cuts.values_list("date", flat=True).first()


def _carried(nodes):
    """The day on which the first rick behind it was built."""
    ricks = Place.objects.filter(pk__in=nodes, kind=Place.Kind.RICK)
    built = Rick.objects.filter(pk__in=ricks.values("subject")).order_by("built")
    return built.values_list("built", flat=True).first()
