"""Seed lots with their tests, and what was sown of them."""

import dataclasses
import datetime

from django.db.models import Count, Exists, Max, OuterRef, Q, Sum

from sheafwright.answers.germination import Germination, germination
from sheafwright.feeds.sowing import harvest_year
from sheafwright.records import seed_wording as wording
from sheafwright.records.clock import today
from sheafwright.records.errors import NotTested
from sheafwright.records.models import (
    Line,
    Place,
    SavedAnswer,
    SeedHealthTest,
    SeedLot,
    Sowing,
    WeatherSource,
)
from sheafwright.records.saved import saved
from sheafwright.records.selectors.lots import smelly_runs

Sickness, Found = SeedHealthTest.Sickness, SeedHealthTest.Found


@dataclasses.dataclass(frozen=True)
class SeedLotSeen:
    lot: SeedLot
    germination: Germination | None
    """By the last test."""
    sick: tuple[SeedHealthTest, ...]
    """The last test for each sickness, where it found it."""
    untested: tuple[str, ...]
    """Sicknesses that nobody looked for, where the seed was saved here."""
    smelt: bool
    """Whether its drum smelt of fish, and no test since has found it free of bunt."""

    @property
    def is_sown(self):
        """Whether some of it is sown."""
        return self.lot.is_sown

    @property
    def is_doubtful(self):
        return bool(self.sick or self.untested or self.smelt)


@dataclasses.dataclass(frozen=True)
class SownFor:
    """What was sown for one harvest."""

    harvest_year: int
    fields: int
    area_ha: float
    last: datetime.date | None


@dataclasses.dataclass(frozen=True)
class Compared:
    """Dates of sowing side by side."""

    has_record: bool
    answer: SavedAnswer | None
    """None until it is worked out."""


def lots_to_sow(*, holding):
    """Lots that may still be sown, or grow now."""
    sown = Sowing.objects.filter(seed_lot=OuterRef("pk"))
    grows = sown.filter(harvest_year__gte=today(holding).year)
    lots = SeedLot.objects.filter(holding=holding).annotate(is_sown=Exists(sown))
    return lots.filter(Q(is_sown=False) | Exists(grows))


def seed_lots(*, holding):
    """The same, with their tests: those not sown yet first."""
    lots = list(
        lots_to_sow(holding=holding)
        .prefetch_related("germination_tests", "health_tests")
        .order_by("is_sown", "name")
    )
    smelt = _smelt(holding, [lot.grown_as_id for lot in lots if lot.grown_as_id])
    return tuple(_seen(lot, smelt) for lot in lots)


def _smelt(holding, grains):
    """Those of some lots of grain that a drum gave while it smelt of fish."""
    if not grains:
        return set()
    came = Line.objects.filter(
        movement__in=smelly_runs(holding=holding).values("pk"),
        place__kind=Place.Kind.LOT,
        place__subject__in=grains,
        grams__gt=0,
    )
    return set(came.values_list("place__subject", flat=True))


def _seen(lot, smelt):
    last = {test.sickness: test for test in lot.health_tests.all()}
    bunt = last.get(Sickness.BUNT)
    return SeedLotSeen(
        lot=lot,
        germination=_germination(lot),
        sick=tuple(t for t in last.values() if t.found == Found.FOUND),
        untested=tuple(s.label for s in Sickness if s not in last)
        if lot.came == SeedLot.Came.OWN
        else (),
        smelt=lot.grown_as_id in smelt and not (bunt and bunt.found == Found.NONE),
    )


def _germination(lot):
    counted = list(lot.germination_tests.all())
    if not counted:
        return None
    return germination(counted[-1].came_up, counted[-1].seeds_each)


def seed_cautions(*, holding, seed_lot=None):
    """What stands against sowing what may be sown, or one lot of it, in sentences.

    Parameters
    ----------
    holding : Holding
    seed_lot : str, optional
        Its id.
    """
    lots = seed_lots(holding=holding)
    asked = [s for s in lots if not seed_lot or str(s.lot.pk) == seed_lot]
    return [
        says for seen in asked if seen.is_doubtful for says in wording.cautions(seen)
    ]


def seed_lot_tested(lot, weight=None, share=None):
    """Thousand-grain weight and germination of a lot: as given, or as tested.

    Parameters
    ----------
    lot : SeedLot
    weight : float, optional
        [g]
    share : float, optional
        [0–1]
    """
    if weight is None:
        weight = lot.thousand_grain_weight_g
    if share is None:
        tested = _germination(lot)
        share = tested and tested.share
    if weight is None or share is None:
        raise NotTested(wording.not_tested(lot, weight, share))
    return weight, share


def sown_ahead(*, holding):
    """`SownFor` the harvest that is now being sown for, or stands."""
    year = harvest_year(today(holding))
    told = Sowing.objects.filter(holding=holding, harvest_year=year).aggregate(
        fields=Count("field", distinct=True), area_ha=Sum("area_ha"), last=Max("date")
    )
    return SownFor(year, told["fields"], told["area_ha"] or 0.0, told["last"])


def sowings_compared(*, holding):
    """What was last kept of its dates of sowing, its chart with it."""
    sources = list(WeatherSource.objects.filter(holding=holding)[:1])
    kept = saved(question="sowings", about=sources, with_charts=True)
    return Compared(bool(sources), next(iter(kept.values()), None))
