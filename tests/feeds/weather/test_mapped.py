"""Any CSV through a columns file, and a CSV that carries our own names."""

import datetime
from importlib import resources

import numpy as np
import pytest

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds import weather

CSV = """Ann's notes;;;;
Day;Low;High;Gauge;Wind
28/2/2024;32;50;0.1;10
29/2/2024;41;59;NA;20
1/3/2024;23;41;0.2;30
"""
COLUMNS = """
station = "Long Meadow"
latitude_deg = 52.1
delimiter = ";"
missing = ["NA"]
date = { column = "Day", format = "%d/%m/%Y" }

[columns]
tmin = { column = "Low", unit = "degF" }
tmax = { column = "High", unit = "degF" }
rain = { column = "Gauge", unit = "inch" }
wind = { column = "Wind", unit = "mph" }
"""


@pytest.fixture
def read(file):
    def read(csv=CSV, columns=COLUMNS):
        return weather.read(file(csv, "ann.csv"), file(columns, "ann.toml"))

    return read


def test_fahrenheit_inches_and_miles_become_ours(read):
    values = read().values
    np.testing.assert_allclose(values["tmin"], [0, 5, -5], atol=1e-12)
    np.testing.assert_allclose(values["rain"], [2.54, np.nan, 5.08])
    np.testing.assert_allclose(values["wind"], [4.4704, 8.9408, 13.4112])


def test_the_station_and_its_place_come_from_the_columns_file(read):
    record = read()
    assert (record.station, record.latitude) == ("Long Meadow", 52.1)
    assert record.last == datetime.date(2024, 3, 1)


UNITS = {
    ("tmin", "K", 283.15): 10,
    ("wind", "km/h", 36): 10,
    ("wind", "knots", 10): 5.14444,
    ("sunshine", "min", 90): 1.5,
    ("radiation", "W/m2", 100): 8.64,
    ("pressure", "kPa", 101.3): 1013,
    ("pressure", "inHg", 30): 1015.92,
    ("humidity", "%", 65): 0.65,
}


@pytest.mark.parametrize(("given", "ours"), UNITS.items(), ids=str)
def test_each_declared_unit_becomes_ours(read, given, ours):
    name, unit, number = given
    columns = f"""date = {{ column = "d", format = "%Y-%m-%d" }}
    [columns]
    {name} = {{ column = "x", unit = "{unit}" }}"""
    record = read(f"d,x\n2024-02-29,{number}\n", columns)
    assert record.values[name][0] == pytest.approx(ours, rel=1e-5)


DATES = {"%d-%b-%y": "29-Feb-24", "%m/%d/%Y": "2/29/2024", "%Y%m%d": "20240229"}


@pytest.mark.parametrize(("date_format", "date"), DATES.items())
def test_each_way_of_writing_a_date_is_read(read, date_format, date):
    csv = CSV.splitlines()
    csv = "\n".join([*csv[:2], f"{date};40;50;0;5"])
    record = read(csv, COLUMNS.replace("%d/%m/%Y", date_format))
    assert record.first == datetime.date(2024, 2, 29)


REFUSED = {
    COLUMNS.replace(
        "degF", "degR"
    ): "tmin can't be in 'degR'; it should be one of degC",
    COLUMNS.replace("tmin", "cold"): "'cold' is not a name of ours",
    COLUMNS.replace("%d/%m/%Y", "%d/%m"): "should have a day, a month and a year",
    COLUMNS.replace('"Low"', '"Lowest"'): "no heading names the column 'Lowest'",
    COLUMNS.replace('"Low"', '"High"'): "'High' should be one variable, not two",
    COLUMNS.replace(', unit = "inch"', ""): "rain should be { column",
    COLUMNS.replace("52.1", '"52 N"'): "latitude_deg should be a number",
    COLUMNS.replace("52.1", "true"): "latitude_deg should be a number",
    COLUMNS.replace("52.1", "9" * 400): "latitude_deg should be a number",
    COLUMNS.replace("52.1", "9" * 5000): "this is not TOML",
    COLUMNS.replace("52.1", "[" * 5000): "this is not TOML",
    COLUMNS.replace("52.1", "nan"): "latitude_deg should be a number",
    COLUMNS.replace("52.1", "91"): "latitude 91 should lie from -90 to 90",
    COLUMNS.replace('["NA"]', '"NA"'): "missing should be a list",
    COLUMNS.replace('";"', '";;"'): "delimiter should be one character",
    COLUMNS.replace("station", "place"): "it has 'place'; it may have station",
    COLUMNS.split("[columns]")[0]: "a section .columns. should say",
    "station = ": "this is not TOML",
}


@pytest.mark.parametrize(("columns", "words"), REFUSED.items(), ids=REFUSED.values())
def test_a_columns_file_that_cannot_be_used_is_refused_in_words(read, columns, words):
    with pytest.raises(UnreadableInput, match=words):
        read(columns=columns)


def test_two_columns_of_one_name_are_refused(read):
    with pytest.raises(UnreadableInput, match="two columns are named 'Low'"):
        read(CSV.replace("Wind", "Low"), COLUMNS.split("wind")[0])


def test_a_word_after_a_code_for_missing_is_the_one_named(read):
    with pytest.raises(UnreadableInput, match="line 5: Gauge 'much' should be"):
        read(CSV.replace(";0.2;", ";much;"))


def test_a_csv_with_our_own_names_needs_no_columns_file(file):
    record = weather.read(file("date,rain_mm,tmin_c\n2024-02-29,3.5,\n", "marl.csv"))
    assert (record.station, list(record.values)) == ("marl", ["rain"])
    assert record.values["rain"] == [3.5]


def test_a_name_beside_our_own_is_refused(file):
    with pytest.raises(UnreadableInput, match="tmin is no column of ours"):
        weather.read(file("date,rain_mm,tmin\n2024-02-29,3.5,4\n"))


def test_the_demo_record_reads_the_same_either_way():
    demo = resources.files("sheafwright") / "data/demo"
    plain = weather.read(demo / "weather.csv.gz")
    mapped = weather.read(demo / "weather.csv.gz", demo / "columns.toml")
    assert mapped.latitude == pytest.approx(52.4)
    assert plain.values.keys() == mapped.values.keys()
    for name, values in plain.values.items():
        np.testing.assert_array_equal(values, mapped.values[name])
