"""How standing crops are grown: their plants, their height, their ground."""

import dataclasses

from django.db.models import prefetch_related_objects

from sheafwright.feeds.lodging import reference_crop
from sheafwright.records.models import Sowing
from sheafwright.records.selectors.stand import (
    By,
    Known,
    height_of,
    heights_by_variety,
    plants_of,
)
from sheafwright.records.selectors.supply import (
    Supplied,
    supplied_to,
    usual_rain,
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

    @property
    def nitrogen_index(self):
        """By its ground, or else as is usual."""
        if self.supplied.answer:
            return Known(self.supplied.answer.index, By.SEEN)
        usual = reference_crop(self.sowing.harvest_year).nitrogen_index
        return Known(usual, By.USUAL)


def crops_grown(*, holding, sowings, and_by=()):
    """`Grown` of each of some sowings; as many queries for many as for one.

    Parameters
    ----------
    holding : Holding
    sowings : list of Sowing
    and_by : tuple of str, optional
        What else of them is to be fetched with it.
    """
    prefetch_related_objects(sowings, *TOLD_BY, *and_by)
    rain, heights = usual_rain(holding), heights_by_variety(holding)
    return [
        Grown(
            sowing,
            plants_of(sowing),
            height_of(sowing, heights),
            supplied_to(sowing, rain),
        )
        for sowing in sowings
    ]
