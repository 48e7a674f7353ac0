"""Twelve sowing dates × three densities × every season on record, set side by side.

The engine, after start-up, beside a plain script that follows one crop after another
and is given the same record, luck and tables. Both must come to the same before either
is timed; the script follows a few seasons, and is scaled up.
"""

import os
import sys

from parts.timing import (
    median_time,
    milliseconds,
    print_table,
    print_text,
    times_as_long,
)

TARGET = 5
"""All should be compared in less, on two cores. [s]"""


def main(short):
    """Print the tables; ``short`` for few dates of one season of the demo's."""
    # As the command sets it; NumPy reads it when first imported.
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    from parts import sowings

    work = sowings.work(small=short)
    n_seasons = len(work.years)
    few = range(0, n_seasons, n_seasons if short else 40)
    sowings.check_same(work, few)
    print_text(
        f"{len(work.question.dates)} dates × {len(work.question.densities)} densities",
        f"× {n_seasons} seasons, {work.years[0]} to {work.years[-1]}.",
        f"The plain script, on {len(few)} of the seasons, came to the same ripe dates,",
        "cuttings, fit weeks, cold, shares that lie, and money.",
    )
    times = 1 if short else 5
    engine = median_time(lambda: sowings.compared(work), times)
    whole = median_time(lambda: sowings.whole(work), times)
    plain = median_time(lambda: list(sowings.followed(work, few)), 1)
    scale = n_seasons / len(few)
    scaled = plain._replace(wall=plain.wall * scale, cpu=plain.cpu * scale)
    print_ways(len(few), engine, whole, scaled)


def print_ways(n_few, engine, whole, plain):
    """How long each way took, beside the engine and beside what it may take."""
    rows = [
        (way, *map(milliseconds, took), times_as_long(took.cpu, engine.cpu))
        for way, took in {
            "the engine, one comparison": engine,
            "the answer: that, ten doubts tried, the record read": whole,
            f"plain pandas, {n_few} seasons scaled up": plain,
        }.items()
    ]
    heading = ("way", "wall ms", "CPU ms", "beside the engine")
    print_table("Sowings compared, after start-up", heading, rows)
    beside = times_as_long(whole.cpu, TARGET)
    print_text(f"The whole answer's CPU is {beside} the {TARGET} s it may take.")


if __name__ == "__main__":
    main("--short" in sys.argv[1:])
