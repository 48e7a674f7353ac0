"""Stems traced on photographs, and who may see them."""

from sheafwright.accounts.rights import Right
from sheafwright.records.models import Photograph, Tracing
from sheafwright.records.selectors.lots import lot_of


def tracing_of(*, membership, id):
    """A tracing that this member may see: a draft, only who writes such down."""
    found = (
        Tracing.objects.filter(holding=membership.holding, pk=id)
        .select_related("lot", "sample", "made_by")
        .first()
    )
    return found if found and _may_see(membership, found) else None


def photograph_of(*, membership, id):
    """As `tracing_of`, of one of its photographs."""
    found = (
        Photograph.objects.filter(holding=membership.holding, pk=id)
        .select_related("tracing__sample")
        .defer("tracing__said", "tracing__sample__stems")
        .first()
    )
    return found if found and _may_see(membership, found.tracing) else None


def _may_see(membership, tracing):
    if not is_accepted(tracing):
        return membership.may(Right.DO_WORK)
    return lot_of(membership=membership, id=tracing.lot_id) is not None


def is_accepted(tracing):
    return hasattr(tracing, "sample")


def tracings_of(*, lots):
    """Those of some lots, the last first, without what was measured."""
    found = Tracing.objects.filter(lot__in=[lot.pk for lot in lots])
    return found.defer("said").select_related("sample").order_by("-date", "-made_at")


def last_board(*, holding):
    """Sheets and bar of the board that was last photographed here, if unusual."""
    last = Tracing.objects.filter(holding=holding).order_by("-made_at")
    sheets, bar_mm = last.values_list("sheets", "bar_mm").first() or (None, None)
    return {"sheets": sheets, "bar_mm": bar_mm}
