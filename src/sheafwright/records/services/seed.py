"""Seed lots, and what their tests found."""

from django.utils.translation import gettext as _

from sheafwright.records.models import GerminationTest, Lot, SeedHealthTest, SeedLot
from sheafwright.records.services.checks import not_ahead, refuse
from sheafwright.records.services.corrections import put_right
from sheafwright.records.services.entry import entry_add

MOST_TRAYS = 20


def seed_lot_add(*, holding, came, grown_as=None, **said):
    _check_origin(came, grown_as)
    return entry_add(SeedLot, holding=holding, came=came, grown_as=grown_as, **said)


def seed_lot_correct(*, id, holding, made_by, seed_lot, why, note="", **said):
    return put_right(
        id=id,
        holding=holding,
        made_by=made_by,
        seed_lot=seed_lot,
        now=said,
        check=lambda lot: _check_origin(lot.came, lot.grown_as),
        why=why,
        note=note,
    )


def germination_test_add(*, holding, date, came_up, seeds_each=100, **said):
    """Write down a germination test.

    Parameters
    ----------
    came_up : list of int
        Seeds that came up, tray by tray.
    """
    not_ahead(holding, date)
    _check_trays(came_up, seeds_each)
    return entry_add(
        GerminationTest,
        holding=holding,
        date=date,
        came_up=came_up,
        seeds_each=seeds_each,
        **said,
    )


def seed_health_test_add(*, holding, date, found, share_pct=None, **said):
    not_ahead(holding, date)
    if share_pct and found == SeedHealthTest.Found.NONE:
        refuse("share_pct", _("A share was found, so the test did find something."))
    return entry_add(
        SeedHealthTest,
        holding=holding,
        date=date,
        found=found,
        share_pct=share_pct,
        **said,
    )


def _check_origin(came, grown_as):
    if grown_as is not None and came != SeedLot.Came.OWN:
        refuse("grown_as", _("Seed bought in was not kept from a lot of your own."))
    if grown_as is not None and grown_as.kind != Lot.Kind.GRAIN:
        refuse("grown_as", _("Seed is kept from a lot of grain."))


def _check_trays(came_up, seeds_each):
    if not 1 <= len(came_up) <= MOST_TRAYS:
        refuse(
            "came_up",
            _("A test has from 1 to %(most)d trays, not %(trays)d.")
            % {"most": MOST_TRAYS, "trays": len(came_up)},
        )
    for count in came_up:
        if not (isinstance(count, int) and 0 <= count <= seeds_each):
            refuse(
                "came_up",
                _("%(count)s came up of %(seeds)d; it should be from 0 to %(seeds)d.")
                % {"count": count, "seeds": seeds_each},
            )
