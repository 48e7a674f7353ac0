"""84 years of daily weather read, checked and bridged, beside pandas.read_csv."""

import csv
import sys
import tempfile
from pathlib import Path

import numpy as np
import pandas as pd
from parts.case import REAL
from parts.timing import (
    median_time,
    milliseconds,
    print_table,
    print_text,
    times_as_long,
)

from sheafwright.feeds import weather

TARGET = 0.5
"""84 years should be read in less. [s]"""
YEARS = ("1942-01-01", "2025-09-30")


def main(short, made):
    """Print the table; ``short`` to read once, ``made`` to read a made file anyway."""
    if REAL.exists() and not made:
        compare(REAL, "the service's own file", short)
        return
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "made.csv"
        write_made(path)
        compare(path, "a made file of the same layout", short)


def compare(path, kind, short):
    """Time both readers on one file."""
    times = 1 if short else 9
    record, frame = weather.read(path), by_pandas(path)
    check_same(record, frame)
    ours = median_time(lambda: weather.read(path), times)
    theirs = median_time(lambda: by_pandas(path), times)
    print_text(
        f"{record.days:,} days, {path.stat().st_size / 1e6:.1f} MB: {kind}.",
        "Both readers found the same rain.",
    )
    rows = [
        ("pandas.read_csv with its dates parsed", theirs),
        ("the engine: recognised, read, checked, bridged", ours),
    ]
    print_table(
        "Reading the file",
        ("reader", "wall ms", "CPU ms", "beside pandas"),
        [
            (name, *map(milliseconds, each), times_as_long(each.cpu, theirs.cpu))
            for name, each in rows
        ],
    )
    met = "met" if ours.cpu < TARGET else "missed"
    print_text(f"The target of {milliseconds(TARGET)} ms of CPU is {met}.")


def by_pandas(path):
    """The file as a data frame, as one would read it without thought for its traps."""
    frame = pd.read_csv(path, na_values=" ")
    frame["date"] = pd.to_datetime(frame["date"], format="%d-%b-%y")
    return frame


def check_same(record, frame):
    """Refuse to time readers that find different rain."""
    np.testing.assert_allclose(frame["rain"], record.values["rain"])


def write_made(path):
    """A file of as many days in the service's layout, its weather made by chance."""
    rng = np.random.default_rng(1)
    dates = pd.date_range(*YEARS)
    season = -np.cos(2 * np.pi * (dates.day_of_year.to_numpy() - 20) / 365.25)
    tmin = 6 + 4 * season + rng.normal(0, 2.5, len(dates))
    columns = {
        "date": dates.strftime("%d-%b-%y").str.lower(),
        "maxtp": tmin + rng.gamma(4, 1.8, len(dates)),
        "mintp": tmin,
        "gmin": tmin - 2,
        "rain": np.where(
            rng.random(len(dates)) < 0.5, 0.0, rng.gamma(0.6, 7, len(dates))
        ),
        "cbl": 1005 + rng.normal(0, 9, len(dates)),
        "wdsp": rng.gamma(6, 1.7, len(dates)),
        "hm": rng.gamma(6, 3, len(dates)),
        "ddhm": rng.integers(1, 36, len(dates)) * 10.0,
        "hg": rng.gamma(9, 3.5, len(dates)) + 15,
        "sun": rng.gamma(1.5, 2.5, len(dates)).clip(0, 7),
        "g_rad": 900 + 700 * season + rng.normal(0, 90, len(dates)),
        "soil": 9 + 5 * season + rng.normal(0, 0.8, len(dates)),
        "pe": 1.6 + 1.3 * season + rng.gamma(2, 0.2, len(dates)),
        "evap": 2.2 + 1.9 * season + rng.gamma(2, 0.3, len(dates)),
    }
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(columns)
        for row in zip(*columns.values(), strict=True):
            writer.writerow([row[0], *(f"{cell:.1f}" for cell in row[1:])])


if __name__ == "__main__":
    main(short="--short" in sys.argv[1:], made="--made" in sys.argv[1:])
