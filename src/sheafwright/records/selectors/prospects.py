"""What may be told of each standing crop before it is ripe."""

import dataclasses
import datetime
import functools

from sheafwright.answers.clean_crop import CleanCrop, CleanQuestion, clean_crop
from sheafwright.answers.perfect_crop import yields as prices
from sheafwright.answers.plant_count import CountQuestion, PlantCount, plant_count
from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.telling import refusal
from sheafwright.records.clock import today
from sheafwright.records.models import SavedAnswer
from sheafwright.records.remembered import remembered, written
from sheafwright.records.saved import saved
from sheafwright.records.selectors.cutting import crops_standing
from sheafwright.records.selectors.grown import Grown, crops_grown
from sheafwright.records.selectors.stand import aim_of, last_count

FRESH = datetime.timedelta(60)
"""So long a count asks for something to be done."""


@dataclasses.dataclass(frozen=True)
class Counted:
    """What the last count of plants says."""

    on: datetime.date
    answer: PlantCount | None
    refused: str = ""

    @property
    def sentence(self):
        return self.refused or self.answer.sentence


@dataclasses.dataclass(frozen=True)
class Prospect:
    """One standing crop."""

    grown: Grown
    clean: CleanCrop
    standing: SavedAnswer | None
    """Whether it will stand."""
    yields: SavedAnswer | None
    day: datetime.date

    @property
    def sowing(self):
        return self.grown.sowing

    @property
    def is_count_fresh(self):
        count = last_count(self.sowing)
        return count is not None and self.day - count.date <= FRESH

    @functools.cached_property
    def counted(self):
        """`Counted`, or None if nobody counted."""
        return _counted(self.sowing)

    @functools.cached_property
    def lay(self):
        """The last `Observation` of what lies, if any does."""
        seen = [o for o in self.sowing.observations.all() if o.lodged_pct is not None]
        return seen[-1] if seen and seen[-1].lodged_pct else None

    @property
    def likely_gbp(self):
        """Of a middling crop of reed and grain; None without them."""
        said = self.yields.said if self.yields else {}
        if said.get("product") != "reed":
            return None
        each, area = prices(), self.sowing.area_ha
        reed = said["product_t_per_ha"]["p50"] * each.reed_gbp_per_t
        return area * (reed + said["grain_t_per_ha"]["p50"] * each.grain_gbp_per_t)


@remembered(until=written)
def crops_with_prospects(*, holding):
    """Each standing crop, the most pressing first, with its `Prospect`."""
    crops = crops_standing(holding=holding)
    told = prospects(holding=holding, sowings=[crop.sowing for crop in crops])
    return tuple((crop, told[crop.sowing.pk]) for crop in crops)


def prospects(*, holding, sowings, with_charts=False):
    """Each sowing's id to its `Prospect`; as many queries for many as for one."""
    grown = crops_grown(holding=holding, sowings=sowings, and_by=("weed_walks",))
    stand = saved(question="lodging", about=sowings, with_charts=with_charts)
    yields = saved(question="yield", about=sowings)
    day = today(holding)
    return {
        crop.sowing.pk: Prospect(
            grown=crop,
            clean=_clean(crop.sowing, day),
            standing=stand.get(crop.sowing.pk),
            yields=yields.get(crop.sowing.pk),
            day=day,
        )
        for crop in grown
    }


def _counted(sowing):
    count = last_count(sowing)
    if count is None:
        return None
    asked = {
        "counted": tuple(count.counts),
        "area": count.place_m2,
        "target": aim_of(sowing),
        "on": count.date,
    }
    if sowing.variety_class:
        asked["variety_class"] = sowing.variety_class
    try:
        return Counted(count.date, plant_count(CountQuestion(**asked)))
    except SheafwrightError as error:
        return Counted(count.date, None, refusal(error))


def _clean(sowing, day):
    walks = [walk for walk in sowing.weed_walks.all() if walk.date.year == day.year]
    clover = [w.clover_height_cm for w in walks if w.clover_height_cm is not None]
    rogued = any(walk.rogued for walk in walks)
    return clean_crop(CleanQuestion(day, clover[-1] if clover else None, rogued=rogued))
