"""1,000 possible summers × 60 cutting days, drawn and valued in four ways.

All four are given the same record, luck and losses, and must give the same numbers to
the last bit before any is timed.
"""

import sys
from functools import partial

import numpy as np
from parts import compiled, engine, plain_numpy, plain_pandas
from parts.case import case
from parts.compiling import start
from parts.timing import (
    median_time,
    milliseconds,
    print_table,
    print_text,
    times_as_long,
)

RULE = 3
"""Times as fast that a compiled form must be, its start counted, to be kept."""

ENGINE, COMPILED = "the engine (NumPy)", "compiled by Numba, once loaded"


def main(short):
    """Print the tables; ``short`` for a small ensemble run once."""
    work = case(40, 10, small=True) if short else case(1000, 60)
    few = work.fewer(1 if short else 5)
    check_same(work, few)
    times = 1 if short else 9
    took = {
        COMPILED: ran(compiled, work, times),
        ENGINE: ran(engine, work, times),
        "plain vectorised NumPy": ran(plain_numpy, work, times),
        f"plain pandas, {len(few.start)} summers scaled up": scaled(work, few),
    }
    print_ways(work, took, memory_floor(work, 2**20 if short else 2**24, times))
    print_steps(work, times)
    print_rule(took[COMPILED].cpu, took[ENGINE].cpu)


def check_same(work, few):
    """Refuse to time ways that give different numbers."""
    paths, worth = engine.valued(work)
    for way, given in ((compiled, work), (plain_numpy, work), (plain_pandas, few)):
        other_paths, other_worth = way.valued(given)
        np.testing.assert_array_equal(other_paths, paths[: len(given.start)])
        np.testing.assert_array_equal(other_worth, worth[: len(given.start)])
    print_text(
        f"{len(work.start):,} possible summers × {work.n_cuts} cutting days,",
        f"{work.n_days} days each, from a record of {len(work.rain):,} days.",
        "All ways drew the same summers and gave the same worth, to the last bit.",
    )


def ran(way, work, times):
    """Median `Time` of a way."""
    return median_time(lambda: way.valued(work), times)


def scaled(work, few):
    """`Time` of the pandas script, as long for every summer as for the few run."""
    took, share = ran(plain_pandas, few, 1), len(work.start) / len(few.start)
    return took._replace(wall=took.wall * share, cpu=took.cpu * share)


def memory_floor(work, size, times):
    """Bytes that must be moved at least once, and the seconds it takes to copy them."""
    paths, worth = engine.valued(work)
    read = (work.luck, work.rain, work.rate, work.gain, work.days.calendar.day_of_year)
    followers = np.unique(paths).size * work.n_near * paths.itemsize
    # Paths are written by the one step, and read by the other.
    least = sum(each.nbytes for each in (*read, worth, paths, paths)) + followers
    source, target = np.ones(size), np.zeros(size)
    copied = median_time(lambda: np.copyto(target, source), times).wall
    return least, least * copied / (source.nbytes + target.nbytes)


def print_ways(work, took, floor):
    """How long each way took, beside the engine."""
    least, seconds = floor
    by = took[ENGINE].cpu
    rows = [
        (way, *map(milliseconds, each), times_as_long(each.cpu, by))
        for way, each in took.items()
    ]
    copied = f"copying the {least / 1e6:.1f} MB it must move"
    floor_row = (copied, milliseconds(seconds), "", times_as_long(seconds, by))
    print_table(
        "The ensemble, all counted",
        ("way", "wall ms", "CPU ms", "beside the engine"),
        [floor_row, *rows],
    )


def print_steps(work, times):
    """Where the time goes."""
    ways = (engine, compiled, plain_numpy)
    listing = milliseconds(median_time(lambda: engine.listed(work), times).cpu)
    draws = [median_time(partial(way.drawn, work), times) for way in ways]
    paths = [way.drawn(work) for way in ways]
    stands = [
        median_time(partial(way.stook_share, work, drawn), times)
        for way, drawn in zip(ways, paths, strict=True)
    ]
    rows = [
        ("list what may follow each day, once a record", listing, listing, ""),
        ("that, and draw the summers", *(milliseconds(each.cpu) for each in draws)),
        ("dry, wet and cart the stooks", *(milliseconds(each.cpu) for each in stands)),
    ]
    print_table(
        "Its steps, CPU ms", ("step", "engine", "compiled", "plain NumPy"), rows
    )


def print_rule(compiled_cpu, engine_cpu):
    """Whether a compiled form would be kept, its start counted."""
    # It was compiled for this run, so its cache is warm.
    warm = start("compiled").total
    loaded, counted = (
        f"{engine_cpu / seconds:.2g} ×"
        for seconds in (compiled_cpu, compiled_cpu + warm)
    )
    kept = engine_cpu >= RULE * (compiled_cpu + warm)
    print_text(
        f"Numba takes {milliseconds(warm)} ms to import and to load both steps from",
        "its cache; `startup.py` shows what compiling them takes.",
        f"Compiled, the ensemble is {loaded} as fast once loaded, {counted} with that",
        f"counted; the rule asks {RULE} ×, so a compiled form is",
        "kept." if kept else "not kept.",
    )


if __name__ == "__main__":
    main("--short" in sys.argv[1:])
