"""When ricks were last carted to, and how damp what came was."""

import dataclasses
import datetime

from django.db.models import Max

from sheafwright.records.clock import day_of
from sheafwright.records.models import Line, Movement, Place


@dataclasses.dataclass(frozen=True)
class Ricked:
    """What was carted to a rick, at its dampest: that is where a rick heats."""

    first: datetime.date
    last: datetime.date
    grain: float | None
    """Moisture, wet basis; None where nobody measured it. [0–1]"""
    straw: float | None
    """[0–1]"""


def last_carted(ricks):
    """Id of each rick that was carted to, to the last day of it."""
    came = _carted_to(ricks).values_list("place__subject")
    return dict(came.annotate(Max("movement__date")))


def ricked(now):
    """`Ricked` of what `store.RickNow` tells; None where nothing was carted to it."""
    lines = _carted_to([now.rick])
    loads = lines.values_list("movement__date", "moisture_pct")
    if not loads:
        return None
    days = [day for day, _moisture in loads]
    grain = [float(moisture) for _day, moisture in loads if moisture is not None]
    holding, last = now.rick.holding, max(days)
    read = [_last_reading(holding, each, last) for each in now.from_stooks]
    # A load's own figure was taken as it went on: the meter in the stook was before.
    grain = grain or [each.grain_pct for each in read if each and each.grain_pct]
    straw = [each.straw_pct for each in read if each and each.straw_pct]
    return Ricked(min(days), last, _dampest(grain), _dampest(straw))


def _carted_to(ricks):
    return Line.objects.filter(
        place__kind=Place.Kind.RICK,
        place__subject__in=[rick.pk for rick in ricks],
        grams__gt=0,
        movement__kind=Movement.Kind.CART,
        movement__reversed_by=None,
    )


def _last_reading(holding, stook_set, until):
    readings = sorted(stook_set.readings.all(), key=lambda reading: reading.at)
    known = [r for r in readings if day_of(holding, r.at) <= until]
    return known[-1] if known else None


def _dampest(percents):
    return max(percents) / 100 if percents else None
