"""Late entries that did not fit the book."""

from sheafwright.records.models import ToSettle


def to_settle(*, holding):
    """Those not settled yet, the oldest first."""
    return ToSettle.objects.filter(holding=holding, settled_at=None).select_related(
        "made_by"
    )
