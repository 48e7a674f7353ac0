"""Runs of the mill: what each gave, and whether it may be called organic."""

import dataclasses

from sheafwright.answers.grain_run import MillingYield, milling_yield
from sheafwright.records.models import Certificate, Line, Lot, Milling, Movement, Place
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
    """Id of each of these lots of flour or bran to the run that gave it, if told.

    Flour that an earlier release wrote down came of a mill that nobody told of.
    """
    of_the_mill = [lot.pk for lot in lots if lot.kind in OF_THE_MILL]
    if not of_the_mill:
        return {}
    gave = Line.objects.filter(
        place__kind=Place.Kind.LOT,
        place__subject__in=of_the_mill,
        grams__gt=0,
        movement__kind=Movement.Kind.MILL,
        movement__reversed_by=None,
    )
    # The movement of what the mill gave bears the run's own id.
    gave = dict(gave.values_list("place__subject", "movement"))
    runs = Milling.objects.select_related("lot", "miller").in_bulk(set(gave.values()))
    return {lot: runs[run] for lot, run in gave.items() if run in runs}


def not_organic_by_mill(lots):
    """Ids of the flour and bran that is not organic by who milled it.

    Parameters
    ----------
    lots : iterable of Lot
        Of one holding; what is no flour and no bran is never among the found.
    """
    of_the_mill = [lot for lot in lots if lot.kind in OF_THE_MILL]
    runs = millings_of(of_the_mill)
    own = _own_certificates(of_the_mill, runs.values())
    return {
        lot.pk
        for lot in of_the_mill
        if not milled_organically(runs.get(lot.pk), own=own)
    }


def _own_certificates(lots, runs):
    """Asked once, and only where some run was the holding's own mill's."""
    if not any(_by_own_mill(run) for run in runs):
        return ()
    return tuple(own_certificates(lots[0].holding_id))


def own_certificates(holding):
    return Certificate.objects.filter(holding=holding, is_own=True)


def milled_organically(run, *, own=None):
    """Whether what a run gave may be organic: whoever milled it was certified that day.

    Parameters
    ----------
    run : Milling or None
        None where nobody told of it: then it may not.
    own : iterable of Certificate, optional
        The holding's own, for its own mill; asked of the book if not given.
    """
    if run is None or run.uncertified_miller:
        return False
    if _by_own_mill(run):
        millers = own_certificates(run.holding_id) if own is None else own
    else:
        millers = (run.miller,)
    return any(each.since <= run.date <= each.expires for each in millers)


def is_spoilt_by_mill(run):
    """Whether to say that what a run gave is not organic by its miller.

    A holding that never had a certificate is not told so of its own mill.
    """
    if milled_organically(run):
        return False
    return not _by_own_mill(run) or own_certificates(run.holding_id).exists()


def _by_own_mill(run):
    return run.miller is None and not run.uncertified_miller
