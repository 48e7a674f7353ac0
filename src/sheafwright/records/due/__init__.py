"""What is asked beside the pages: a module an answer, each giving what is `Due`."""

import dataclasses
import functools
import hashlib
import json
from collections.abc import Callable
from importlib import resources

from sheafwright import __version__
from sheafwright.feeds.telling import mark
from sheafwright.records.models import GaugeReading

SEED = 1


@dataclasses.dataclass(frozen=True)
class Due:
    """An answer to work out."""

    question: str
    subject: object
    """A sowing, a stook set, or the weather record."""
    asks: dict
    """What it rests on, as JSON."""
    answer: Callable
    """From the folder for its files to the answer, and what draws its chart, if any."""
    found_by_inputs: bool = False
    """Whether pages look for just this answer; else they show the last kept."""

    def inputs_sha256(self):
        return sha256_of(self.asks)


def sha256_of(asks):
    said = json.dumps(asks, sort_keys=True, default=str)
    return hashlib.sha256(said.encode()).hexdigest()


def common_asks(holding, source):
    """What every answer of a holding rests on."""
    files = (source.record, source.columns, source.forecast)
    return {
        "files": [_file_sha256(file) for file in files if file],
        "tables": tables_sha256(),
        "engine": __version__,
        "seed": SEED,
        "as_of": holding.looked_at_as_of,
        "latitude_deg": holding.latitude_deg,
        "altitude_m": holding.altitude_m,
        "gauge": list(
            GaugeReading.objects.filter(holding=holding).values_list(
                "date", "rain_mm", "tmin_c", "tmax_c"
            )
        ),
    }


def of_all_seasons(source, common):
    """What of it an answer rests on that is the same whatever the day is."""
    kept = "tables", "engine", "latitude_deg", "altitude_m"
    # The forecast comes after the record and its columns.
    files = common["files"][: 2 if source.columns else 1]
    return {name: common[name] for name in kept} | {"files": files}


def _file_sha256(file):
    with file.open("rb") as opened:
        return hashlib.file_digest(opened, "sha256").hexdigest()


@functools.cache
def tables_sha256():
    """One hash of every table of parameters shipped."""
    folder = resources.files("sheafwright") / "data"
    tables = sorted(
        (each.name, each) for each in folder.iterdir() if each.name.endswith(".toml")
    )
    text = "".join(name + each.read_text("utf-8") for name, each in tables)
    return hashlib.sha256(text.encode()).hexdigest()


def files(holding, source, gauge, folder):
    """The parts of a question that say which weather it rests on."""
    from sheafwright.feeds.forecast.read import read

    return {
        "weather": source.record.path,
        "columns": source.columns.path if source.columns else None,
        "forecast": read(source.forecast.path) if source.forecast else None,
        "latitude": holding.latitude_deg,
        "altitude": holding.altitude_m,
        "as_of": holding.looked_at_as_of,
        "own_readings": csv(
            folder / mark("Your own gauge and thermometer"),
            ("date", "rain_mm", "tmin_c", "tmax_c"),
            gauge,
        ),
    }


def csv(path, heading, rows):
    """The path of a file of the rows that the engine reads; None without any."""
    if not rows:
        return None
    lines = [heading, *(("" if x is None else str(x) for x in row) for row in rows)]
    path.write_text("\n".join(",".join(line) for line in lines) + "\n", "utf-8")
    return str(path)
