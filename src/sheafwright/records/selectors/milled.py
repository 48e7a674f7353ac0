"""Runs of the mill: what each gave, and whether it may be called organic."""

import dataclasses

from sheafwright.answers.grain_run import MillingYield, milling_yield
from sheafwright.records.models import Line, Lot, Milling, Place
from sheafwright.records.selectors.undone import not_undone

OF_THE_MILL = (Lot.Kind.FLOUR, Lot.Kind.BRAN)


@dataclasses.dataclass(frozen=True)
class RunMilled:
    run: Milling
    came: MillingYield
    lost_grams: int


def runs_of_mill(*, holding, most):
    """So many `RunMilled` that weren't undone, the last first."""
    runs = not_undone(Milling.objects.filter(holding=holding))
    runs = list(
        runs.select_related("lot", "miller").order_by("-date", "-made_at")[:most]
    )
    moved = {run.pk: {} for run in runs}
    # The movement of what the mill gave bears the run's own id.
    lines = Line.objects.filter(movement__in=moved).select_related("place")
    for line in lines:
        moved[line.movement_id][line.place.kind] = line.grams
    return [_run(run, moved[run.pk]) for run in runs if moved[run.pk]]


def _run(run, moved):
    came = milling_yield(
        run.flour,
        -moved[Place.Kind.MILL] / 1000,
        run.flour_kg,
        run.bran_kg or 0.0,
    )
    return RunMilled(run, came, moved.get(Place.Kind.MILLING, 0))


def millings_of(lots):
    """Id of each of these lots of flour or bran to the run that gave it, if told."""
    codes = {(lot.holding_id, lot.code): lot for lot in lots if lot.kind in OF_THE_MILL}
    if not codes:
        return {}
    runs = Milling.objects.filter(
        holding__in={holding for holding, _code in codes}
    ).select_related("lot", "miller")
    named = [code for _holding, code in codes]
    runs = runs.filter(flour_code__in=named) | runs.filter(bran_code__in=named)
    found = {}
    for run in not_undone(runs).order_by("date", "made_at"):
        for code in (run.flour_code, run.bran_code):
            if lot := codes.get((run.holding_id, code)):
                found[lot.pk] = run
    return found


def not_organic_by_mill(lots):
    """Ids of those that a miller without a certificate milled."""
    runs = millings_of(lots).items()
    return {pk for pk, run in runs if not milled_organically(run)}


def milled_organically(run):
    """Whether whoever milled it was certified that day; the holding's own mill is.

    What the holding's own certificate says, is asked of that.
    """
    if run.uncertified_miller:
        return False
    miller = run.miller
    return miller is None or miller.since <= run.date <= miller.expires
