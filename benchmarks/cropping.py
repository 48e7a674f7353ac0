"""A cropping plan of 60 fields and 8 years, found, and found again with a pin."""

import datetime
import random
import sys
import time

from parts.timing import print_table, print_text, times_as_long

from sheafwright.answers.cropping_problem import problem_of
from sheafwright.core.inputs.cropping import Buyer, Increase, Pin, Wanted
from sheafwright.feeds.cropping import CROPS, Busy, CroppingQuestion, FieldAsked
from sheafwright.planning.cropping.model import Model, rules_of
from sheafwright.planning.cropping.solve import NoPlanInTime, solve, solve_again

FIRST = 2027
PAST = (
    ("ley", "ley"),
    ("ley", "ley", "ley", "ley", "ley"),
    ("ley",),
    ("ley", "ley", "ley", "autumn_wheat"),
    ("ley", "ley", "autumn_wheat", "autumn_wheat"),
    ("ley", "ley", "autumn_wheat", "autumn_wheat", "oats"),
    ("ley", "ley", "roots", "autumn_wheat", "oats", "oats"),
    ("oats", "oats"),
)
CONVERSIONS = "2010-01-01", "2010-01-01", "2010-01-01", "2026-03-01", "2027-03-01"


def main(short):
    """Print the tables; ``short`` to run everything once on little."""
    fields, years, holdings, pins = (8, 4, 1, 2) if short else (60, 8, 3, 12)
    plans = [planned(fields, years, number) for number in range(1, holdings + 1)]
    print_table(
        f"A plan of {fields} fields and {years} years, from nothing",
        ("holding", "columns", "rows", "build s", "wall s", "CPU s", "", "proven gap"),
        [row for _, _, row in plans],
    )
    rows = [
        row
        for number, (plan, cpu, _) in enumerate(plans, 1)
        for row in pinned(plan, cpu, pins, number)
    ]
    print_table(
        "One field and year pinned by hand, solved again from the plan before",
        ("holding and pin", "wall s", "CPU s", "beside it", "proven gap", "costs £"),
        rows,
    )
    print_text(
        "A pin that no plan can keep is told so at once. A gap is that between the",
        "plan and the best that any plan could be worth, as proven.",
    )


def question(fields, years, seed):
    """A holding whose fields were drawn by chance."""
    rng = random.Random(seed)
    asked = tuple(
        FieldAsked(
            name=f"Field {number}",
            area_ha=round(rng.uniform(0.5, 4.0), 2),
            history=rng.choice(PAST),
            conversion_from=datetime.date.fromisoformat(rng.choice(CONVERSIONS)),
        )
        for number in range(1, fields + 1)
    )
    area = sum(field.area_ha for field in asked)
    wheat = [Wanted(FIRST + n, "wheat", 0.15 * area, 0.3 * area) for n in range(years)]
    return CroppingQuestion(
        first_year=FIRST,
        years=years,
        fields=asked,
        hours_a_week=1.5 * area,
        busy=(Busy(30, 37, 3.0 * area),),
        binders=2.0,
        buyers=(Buyer(0.3 * area, 850.0), Buyer(0.15 * area, 700.0)),
        wanted=tuple(wheat),
        varieties={"autumn_wheat": "Maris Widgeon", "late_wheat": "April Bearded"},
        increase=Increase("Squareheads Master", 5.0, 0.02 * area, FIRST + 3),
    )


def planned(fields, years, seed):
    """A plan from nothing, the seconds it took, and its row of the table."""
    problem = problem_of(question(fields, years, seed))
    began = time.perf_counter()
    program = Model(problem, rules_of(problem, ())).program
    build = time.perf_counter() - began
    plan, wall, cpu = timed(lambda: solve(problem))
    row = (
        f"{seed}",
        f"{len(program.worths):,}",
        f"{len(program.row_lowers):,}",
        f"{build:.2f}",
        f"{wall:.1f}",
        f"{cpu:.1f}",
        times_as_long(cpu, cpu),
        f"{plan.gap:.2%}",
    )
    return plan, cpu, row


def pinned(plan, from_nothing, pins, seed):
    """Rows of pins drawn by chance, of another crop than is planned."""
    rng, problem = random.Random(seed), plan.problem
    for _ in range(pins):
        field, year = rng.choice(problem.fields), rng.choice(problem.years)
        now = plan.crops(field.name)[problem.years.index(year)]
        pin = Pin(field.name, year, rng.choice([c for c in CROPS if c != now]))
        again, wall, cpu = timed(lambda pin=pin: again_or_late(plan, pin))
        found = (again, "–")
        if not isinstance(again, str):
            found = f"{again.gap:.2%}", f"{plan.score - again.score:,.0f}"
        yield (
            f"{seed}: {pin.field}, {pin.year}, {pin.crop}",
            f"{wall:.2f}",
            f"{cpu:.2f}",
            times_as_long(cpu, from_nothing),
            *found,
        )


def again_or_late(plan, pin):
    """The plan with the pin, or why there is none."""
    try:
        return solve_again(plan, [pin]) or "none can be"
    except NoPlanInTime:
        return "none in time"


def timed(work):
    """What it gave, and how long it took by the wall's clock and the processor's."""
    wall, cpu = time.perf_counter(), time.process_time()
    gave = work()
    return gave, time.perf_counter() - wall, time.process_time() - cpu


if __name__ == "__main__":
    main("--short" in sys.argv[1:])
