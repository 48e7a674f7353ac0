"""A lot that an entry makes; one that was undone is taken up again."""

import uuid

from sheafwright.records.models import Lot, Movement, Place
from sheafwright.records.services.book import place_of
from sheafwright.records.services.entry import entry_write


def lot_made(*, by, code, **said):
    """The place of the lot of this code that an entry makes.

    Parameters
    ----------
    by : Entry
        A threshing, a dressing, a run of the mill.
    code : str
    **said
        What else the lot says.
    """
    lot = _undone(by, code)
    if lot:
        _take_up(lot, said)
    else:
        lot, _is_new = entry_write(
            Lot,
            id=uuid.uuid5(by.pk, code),
            holding=by.holding,
            made_by=by.made_by,
            code=code,
            **said,
        )
    return lot_place(lot)


def lot_place(lot):
    """Where a lot is in store."""
    return place_of(holding=lot.holding, kind=Place.Kind.LOT, subject=lot.pk)


def _undone(by, code):
    """A lot of this code that an undone entry left with nothing in it.

    Its labels are tied to the bundles already, so the corrected entry takes it up.
    """
    lot = Lot.objects.filter(holding=by.holding, code=code).first()
    if lot is None or lot.pk == uuid.uuid5(by.pk, code):
        return None
    holds = Movement.objects.filter(lines__place__subject=lot.pk)
    holds = holds.exclude(kind=Movement.Kind.REVERSE).filter(reversed_by=None)
    return None if holds.exists() else lot


def _take_up(lot, said):
    # What somebody found wrong with it is not put right by another weight.
    last = lot.standings.last()
    if last and last.set_apart:
        said = said | {"set_apart": True}
    for name, value in said.items():
        setattr(lot, name, value)
    lot.full_clean()
    lot.save()
