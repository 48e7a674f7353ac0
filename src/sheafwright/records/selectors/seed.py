"""Seed lots with their tests."""

import dataclasses

from django.db.models import Q
from django.http import Http404

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


def seed_lots(*, holding):
    """Lots that may still be sown, or grow now."""
    grown = Sowing.objects.filter(
        holding=holding, harvest_year__gte=today(holding).year
    )
    wanted = Q(sowings=None) | Q(pk__in=grown.values("seed_lot"))
    return tuple(_seen(lot) for lot in _lots(holding).filter(wanted).distinct())


def seed_lot(*, holding, id):
    lot = _lots(holding).filter(pk=id).first()
    if lot is None:
        raise Http404
    return _seen(lot)


def seed_lot_tested(lot):
    """Thousand-grain weight and germination of a lot. [g], [0–1]"""
    weight = lot.thousand_grain_weight_g
    tested = seed_lot(holding=lot.holding, id=lot.pk).germination
    if weight is None or tested is None:
        raise NotTested(wording.seed_not_tested(lot, weight, tested))
    return weight, tested.share


def _lots(holding):
    return (
        SeedLot.objects.filter(holding=holding)
        .select_related("grown_as", "derogation")
        .prefetch_related("germination_tests", "health_tests")
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
