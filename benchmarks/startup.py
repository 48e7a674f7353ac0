"""What an answer waits for before any work: start, imports, first calls, compiling."""

import sys
from pathlib import Path

from parts.case import DEMO
from parts.compiling import compiled_starts, start
from parts.timing import (
    median_process_time,
    milliseconds,
    print_table,
    print_text,
    said_by,
    times_as_long,
)

SHEAFWRIGHT = str(Path(sys.executable).with_name("sheafwright"))
DEMO_WEATHER = [str(DEMO / "weather.csv.gz"), "--columns", str(DEMO / "columns.toml")]
ASKED = ["--weather", *DEMO_WEATHER, "--sown", "2023-10-10", "--as-of", "2024-08-05"]
COMMANDS = {
    "python, doing nothing": [sys.executable, "-c", ""],
    "sheafwright --help": [SHEAFWRIGHT, "--help"],
    "sheafwright weather, the demo's": [SHEAFWRIGHT, "weather", *DEMO_WEATHER],
    "sheafwright cut --json, the demo's": [SHEAFWRIGHT, "cut", *ASKED, "--json"],
}
IMPORTS = {
    "NumPy": ("sys", "numpy"),
    "scipy.special, after NumPy": ("numpy", "scipy.special"),
    "pandas, after NumPy": ("numpy", "pandas"),
    "Numba, after NumPy": ("numpy", "numba"),
}
IMPORT = """
import time, {before}
began = time.process_time()
import {name}
print(time.process_time() - began)
"""
STEPS = {
    "imported": "import it",
    "first_draw": "first draw of two summers",
    "second_draw": "second draw",
    "first_stand": "first stooks of two cutting days",
    "second_stand": "second stooks",
    "total": "what the first answer waits for",
}


def main(short):
    """Print the tables; ``short`` to run everything once."""
    times = 1 if short else 5
    print_commands(times)
    print_imports(times)
    print_first_calls()


def print_commands(times):
    """Whole commands in processes of their own."""
    took = {name: median_process_time(each, times) for name, each in COMMANDS.items()}
    bare = took["python, doing nothing"].cpu
    rows = [
        (name, *map(milliseconds, each), times_as_long(each.cpu, bare))
        for name, each in took.items()
    ]
    print_table(
        "Commands, each a new process",
        ("command", "wall ms", "CPU ms", "beside bare Python"),
        rows,
    )


def print_imports(times):
    """What each heavy part costs to import."""
    spent = {
        name: sorted(_import_time(*each) for _ in range(times))[times // 2]
        for name, each in IMPORTS.items()
    }
    rows = [
        (name, milliseconds(each), times_as_long(each, spent["NumPy"]))
        for name, each in spent.items()
    ]
    print_table("Imports", ("package", "CPU ms", "beside NumPy's"), rows)


def print_first_calls():
    """The first and the second call of both steps of the ensemble."""
    empty, warm = compiled_starts()
    starts = (start("engine"), empty, warm)
    rows = [
        (name, *(milliseconds(getattr(each, step)) for each in starts))
        for step, name in STEPS.items()
    ]
    print_table(
        "First calls in a new process, CPU ms",
        ("step", "engine", "Numba, empty cache", "Numba, warm cache"),
        rows,
    )
    print_text(
        "The engine has nothing to compile. Numba takes",
        f"{times_as_long(empty.total, warm.total)} as long to compile both steps as to",
        "load them from its cache.",
    )


def _import_time(before, name):
    return float(said_by(IMPORT.format(before=before, name=name)))


if __name__ == "__main__":
    main("--short" in sys.argv[1:])
