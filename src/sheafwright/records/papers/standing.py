"""How a crop may be sold, by how its fields were farmed when it was sown."""

import itertools

from sheafwright.answers.organic import (
    IN_CONVERSION,
    NOT_ORGANIC,
    ORGANIC,
    organic_status,
)
from sheafwright.records.models import Certificate, Cut, FieldStatus
from sheafwright.records.selectors.ground import status_on
from sheafwright.records.selectors.undone import not_undone

Way = FieldStatus.Way
BEST_LAST = (NOT_ORGANIC, IN_CONVERSION, ORGANIC)


def certificate_on(*, holding, begins, ends):
    """The holding's own certificate that held on some of these days; the last."""
    return Certificate.objects.filter(
        holding=holding, is_own=True, since__lte=ends, expires__gte=begins
    ).first()


def conversion_began(field, day):
    """From when a field's conversion counts, as it was farmed on a day, if known."""
    return _since(field, day, Way.CONVERTING)


def organic_from(field, day):
    """From when a crop sown on a field is organic, as it was farmed on a day."""
    organic, began = _since(field, day, Way.ORGANIC), conversion_began(field, day)
    if organic or not began:
        return organic
    return organic_status(began, began).organic_from


def may_be_sold_as(sowings):
    """``organic``, ``in_conversion`` or ``not_organic``: what all the sowings are."""
    each = [BEST_LAST.index(_of_crop(sowing)) for sowing in sowings]
    return BEST_LAST[min(each, default=0)]


def _since(field, day, way):
    begun = sorted(
        (status for status in field.statuses.all() if status.since <= day),
        key=lambda status: (status.since, status.made_at),
        reverse=True,
    )
    organically = itertools.takewhile(lambda s: s.way != Way.CONVENTIONAL, begun)
    return next((status.since for status in organically if status.way == way), None)


def _of_crop(sowing):
    status = status_on(sowing.field, sowing.date)
    if status is None or status.way == Way.CONVENTIONAL:
        return NOT_ORGANIC
    if status.way == Way.ORGANIC:
        return ORGANIC
    cuts = not_undone(Cut.objects.filter(sowing=sowing)).order_by("date")
    first = cuts.values_list("date", flat=True).first()
    return organic_status(status.since, sowing.date, first).status
