"""Late entries that did not fit: kept as they came, until somebody settles them."""

from django.db import transaction
from django.utils import timezone

from sheafwright.records.errors import NotOurs, SaidOtherwise, TooLittleThere
from sheafwright.records.models import ToSettle
from sheafwright.records.services.entry import entry_write, writing


def to_settle_keep(*, id, holding, made_by, what, said, why, note=""):
    """Keep an entry that the service ``what`` refused, with its reason."""
    longest = ToSettle._meta.get_field("why").max_length
    with writing(holding):
        kept, _ = entry_write(
            ToSettle,
            id=id,
            holding=holding,
            made_by=made_by,
            what=what,
            said=said,
            why=str(why)[:longest],
            note=note,
        )
    return kept


def late_write(*, id, holding, made_by, what, said, write):
    """Write an entry that comes late from a phone, or keep it if it doesn't fit.

    Parameters
    ----------
    write : callable
        Does it, without arguments.

    Returns
    -------
    str
        Why it waits to be settled; empty if it is written.
    """
    who = {"id": id, "holding": holding, "made_by": made_by}
    with writing(holding):
        # Sent again, what was once kept is not written as well.
        kept = ToSettle.objects.filter(pk=id, holding=holding).first()
        if kept is not None:
            return kept.why
        try:
            with transaction.atomic():
                write()
        except TooLittleThere as error:
            return to_settle_keep(what=what, said=said, why=error, **who).why
    return ""


def to_settle_done(*, id, holding, made_by, how):
    """Say how a late entry was settled."""
    with writing(holding):
        kept = ToSettle.objects.filter(pk=id, holding=holding).first()
        if kept is None:
            raise NotOurs("There is no such late entry on this holding.")
        if kept.settled_at is None:
            kept.settled_at, kept.settled_by, kept.how = timezone.now(), made_by, how
            kept.full_clean()
            kept.save()
        elif kept.how != how:
            raise SaidOtherwise(f"This late entry is settled already: {kept.how}")
    return kept
