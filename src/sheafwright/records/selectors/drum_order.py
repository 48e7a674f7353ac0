"""What the book says of each rick that waits for the drum."""

import datetime
import math

from sheafwright.answers.threshing_order import RickAsked, threshing_order
from sheafwright.records.clock import today
from sheafwright.records.models import Line, Loss, Movement, Place, Rick
from sheafwright.records.selectors.allotment import ordered_from
from sheafwright.records.selectors.rick_told import ricks_told
from sheafwright.records.selectors.ricked import ricked

VERMIN = (Loss.By.RATS,)


def order_of_ricks(*, holding):
    """The `ThreshingOrder` of the ricks that stand, and each rick by its name."""
    told = [each for each in ricks_told(holding=holding) if each.now.kg > 0]
    vermin = _vermin([each.rick for each in told])
    day, wanted = today(holding), ordered_from(holding=holding) if told else {}
    return threshing_order([_asked(each, vermin, wanted, day) for each in told], day)


def kg_in_ricks(*, holding):
    """Sheaves in all of them. [kg]"""
    places = Place.objects.filter(
        holding=holding, kind=Place.Kind.RICK, balance__grams__gt=0
    )
    return sum(places.values_list("balance__grams", flat=True)) / 1000


def _asked(told, vermin, wanted, day):
    rick, came = told.rick, ricked(told.now)
    seen = list(_seen(told.now))
    heights = [each.height_cm / 100 for each in seen if each.height_cm]
    lodged = [each.lodged_pct / 100 for each in seen if each.lodged_pct is not None]
    return RickAsked(
        name=rick.name,
        carted=came.last if came else rick.built,
        kg=told.now.kg,
        fit_to_comb=rick.fit_to_comb,
        level=told.heat.level,
        heat=told.heat.hottest,
        rise=told.heat.rise,
        probe_due=told.heat.overdue or told.heat.last_read is None,
        grain=came and came.grain,
        straw=came and came.straw,
        keeps_until=_keeps_until(told.keeping, day),
        vermin=vermin.get(rick.pk),
        is_open=rick.cover == Rick.Cover.OPEN,
        height=min(heights, default=None),
        lodged=max(lodged, default=None),
        ordered_for=wanted.get(rick.name),
    )


def _seen(now):
    """What was last seen of the height, and of the lodging, of each crop in it."""
    for sowing in {each.cut.sowing for each in now.from_stooks}:
        seen = sowing.observations.order_by("-date", "-made_at")
        for name in ("height_cm", "lodged_pct"):
            yield from seen.exclude(**{name: None})[:1]


def _keeps_until(keeping, day):
    """The day on which half its grain's time is spent."""
    # Of a rick too warm for the equations nothing is told: its heat speaks for itself.
    is_told = keeping is not None and not math.isnan(keeping.life.used)
    left = keeping.life.half_after if is_told else math.nan
    # Beyond a year it presses nobody.
    return day + datetime.timedelta(math.floor(left)) if left < 365 else None


def _vermin(ricks):
    """Id of each rick to the last day on which it was found to have lost to vermin."""
    losses = Loss.objects.filter(
        holding__in={rick.holding_id for rick in ricks}, by__in=VERMIN
    )
    taken = Line.objects.filter(
        movement__kind=Movement.Kind.LOSE,
        movement__subject__in=losses.values("pk"),
        movement__reversed_by=None,
        place__kind=Place.Kind.RICK,
        place__subject__in=[rick.pk for rick in ricks],
    )
    by_day = taken.order_by("movement__date")
    return dict(by_day.values_list("place__subject", "movement__date"))
