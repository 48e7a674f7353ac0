"""Twelve fields, four farms, one binder: past harvests lived in three ways.

What roll-outs, plain rules and foresight bring home, and then the time that each takes.
Every eighth harvest of the record is lived, or with `--all` every one, in an hour. A
table of losses may be named, to judge by that instead of the package's own.
"""

import os
import sys

from parts.timing import milliseconds, print_table, print_text, times_as_long

WORST = 8
"""Harvests shown."""
EIGHTH = 8


def main(short, every, losses=None):
    """Print the tables; ``short`` for two of the demo's harvests and few summers."""
    # As the command sets it; NumPy reads it when first imported.
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    from parts import shared_binder
    from parts.lived_harvests import foreseen, lived

    from sheafwright.feeds import decision

    table, best = decision.losses(losses), None
    for forecasts in ("none",) if short else ("none", "modelled"):
        made = shared_binder.made(forecasts, table, small=short)
        seasons = list(range(2) if short else range(0, len(made.years), every))
        best = best or foreseen(made, seasons, seconds=1.0 if short else None)
        brought, took = lived(made, seasons, summers=20 if short else None)
        brought |= {"foresight, at the most": best.bound}
        print_worth(made, forecasts, brought)
        print_worst(made.years[seasons], brought)
        print_times(took | {"foresight": best.took})
        print_text(
            "The plans that foresight found bring within",
            f"{(best.bound - best.found).mean():.4f} of the most, on average.",
        )


def print_worth(made, forecasts, brought):
    """Mean worth by each way, and how far along the way to foresight it goes."""
    from parts.lived_harvests import share

    rows = []
    for name, worth in brought.items():
        each = share(brought, name)
        way = f"{each.share:.2f} ({each.low:.2f} to {each.high:.2f})"
        rows.append((name, f"{worth.mean():.4f}", way))
    title = f"{made.station}: {len(worth)} harvests, forecasts: {forecasts}"
    print_table(title, ("way", "mean worth", "share of foresight, 90 %"), rows)


def print_worst(years, brought):
    """The harvests in which foresight gained most over roll-outs."""
    names = tuple(brought)
    behind = brought[names[-1]] - brought["roll-outs"]
    worst = behind.argsort()[::-1][:WORST]
    rows = [
        (str(years[each]), *(f"{brought[name][each]:.3f}" for name in names))
        for each in worst
    ]
    print_table("Worst against foresight", ("harvest", *names), rows)


def print_times(took):
    """Processor time of one harvest by each way."""
    by = took["plain rules, all settings"]
    rows = [
        (name, milliseconds(seconds), times_as_long(seconds, by))
        for name, seconds in took.items()
    ]
    print_table("A harvest", ("way", "CPU ms", "beside plain rules"), rows)


if __name__ == "__main__":
    said = sys.argv[1:]
    named = [each for each in said if not each.startswith("--")]
    main("--short" in said, 1 if "--all" in said else EIGHTH, *named[:1])
