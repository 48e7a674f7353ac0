"""The services' own files, where they lie beside the repository."""

import datetime
import functools
from pathlib import Path

import numpy as np
import pytest
from vega_datasets import local_data

from sheafwright.feeds import weather

FOLDER = Path(__file__).parents[3] / "../shared/data/weather"
KNOT = 1852 / 3600

SPANS = {
    "dly532.csv": ("dly532", "1942-01-01", "2025-09-30", 30_589),
    "dly518.csv.gz": ("Shannon Airport", "1945-09-01", "2025-05-31", 29_128),
    "dly3613.csv.gz": ("Kilkenny", "1957-06-01", "2008-04-08", 18_575),
    "etmgeg_260.txt": ("station 260", "2000-01-01", "2022-03-21", 8_116),
    "etmgeg_260_1980-2019.txt.gz": ("station 260", "1980-01-01", "2019-12-31", 14_610),
}
# Read off the files by eye.
SPOTS = {
    ("dly532.csv", "1942-01-01"): {"tmax": 9.7, "rain": 0, "wind": 17.2 * KNOT},
    ("dly532.csv", "2025-09-30"): {"tmin": 12.4, "radiation": 7.65, "gust": 19 * KNOT},
    ("dly518.csv.gz", "1945-09-09"): {"rain": 4.2, "sunshine": 1.0, "pe": 1.5},
    ("dly3613.csv.gz", "1957-06-08"): {"rain": 17.9, "soil_temperature": 15.0},
    ("etmgeg_260.txt", "2000-01-02"): {"tmean": 7.3, "rain": 0, "humidity": 0.97},
    ("etmgeg_260_1980-2019.txt.gz", "1980-01-04"): {"gust": 11.8, "rain": 9.1},
}


@functools.cache
def examined(name):
    path = FOLDER / name
    if not path.exists():
        pytest.skip(f"needs ../shared/data/weather/{name}")
    return weather.examine(path)


@pytest.mark.parametrize("name", SPANS)
def test_station_and_span_are_those_of_the_file(name):
    record = examined(name).record
    got = record.station, str(record.first), str(record.last), record.days
    assert got == SPANS[name]


@pytest.mark.parametrize(("name", "day"), SPOTS)
def test_values_are_those_of_the_file(name, day):
    record = examined(name).record
    at = (datetime.date.fromisoformat(day) - record.first).days
    got = {each: record.values[each][at] for each in SPOTS[name, day]}
    assert got == pytest.approx(SPOTS[name, day], abs=1e-9)


def test_the_preamble_gives_shannons_place():
    record = examined("dly518.csv.gz").record
    place = record.latitude, record.longitude, record.altitude
    assert place == (52.69, -8.918, 15.0)


def test_a_windless_june_at_dublin_is_a_stuck_instrument():
    (stuck,) = examined("dly532.csv").suspects
    assert (stuck.check, stuck.variable, stuck.days) == ("stuck", "wind", 30)
    assert stuck.first == datetime.date(1957, 6, 1)


def test_kilkennys_impossible_pressures_are_left_out():
    found = examined("dly3613.csv.gz")
    wrong = [each for each in found.suspects if each.variable == "pressure"]
    assert [each.check for each in wrong] == ["range"] * 5 + ["season"]
    assert np.nanmin(found.record.values["pressure"]) > 950


def test_de_bilts_traces_of_rain_are_no_gaps():
    record = examined("etmgeg_260.txt").record
    assert not np.isnan(record.values["rain"]).any()
    assert record.values["rain"].min() == 0


def test_pressure_at_dublin_and_de_bilt_lies_round_the_worlds_mean():
    for name in ("dly518.csv.gz", "dly3613.csv.gz", "etmgeg_260.txt"):
        assert np.nanmean(examined(name).record.values["pressure"]) == pytest.approx(
            1014, abs=2
        )


def test_seattles_csv_is_read_through_a_columns_file(file):
    columns = file(
        """station = "Seattle"
        date = { column = "date", format = "%Y/%m/%d" }
        [columns]
        rain = { column = "precipitation", unit = "mm" }
        tmax = { column = "temp_max", unit = "degC" }
        tmin = { column = "temp_min", unit = "degC" }
        wind = { column = "wind", unit = "m/s" }
        """,
        "seattle.toml",
    )
    record = weather.read(local_data.seattle_weather.filepath, columns)
    assert (str(record.first), str(record.last)) == ("2012-01-01", "2015-12-31")
    assert record.values["rain"][1] == 10.9
    assert record.values["tmin"][1] == 2.8
