"""Seed lots with their tests."""

import dataclasses

from django.db.models import Q

from sheafwright.answers.germination import Germination, germination
from sheafwright.records import wording
from sheafwright.records.clock import today
from sheafwright.records.errors import NotTested
from sheafwright.records.models import SeedHealthTest, SeedLot, Sowing


@dataclasses.dataclass(frozen=True)
class SeedLotSeen:
    lot: SeedLot
    germination: Germination | None
    """By the last test."""
    sick: tuple[SeedHealthTest, ...]
    """The last test for each sickness, where it found it."""
    untested: tuple[str, ...]
    """Sicknesses that nobody looked for, where the seed was saved here."""


def lots_to_sow(*, holding):
    """Lots that may still be sown, or grow now."""
    grown = Sowing.objects.filter(
        holding=holding, harvest_year__gte=today(holding).year
    )
    wanted = Q(sowings=None) | Q(pk__in=grown.values("seed_lot"))
    return SeedLot.objects.filter(holding=holding).filter(wanted).distinct()


def seed_lots(*, holding):
    """The same, with their tests."""
    return tuple(_seen(lot) for lot in _tests_of(lots_to_sow(holding=holding)))


def seed_lot_tested(lot, weight=None, share=None):
    """Thousand-grain weight and germination of a lot: as given, or as tested.

    Parameters
    ----------
    weight : float, optional
        [g]
    share : float, optional
        [0–1]
    """
    if weight is None:
        weight = lot.thousand_grain_weight_g
    if share is None:
        tested = _seen(lot).germination
        share = tested and tested.share
    if weight is None or share is None:
        raise NotTested(wording.seed_not_tested(lot, weight, share))
    return weight, share


def _tests_of(lots):
    return lots.select_related("grown_as", "derogation").prefetch_related(
        "germination_tests", "health_tests"
    )


def _seen(lot):
    counted = list(lot.germination_tests.all())
    last = {test.sickness: test for test in lot.health_tests.all()}
    return SeedLotSeen(
        lot=lot,
        germination=germination(counted[-1].came_up, counted[-1].seeds_each)
        if counted
        else None,
        sick=tuple(t for t in last.values() if t.found == SeedHealthTest.Found.FOUND),
        untested=_untested(lot, last),
    )


def _untested(lot, last):
    if lot.came != SeedLot.Came.OWN:
        return ()
    return tuple(s.label for s in SeedHealthTest.Sickness if s not in last)
