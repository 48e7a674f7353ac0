"""Who does what: 30 fields on 6 farms over three days, and again when that is upset.

Asked as the pages ask it, with the words, the reasons and the proof that it can be
carried out. Then how long it takes to find which field can wait, and what plans bring
that know it.
"""

import dataclasses
import datetime
import random
import sys
import time

from parts.timing import print_table, print_text, times_as_long
from parts.turns_case import asked as turns_asked
from parts.turns_case import interval, judge

from sheafwright.answers.crew import crew
from sheafwright.answers.turns import turns
from sheafwright.feeds.crew_day import (
    HALVES,
    TASKS,
    BinderAsked,
    Comes,
    CrewQuestion,
    HalfAsked,
    Standing,
    Stooked,
)
from sheafwright.planning.crew.check import broken_rules

FIRST = datetime.date(2027, 8, 10)
DAYS, AHEAD, FARMS = 3, 9, 6


def main(short):
    """Print the table; ``short`` for one small farm's day."""
    fields, people, seeds = (4, 6, 1) if short else (30, 14, 3)
    rows = []
    for seed in range(1, seeds + 1):
        question = asked(fields, people, seed)
        answer, wall, cpu = answered(question)
        rows.append(row(f"{seed}, from nothing", answer, wall, cpu, cpu))
        before = answer.to_json()
        for name, upset in upsets(question).items():
            again, wall, its = answered(upset, before)
            rows.append(row(f"{seed}, {name}", again, wall, its, cpu))
    print_table(
        f"{fields} fields, {people} people, {DAYS} days",
        ("harvest and plan", "wall s", "CPU s", "beside it", "worth £", "gap", "moved"),
        rows,
    )
    print_text(
        "A gap is proven; for a plan that was changed it counts each change as some",
        "bother. Moved are the people and half-days told otherwise.",
    )
    print_turns(4 if short else 30)
    print_judged(2 if short else 40, short)


def print_turns(fields):
    """Time of finding which field can wait, by how many there are."""
    by, rows = None, []
    for n in (2, fields):
        question = turns_asked(1, fields=(n, n))
        began = time.process_time()
        turns(question)
        took = time.process_time() - began
        by = by or took
        rows.append((str(n), f"{took:.2f}", times_as_long(took, by)))
    print_table("Which field can wait", ("fields", "CPU s", "beside"), rows)


def print_judged(harvests, short):
    """What plans bring over the plain rule, by how they value what is left."""
    few = {"summers": 20, "fields": (2, 3), "fresh": 20} if short else {}
    found = [judge(seed, **few) for seed in range(1, 1 + harvests)]
    by_name = {
        "by the guess": [each.guess.mean() for each in found],
        "by roll-outs": [each.roll_outs.mean() for each in found],
        "roll-outs over the guess": [
            (each.roll_outs - each.guess).mean() for each in found
        ],
    }
    rows = [
        (name, f"{each.mean:+.4f}", f"{each.low:+.4f} to {each.high:+.4f}")
        for name, gains in by_name.items()
        for each in [interval(gains)]
    ]
    print_table(
        f"{harvests} harvests: three days planned, then the plain rule",
        ("plan", "over the plain rule", "90 %"),
        rows,
    )
    print_text("As a share of perfect crops, in summers that no plan was made from.")


def asked(fields, people, seed):
    """A harvest whose fields were drawn by chance; a third of them stands in stooks."""
    rng = random.Random(seed)
    days = [FIRST + datetime.timedelta(day) for day in range(AHEAD)]
    farms = [f"Farm {number}" for number in range(FARMS)]
    cut, carted = range(2 * fields // 3), range(2 * fields // 3, fields)
    return CrewQuestion(
        half_days=tuple(
            HalfAsked(day, half, rng.uniform(0.4, 0.95))
            for day in days[:DAYS]
            for half in HALVES
        ),
        fields=tuple(_standing(rng, n, days, farms[n % FARMS]) for n in cut),
        stooks=tuple(_stooked(rng, n, days, farms[n % FARMS]) for n in carted),
        people=tuple(
            Comes(f"Person {n}", TASKS if n % 3 == 0 else TASKS[1:])
            for n in range(people)
        ),
        binders=tuple(BinderAsked(f"Binder {n}", farms[n]) for n in range(2)),
        carts=4,
    )


def _standing(rng, number, days, farm):
    worth, falls = rng.uniform(0.6, 0.85), rng.uniform(0.0, 0.05)
    by_day = {day: max(0.0, worth - falls * n) for n, day in enumerate(days)}
    return Standing(f"Field {number}", round(rng.uniform(1, 5), 1), by_day, farm)


def _stooked(rng, number, days, farm):
    fit, wet = rng.uniform(0.3, 0.95), rng.uniform(0.1, 0.6)
    chances = dict.fromkeys(days, fit), dict.fromkeys(days, wet)
    return Stooked(f"Field {number}", round(rng.uniform(1, 5), 1), *chances, farm)


def upsets(question):
    """The same after a breakdown, a shower, and with two people away."""
    first, *others = question.binders
    dry = next(each for each in question.half_days if each.dry_chance >= 0.5)
    away = [dataclasses.replace(p, away=(dry.name,)) for p in question.people[:2]]
    broken = dataclasses.replace(first, broken=(FIRST.isoformat(),))
    return {
        "a breakdown": dataclasses.replace(question, binders=(broken, *others)),
        "a shower": dataclasses.replace(question, showers=(dry.name,)),
        "two away": dataclasses.replace(question, people=(*away, *question.people[2:])),
    }


def answered(question, before=None):
    """The answer, told whole and proven, and how long it took."""
    wall, cpu = time.perf_counter(), time.process_time()
    answer = crew(question, before)
    answer.to_json()
    took = time.perf_counter() - wall, time.process_time() - cpu
    assert not list(broken_rules(answer.problem, answer.plan))
    return answer, *took


def row(name, answer, wall, cpu, beside):
    """A row of the table."""
    gap = answer.gap / max(1.0, answer.plan.worth)
    moved = "" if answer.changed is None else str(_moved(answer))
    return (
        name, f"{wall:.1f}", f"{cpu:.1f}", times_as_long(cpu, beside),
        f"{answer.plan.worth:,.0f}", f"{gap:.1%}", moved,
    )  # fmt: skip


def _moved(answer):
    return sum(": " in each for each in answer.changed)


if __name__ == "__main__":
    main("--short" in sys.argv[1:])
