"""What there is work with just now."""

from django.db.models import Q

from sheafwright.records.clock import today
from sheafwright.records.models import (
    Cut,
    Delivery,
    Enquiry,
    Lot,
    Order,
    Paper,
    Place,
    Purchase,
    Quotation,
    Rick,
    Sowing,
    StookSet,
)
from sheafwright.records.models.store import STRAW


def sowings_in_hand(*, holding):
    """Sowings for this year's harvest."""
    return Sowing.objects.filter(
        holding=holding, harvest_year=today(holding).year
    ).select_related("field")


def stooks_in_hand(*, holding):
    """Stooks that something stands in, the latest cut first."""
    return (
        StookSet.objects.filter(
            holding=holding, pk__in=_full(holding, Place.Kind.STOOKS)
        )
        .select_related("cut__sowing__field")
        .order_by("-cut__date", "-made_at")
    )


def ricks_standing(*, holding):
    """Ricks not said to be empty, the last built first."""
    return Rick.objects.filter(holding=holding, emptied=None)


def straw_in_store(*, holding):
    """Lots of straw of this harvest and the last that something is left of."""
    straw = Lot.objects.filter(holding=holding, kind__in=STRAW)
    late = straw.filter(harvest_year__gte=today(holding).year - 1)
    return late.filter(pk__in=_full(holding, Place.Kind.LOT)).order_by("-made_at")


def of_late(things, *, holding):
    """Those of some things that an entry is about as a rule: in hand, or of late.

    A book of many years knows thousands of lots; a list of them all is of no use.
    """
    year = today(holding).year
    lately = {
        Sowing: Q(harvest_year__gte=year - 1),
        Cut: Q(sowing__harvest_year__gte=year),
        StookSet: Q(pk__in=_full(holding, Place.Kind.STOOKS))
        | Q(cut__sowing__harvest_year__gte=year),
        Rick: Q(emptied=None) | Q(built__year__gte=year),
        Lot: Q(pk__in=_full(holding, Place.Kind.LOT)) | Q(harvest_year__gte=year - 1),
        Order: Q(ends__isnull=True) | Q(date__year__gte=year),
        Delivery: Q(sale__date__year__gte=year - 1),
        Paper: Q(date__year__gte=year - 1),
        Enquiry: Q(date__year__gte=year),
        Quotation: Q(date__year__gte=year),
        Purchase: Q(date__year__gte=year - 1, struck=None),
    }
    return things.filter(lately.get(things.model, Q()))


def _full(holding, kind):
    """What the places of a kind that hold something are of."""
    full = Place.objects.filter(holding=holding, kind=kind, balance__grams__gt=0)
    return full.values("subject")
