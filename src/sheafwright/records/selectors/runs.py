"""Runs of the drum against those before them, and what a day at the drum gives."""

import collections
import dataclasses
import datetime

from sheafwright.answers.run_check import RunCheck, run_checks
from sheafwright.feeds.threshing import threshing
from sheafwright.records.models import Labour, Lot
from sheafwright.records.models.store import STRAW
from sheafwright.records.models.work import Task
from sheafwright.records.selectors.lots import Run, runs_of_drum
from sheafwright.records.selectors.names import name_key

MOST_DAYS = 20
"""At the drum, from which a rate is taken: the last."""
MOST_RUNS = 30


@dataclasses.dataclass(frozen=True)
class RunChecked:
    run: Run
    check: RunCheck | None
    """None where nothing was weighed."""

    @property
    def is_odd(self):
        return self.check is not None and bool(self.check.odd)


@dataclasses.dataclass(frozen=True)
class DayAtDrum:
    """One day, whatever ricks were opened on it."""

    date: datetime.date
    kg: float
    """Of sheaves."""
    straw_kg: float
    """Reed or long straw."""
    grain_kg: float
    crew: int
    """Who wrote down hours of threshing on it; 0 where nobody did."""
    hours: float
    """Of them all. [h]"""


def runs_checked(*, holding, most):
    """So many runs, the last first, each held against one's own before it."""
    counted = threshing().control.most_runs
    runs = runs_of_drum(holding=holding, most=most + counted)
    checks = _checks(runs)
    return [RunChecked(run, checks.get(run.threshing.pk)) for run in runs[:most]]


def last_run_told(holding):
    """What is odd of the run that was made last, in words; None if nothing is."""
    last = next(iter(runs_checked(holding=holding, most=1)), None)
    return last.check.sentence if last and last.is_odd else None


def reed_expected(*, holding):
    """`ShareCheck` of the last combed run's reed, if one's own runs set its limits."""
    for each in runs_checked(holding=holding, most=MOST_DAYS):
        if each.check and each.check.combed:
            reed = [share for share in each.check.shares if share.product == "reed"]
            return next((share for share in reed if share.is_judged), None)
    return None


def days_at_drum(*, holding, last=None):
    """`DayAtDrum` of the last days, the last first.

    Parameters
    ----------
    last : sequence of Run, optional
        The last runs, where they were read already.
    """
    runs = collections.defaultdict(list)
    for run in last or runs_of_drum(holding=holding, most=MOST_RUNS):
        runs[run.threshing.date].append(run)
    worked = _worked(holding, runs)
    return [_day(date, runs[date], *worked[date]) for date in list(runs)[:MOST_DAYS]]


def own_rates(days):
    """Sheaves that went through on each of them, unless it was more than one day's."""
    most = threshing().drum_day.most_a_day
    return tuple(each.kg for each in days if 0 < each.kg <= most)


def _checks(runs):
    """Id of each run of which something was weighed to its `RunCheck`."""
    checks = {}
    for combed in (True, False):
        alike = [
            run
            for run in reversed(runs)
            if run.outturn and run.threshing.combed == combed
        ]
        told = run_checks([_shares(run) for run in alike], combed)
        for run, check in zip(alike, told, strict=True):
            checks[run.threshing.pk] = check
    return checks


def _shares(run):
    total = run.grams / 1000
    shares = {kind: kg / total for kind, kg in run.weights.items()}
    return shares | {"waste": 1 - sum(shares.values())}


def _day(date, runs, crew, hours):
    weights = collections.Counter()
    for run in runs:
        weights.update(run.weights)
    return DayAtDrum(
        date=date,
        kg=sum(run.grams for run in runs) / 1000,
        straw_kg=sum(weights[kind] for kind in STRAW),
        grain_kg=weights[Lot.Kind.GRAIN] + weights[Lot.Kind.TAIL],
        crew=crew,
        hours=hours,
    )


def _worked(holding, dates):
    """Date to how many threshed on it, and their hours."""
    who, hours = collections.defaultdict(set), collections.Counter()
    entries = Labour.objects.filter(
        holding=holding, task=Task.THRESHING, date__in=list(dates)
    ).exclude(owed=Labour.Owed.TO_US)
    for each in entries:
        who[each.date].add(name_key(each.who))
        hours[each.date] += each.hours
    return {date: (len(who[date]), hours[date]) for date in dates}
