"""What there is work with just now."""

from sheafwright.records.clock import today
from sheafwright.records.models import Place, Rick, Sowing, StookSet


def sowings_in_hand(*, holding):
    """Sowings for this year's harvest."""
    return Sowing.objects.filter(
        holding=holding, harvest_year=today(holding).year
    ).select_related("field")


def stooks_in_hand(*, holding):
    """Stooks that something stands in, the latest cut first."""
    full = Place.objects.filter(
        holding=holding, kind=Place.Kind.STOOKS, balance__grams__gt=0
    )
    return (
        StookSet.objects.filter(holding=holding, pk__in=full.values("subject"))
        .select_related("cut__sowing__field")
        .order_by("-cut__date", "-made_at")
    )


def ricks_standing(*, holding):
    """Ricks not said to be empty, the last built first."""
    return Rick.objects.filter(holding=holding, emptied=None)
