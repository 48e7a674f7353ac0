"""Times: medians of several runs, fresh processes, and how they are printed."""

import os
import statistics
import subprocess
import sys
import textwrap
import time
from typing import NamedTuple

from rich import box
from rich.console import Console
from rich.table import Table

WIDTH = 88


class Time(NamedTuple):
    """How long something took."""

    wall: float
    """By the clock on the wall. [s]"""
    cpu: float
    """That processors were busy with it. [s]"""


def median_time(work, times):
    """`Time` of a piece of work: medians of so many runs."""
    return _median([_timed(work, time.process_time) for _ in range(times)])


def median_process_time(command, times, env=None):
    """`Time` of a command in a process of its own: medians of so many runs."""

    def work():
        subprocess.run(command, capture_output=True, check=True, env=_with(env))

    return _median([_timed(work, _children_cpu) for _ in range(times)])


def said_by(code, env=None):
    """What a piece of Python prints, run in a process of its own."""
    command = [sys.executable, "-c", code]
    done = subprocess.run(
        command, capture_output=True, check=True, text=True, env=_with(env)
    )
    return done.stdout.strip()


def milliseconds(seconds):
    """A time as a table shows it."""
    return f"{1000 * seconds:,.3g}" if seconds < 1 else f"{1000 * seconds:,.0f}"


def times_as_long(seconds, of):
    """A ratio as a table shows it; none beside what the clock could not see."""
    if not of:
        return "–"
    return f"{seconds / of:,.2g} ×" if seconds < 10 * of else f"{seconds / of:,.0f} ×"


def print_table(title, heading, rows):
    """A table; every column but the first is set to the right."""
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
    for place, name in enumerate(heading):
        table.add_column(name, justify="right" if place else "left")
    for row in rows:
        table.add_row(*row)
    console = Console(highlight=False, markup=False, width=WIDTH)
    console.print(f"\n{title}")
    console.print(table)


def print_text(*sentences):
    """Sentences, one after another, in lines that fit."""
    print(textwrap.fill(" ".join(sentences), WIDTH))


def _timed(work, clock):
    wall, cpu = time.perf_counter(), clock()
    work()
    return Time(time.perf_counter() - wall, clock() - cpu)


def _median(times):
    return Time(*(statistics.median(column) for column in zip(*times, strict=True)))


def _children_cpu():
    spent = os.times()
    return spent.children_user + spent.children_system


def _with(env):
    return os.environ | (env or {})
