"""What a plan for the next half-days changes of the one before."""

from collections import defaultdict

from sheafwright.answers import crew_wording as wording
from sheafwright.feeds.crew_day import STOOKING
from sheafwright.feeds.telling import say
from sheafwright.planning.crew.problem import Duty, Plan


def earlier_plan(said):
    """The `Plan` that an answer's JSON tells.

    Parameters
    ----------
    said : mapping
    """
    duties, binders, done = {}, {}, {}
    for half in said["half_days"]:
        when = half["half_day"]
        for row in half["rows"]:
            duty = Duty(row["task"], row["at"])
            duties |= {(when, name): duty for name in row["people"]}
            binders |= {(when, name): row["at"] for name in row["binders"]}
            if row["task"] != STOOKING:
                done |= {
                    (when, each["field"], row["task"]): each["area_ha"]
                    for each in row["fields"]
                }
    half_days = frozenset(half["half_day"] for half in said["half_days"])
    worth = said["worth_gbp"]
    return Plan(duties, binders, done, worth, worth + said["gap_gbp"], half_days)


def what_changed(before, answer):
    """In sentences: what came to pass first, then what is done otherwise.

    Parameters
    ----------
    before : mapping
        The JSON of the answer before.
    answer : CrewAnswer
    """
    known = {half["half_day"]: half for half in before["half_days"]}
    common = [half for half in answer.question.half_days if half.name in known]
    yield from _machines(before, answer, common)
    for half in common:
        yield from _weather(half, known[half.name], answer)
        yield from _who_comes(half, before, answer)
    yield from _jobs(before, answer)
    changes = [
        *(each for half in common for each in _people(half, known[half.name], answer)),
        *_areas(known, answer, common),
    ]
    yield from changes or [say(wording.NO_CHANGE)]


def _machines(before, answer, common):
    names = {half.name for half in common}
    were = {each["binder"]: names & set(each["broken"]) for each in before["binders"]}
    for binder in answer.problem.binders:
        was, now = were.get(binder.name, set()), names & binder.broken
        if now - was:
            yield wording.broken(binder.name)
        elif was - now:
            yield wording.mended(binder.name)


def _weather(half, was, answer):
    fit = next(h for h in answer.problem.half_days if h.name == half.name)
    if half.name in answer.question.showers:
        if not was["shower"]:
            yield wording.shower(half)
    elif was["fit_hours_h"] and not fit.cutting_hours:
        yield wording.likely_wet(half)
    elif fit.cutting_hours and not was["fit_hours_h"]:
        yield wording.likely_dry(half)


def _who_comes(half, before, answer):
    came = {p["person"] for p in before["people"] if half.name not in p["away"]}
    come = {p.name for p in answer.problem.people if half.name not in p.away}
    if came - come:
        yield wording.no_longer_comes(sorted(came - come), half)
    if come - came:
        yield wording.comes_after_all(sorted(come - came), half)


def _jobs(before, answer):
    """Fields and stooks that are new, and those that are done with."""
    were = {tuple(job) for job in before["jobs"]}
    now = set(answer.asked_jobs)
    yield from (wording.is_there(*job) for job in sorted(now - were))
    yield from (wording.is_done(*job) for job in sorted(were - now))


def _people(half, was, answer):
    """People who do the same instead of the same, together."""
    before = {name: row for row in was["rows"] for name in row["people"]}
    after = {
        name: row
        for row in answer.rows
        if row.half_day == half.name
        for name in row.people
    }
    groups = defaultdict(list)
    for name in sorted(before.keys() | after.keys()):
        old, new = before.get(name), after.get(name)
        if (old and (old["task"], old["at"])) != (new and (new.task, new.at)):
            groups[new and _key(old), new].append(name)
    come = {p.name for p in answer.problem.people if half.name not in p.away}
    for (old, new), names in groups.items():
        # Who can't come needs no telling that they are free.
        if there := [name for name in names if name in come]:
            yield wording.people_change(half, there, old, new)


def _key(old):
    """A row of the plan before, as far as it is spoken of."""
    if old is None:
        return None
    return wording.Spoken(
        old["task"], tuple((each["field"], each["area_ha"]) for each in old["fields"])
    )


def _areas(known, answer, common):
    """Each field of which other areas are done, or at another time."""
    were, now = defaultdict(list), defaultdict(list)
    for half in common:
        for task, name, area in _done(known[half.name]):
            were[name, task].append((half, area))
        for row in (row for row in answer.rows if row.half_day == half.name):
            for name, area in row.fields:
                now[name, row.task].append((half, area))
    for name, task in sorted(were.keys() | now.keys()):
        old, new = were[name, task], now[name, task]
        # Setting up goes with cutting.
        if task != STOOKING and _differ(old, new):
            yield wording.area_change(name, task, old, new)


def _done(half):
    for row in half["rows"]:
        for each in row["fields"]:
            yield row["task"], each["field"], each["area_ha"]


def _differ(old, new):
    """Whether more or less is done in all, or it is done at other times."""
    more = sum(area for _half, area in new) - sum(area for _half, area in old)
    times = ({half.name for half, _area in each} for each in (old, new))
    return abs(more) >= wording.ABOUT or len(set(map(frozenset, times))) > 1
