"""What a plan for the next half-days changes of the one before."""

import dataclasses
from collections import defaultdict

from sheafwright.answers import crew_wording as wording
from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds.crew_day import STOOKING
from sheafwright.feeds.telling import say
from sheafwright.planning.crew.problem import Duty, Plan


@dataclasses.dataclass(frozen=True)
class Earlier:
    """What an earlier answer's JSON tells, and a later one needs of it."""

    plan: Plan
    rows: dict[str, tuple[wording.Spoken, ...]]
    """By half-day."""
    fit_hours: dict[str, float]
    """By half-day. [h]"""
    showers: frozenset[str]
    """Half-days."""
    broken: dict[str, frozenset[str]]
    """Half-days by binder."""
    away: dict[str, frozenset[str]]
    """Half-days by person."""
    jobs: frozenset[tuple[str, str]]
    """Fields with their tasks."""


def earlier(said):
    """`Earlier` of an answer's JSON, or one sentence.

    Parameters
    ----------
    said : mapping
    """
    try:
        return _earlier(said)
    except (LookupError, TypeError, ValueError, AttributeError):
        raise UnreadableInput(
            "The plan before can't be read; it should be an earlier answer, whole, as "
            "it was given."
        ) from None


def _earlier(said):
    halves = {half["half_day"]: half for half in said["half_days"]}
    rows = {name: tuple(map(_spoken, half["rows"])) for name, half in halves.items()}
    return Earlier(
        plan=_plan(said, rows),
        rows=rows,
        fit_hours={name: float(half["fit_hours_h"]) for name, half in halves.items()},
        showers=frozenset(name for name, half in halves.items() if half["shower"]),
        broken={e["binder"]: frozenset(e["broken"]) for e in said["binders"]},
        away={e["person"]: frozenset(e["away"]) for e in said["people"]},
        jobs=frozenset((field, task) for field, task in said["jobs"]),
    )


def _spoken(row):
    fields = tuple((e["field"], float(e["area_ha"])) for e in row["fields"])
    people, binders = tuple(row["people"]), tuple(row["binders"])
    if row["task"] not in wording.DOING:
        raise ValueError(row["task"])
    return wording.Spoken(row["task"], fields, row["at"], people, binders)


def _plan(said, rows):
    duties, binders, done = {}, {}, {}
    for when, each in rows.items():
        for row in each:
            duty = Duty(row.task, row.at)
            duties |= {(when, name): duty for name in row.people}
            binders |= {(when, name): row.at for name in row.binders}
            # Setting up goes with cutting.
            if row.task != STOOKING:
                done |= {(when, name, row.task): area for name, area in row.fields}
    worth = float(said["worth_gbp"])
    bound = worth + float(said["gap_gbp"])
    return Plan(duties, binders, done, worth, bound, frozenset(rows))


def what_changed(before, answer):
    """In sentences: what came to pass first, then what is done otherwise.

    Parameters
    ----------
    before : Earlier
    answer : CrewAnswer
    """
    common = [half for half in answer.question.half_days if half.name in before.rows]
    yield from _machines(before, answer, common)
    for half in common:
        yield from _weather(half, before, answer)
        yield from _who_comes(half, before, answer)
    yield from _jobs(before, answer)
    changes = [
        *(each for half in common for each in _people(half, before, answer)),
        *_areas(before, answer, common),
    ]
    yield from changes or [say(wording.NO_CHANGE)]


def _machines(before, answer, common):
    names = {half.name for half in common}
    for binder in answer.problem.binders:
        was = names & before.broken.get(binder.name, set())
        now = names & binder.broken
        if now - was:
            yield wording.broken(binder.name)
        elif was - now:
            yield wording.mended(binder.name)


def _weather(half, before, answer):
    was = before.fit_hours[half.name]
    fit = next(h for h in answer.problem.half_days if h.name == half.name)
    if half.name in answer.question.showers:
        if half.name not in before.showers:
            yield wording.shower(half)
    elif was and not fit.cutting_hours:
        yield wording.likely_wet(half)
    elif fit.cutting_hours and not was:
        yield wording.likely_dry(half)


def _who_comes(half, before, answer):
    came = {name for name, away in before.away.items() if half.name not in away}
    come = _come(half, answer)
    if came - come:
        yield wording.no_longer_comes(sorted(came - come), half)
    if come - came:
        yield wording.comes_after_all(sorted(come - came), half)


def _come(half, answer):
    return {p.name for p in answer.problem.people if half.name not in p.away}


def _jobs(before, answer):
    """Fields and stooks that are new, and those that are done with."""
    now = set(answer.asked_jobs)
    yield from (wording.is_there(*job) for job in sorted(now - before.jobs))
    yield from (wording.is_done(*job) for job in sorted(before.jobs - now))


def _people(half, before, answer):
    """People who do the same instead of the same, together."""
    were = {name: row for row in before.rows[half.name] for name in row.people}
    rows = [row for row in answer.rows if row.half_day == half.name]
    are = {name: row for row in rows for name in row.people}
    groups = defaultdict(list)
    # Who can't come needs no telling that they are free.
    for name in sorted((were.keys() | are.keys()) & _come(half, answer)):
        was, now = were.get(name), are.get(name)
        if _duty(was) != _duty(now):
            groups[now and was, now].append(name)
    for (was, now), names in groups.items():
        yield wording.people_change(half, names, was, now)


def _duty(row):
    return row and (row.task, row.at)


def _areas(before, answer, common):
    """Each field of which other areas are done, or at another time."""
    were, now = defaultdict(list), defaultdict(list)
    for half in common:
        rows = [row for row in answer.rows if row.half_day == half.name]
        for done, each in ((were, before.rows[half.name]), (now, rows)):
            for row in each:
                for name, area in row.fields:
                    done[name, row.task].append((half, area))
    for name, task in sorted(were.keys() | now.keys()):
        old, new = were[name, task], now[name, task]
        # Setting up goes with cutting.
        if task != STOOKING and _differ(old, new):
            yield wording.area_change(name, task, old, new)


def _differ(old, new):
    """Whether more or less is done in all, or it is done at other times."""
    more = sum(area for _half, area in new) - sum(area for _half, area in old)
    times = ({half.name for half, _area in each} for each in (old, new))
    return abs(more) >= wording.ABOUT or len(set(map(frozenset, times))) > 1
