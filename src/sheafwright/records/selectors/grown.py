"""How standing crops are grown: their plants, their height, their ground."""

import dataclasses

from django.db.models import prefetch_related_objects

from sheafwright.records.models import Sowing
from sheafwright.records.selectors.stand import (
    Known,
    height_of,
    heights_by_variety,
    plants_of,
)
from sheafwright.records.selectors.supply import (
    Supplied,
    supplied_to,
    usual_rain_mm,
)

TOLD_BY = (
    "observations",
    "plant_counts",
    "seed_lot__germination_tests",
    "field__sowings",
    "field__leys",
    "field__past_crops",
    "field__inputs",
)


@dataclasses.dataclass(frozen=True)
class Grown:
    """One crop."""

    sowing: Sowing
    plants: Known
    """[m⁻²]"""
    height: Known
    """[cm]"""
    supplied: Supplied


def crops_grown(*, holding, sowings):
    """`Grown` of each of some sowings; as many queries for many as for one."""
    prefetch_related_objects(sowings, *TOLD_BY)
    rain_mm, heights = usual_rain_mm(holding), heights_by_variety(holding)
    return [
        Grown(
            sowing,
            plants_of(sowing),
            height_of(sowing, heights),
            supplied_to(sowing, rain_mm),
        )
        for sowing in sowings
    ]
