"""How a crop stands, in plants and height: as was seen, or else as is usual."""

import dataclasses
import datetime
import enum

from django.db.models import Avg

from sheafwright.answers.germination import germination
from sheafwright.answers.sowing import SowingQuestion
from sheafwright.answers.sowing import sowing as how_thick
from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.lodging import reference_crop
from sheafwright.feeds.yields import height_class
from sheafwright.records.models import Field, Observation

HEIGHT_CLASS = "tall"
"""What grows here is grown for its straw."""
SEEDBEDS = {
    Field.SoilKind.LIGHT: "sand",
    Field.SoilKind.MEDIUM: "loam",
    Field.SoilKind.DEEP_SILT: "loam",
    Field.SoilKind.DEEP_CLAY: "clay",
}
"""Kind of soil to what it is to a seedling."""
USUAL_SPACING_MM = 170
ANY_SEED = {"thousand_grain_weight": 45, "germination": 1, "row_spacing": 17}
"""What to aim for does not turn on the seed."""


class By(enum.Enum):
    """How something is known."""

    SEEN = "seen"
    RATE = "rate"
    VARIETY = "variety"
    USUAL = "usual"


@dataclasses.dataclass(frozen=True)
class Known:
    """A number, and how it is known."""

    value: float
    by: By
    on: datetime.date | None = None
    """When it was seen."""


def plants_of(sowing):
    """Plants by the last count, or by the seed rate, or as is aimed for. [m⁻²]"""
    count = last_count(sowing)
    if count:
        density = sum(count.counts) / len(count.counts) / count.place_m2
        return Known(density, By.SEEN, count.date)
    sown = _by_rate(sowing)
    return Known(sown, By.RATE) if sown else Known(aim_of(sowing), By.USUAL)


def aim_of(sowing):
    """Plants that its seed rate aims for, or its date. [m⁻²]"""
    return _by_rate(sowing) or _by_date(sowing)


def last_count(sowing):
    """Its last `PlantCount`, or None."""
    counts = list(sowing.plant_counts.all())
    return counts[-1] if counts else None


def heights_by_variety(holding):
    """Variety to the mean height of what was seen of it. [cm]"""
    seen = Observation.objects.filter(holding=holding, height_cm__isnull=False)
    means = seen.order_by().values_list("sowing__seed_lot__variety")
    return dict(means.annotate(Avg("height_cm")))


def height_of(sowing, by_variety):
    """Height as last seen, or as the variety had it here, or as usual. [cm]"""
    seen = [o for o in sowing.observations.all() if o.height_cm]
    if seen:
        return Known(seen[-1].height_cm, By.SEEN, seen[-1].date)
    variety = by_variety.get(sowing.seed_lot.variety)
    if variety:
        return Known(variety, By.VARIETY)
    return Known(height_class(HEIGHT_CLASS).height, By.USUAL)


def _by_rate(sowing):
    """Plants from the seed rate; None where too little is known of the seed."""
    lot, kind = sowing.seed_lot, sowing.field.soil_kind
    tests = list(lot.germination_tests.all())
    if not (sowing.rate_kg_per_ha and lot.thousand_grain_weight_g and tests and kind):
        return None
    asked = {
        "thousand_grain_weight": lot.thousand_grain_weight_g,
        "germination": germination(tests[-1].came_up, tests[-1].seeds_each).share,
        "row_spacing": (sowing.row_spacing_mm or USUAL_SPACING_MM) / 10,
        "rate": sowing.rate_kg_per_ha,
        "soil": SEEDBEDS[kind],
    }
    return _told(sowing, asked, "plants")


def _by_date(sowing):
    usual = reference_crop(sowing.harvest_year).plants_per_m2
    return _told(sowing, ANY_SEED | {"establishment": 1}, "target") or usual


def _told(sowing, asked, name):
    try:
        return getattr(how_thick(SowingQuestion(**asked, sown=sowing.date)), name)
    except SheafwrightError:
        # Sown out of season, or of seed that nobody can judge.
        return None
