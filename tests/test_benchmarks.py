"""Every benchmark runs, in its short form, and sets its times side by side.

No test asks how long anything took: that is for the benchmarks to say.
"""

import re
import subprocess
import sys
from pathlib import Path

import pytest

BENCHMARKS = sorted((Path(__file__).parents[1] / "benchmarks").glob("*.py"))
LONG = "many_fields", "money", "pages", "straw"
"""Those that even in their short form serve a book, measure photographs, or live
through harvests: all of which has tests of its own."""


def said(script, *options):
    command = [sys.executable, str(script), "--short", *options]
    done = subprocess.run(command, capture_output=True, text=True, encoding="utf-8")
    assert done.returncode == 0, done.stderr
    return done.stdout


def scripts():
    for each in BENCHMARKS:
        marks = pytest.mark.prove if each.stem in LONG else ()
        yield pytest.param(each, id=each.stem, marks=marks)


@pytest.mark.parametrize("script", list(scripts()))
def test_a_benchmark_prints_its_ratios_side_by_side(script):
    ratios = re.findall(r"[\d,.]+ ×", said(script))
    assert "1 ×" in ratios
    assert len(set(ratios)) > 1


def test_reading_is_timed_where_there_is_no_file_of_the_service_too():
    parse = next(script for script in BENCHMARKS if script.stem == "parse")
    assert "a made file of the same layout" in said(parse, "--made")
