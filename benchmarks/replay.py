"""The replay of every complete autumn-sown season, after start-up, and its phases."""

import os
import sys
import time

from parts.timing import milliseconds, print_table, print_text, times_as_long

TARGET = 20
"""The 83 complete seasons should be replayed in less, on two cores. [s]"""
SAMPLE = 7
"""Seasons whose phases are timed one by one."""


def main(short):
    """Print the tables; ``short`` for the phases of two of the demo's seasons."""
    # As the command sets it; NumPy reads it when first imported.
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    began = time.perf_counter()
    from parts import seasons

    imported = time.perf_counter()
    station, sowing = seasons.asked(small=short)
    read = time.perf_counter() - imported
    print_text(
        f"Replay on the record of {station.station}. Start-up:",
        f"{milliseconds(imported - began)} ms to import,",
        f"{milliseconds(read)} ms to read {station.days:,} days.",
    )
    for forecasts in ("none", "modelled"):
        if not short:
            print_whole(forecasts, *seasons.whole(station, sowing, forecasts))
        sample = 2 if short else SAMPLE
        print_phases(forecasts, seasons.phases(station, sowing, forecasts, sample))


def print_whole(forecasts, n_seasons, took):
    """How long all seasons took, beside what they may take."""
    rows = [
        (name, f"{seconds:.1f}", times_as_long(seconds, TARGET))
        for name, seconds in (("wall, after start-up", took.wall), ("CPU", took.cpu))
    ]
    rows.append(("cores kept busy", f"{took.cpu / took.wall:.2f}", ""))
    title = f"{n_seasons} seasons, forecasts: {forecasts}"
    print_table(title, ("", "s", f"beside {TARGET} s"), rows)


def print_phases(forecasts, spent):
    """Where one season's time goes."""
    by = spent["learn the policy"]
    rows = [
        (name, milliseconds(seconds), times_as_long(seconds, by))
        for name, seconds in spent.items()
    ]
    print_table(
        f"A season, forecasts: {forecasts}",
        ("phase", "CPU ms", "beside learning"),
        rows,
    )


if __name__ == "__main__":
    main("--short" in sys.argv[1:])
