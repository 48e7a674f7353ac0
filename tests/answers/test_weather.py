"""The report on a weather record: its sentence, its JSON, and what it is fit for."""

import gzip
import json
from importlib import resources
from pathlib import Path

import jsonschema
import pytest

from sheafwright.answers import weather
from sheafwright.feeds.weather.checks import CHECKS
from sheafwright.feeds.weather.variables import VARIABLES

SCHEMA = json.loads((Path(__file__).parent / "schemas/weather.json").read_text("utf-8"))
DEMO = resources.files("sheafwright") / "data/demo"
LINES = gzip.decompress((DEMO / "weather.csv.gz").read_bytes()).decode().splitlines()
REAL = Path(__file__).parents[2] / "../shared/data/weather"


def valid(report):
    """The report's JSON, which follows the schema to the letter."""
    said = json.loads(json.dumps(report.to_json(), allow_nan=False))
    jsonschema.Draft202012Validator(SCHEMA).validate(said)
    return said


@pytest.fixture
def report(tmp_path):
    def report(lines):
        path = tmp_path / "marl.csv"
        path.write_text("\n".join(lines), encoding="utf-8")
        return weather.weather_report(path)

    return report


def lines_of(first, last):
    return [LINES[0], *(line for line in LINES[1:] if first <= line[:10] <= last)]


def test_the_demo_record_is_fit_for_the_whole_season():
    said = valid(weather.weather_report(DEMO / "weather.csv.gz", DEMO / "columns.toml"))
    assert said["station"] == "Marl Hollow"
    assert {"stages", "stooks", "futures", "lodging"} <= set(said["fit_for"])
    assert said["present"]["rain_mm"] == 1
    assert said["sentence"].startswith("Marl Hollow: 11,323 days from 1 January 1995")


def test_a_dozen_years_give_odds_but_no_futures(report):
    said = valid(report(lines_of("1995", "2007")))
    assert said["seasons"] == 11
    assert {"stages", "stooks"} <= set(said["fit_for"])
    assert "futures" not in said["fit_for"]


def test_a_short_record_is_fit_for_nothing(report):
    said = valid(report(lines_of("2001", "2001-06")))
    assert said["fit_for"] == []
    assert "not good enough for any of our answers" in said["sentence"]


def test_a_long_gap_is_listed_with_the_season_it_spoils(report):
    lines = [line for line in LINES if not line.startswith("2003-07")]
    said = valid(report(lines))
    gap = {"first": "2003-07-01", "last": "2003-07-31", "days": 31, "filled": False}
    assert gap | {"variable": "rain_mm"} in said["gaps"]
    spoiled = {
        (each["harvest_year"], each["variable"]) for each in said["seasons_refused"]
    }
    assert spoiled == {(2003, "rain_mm"), (2003, "tmin_c"), (2003, "tmax_c")}


def test_a_short_gap_is_filled_by_a_named_method(report):
    lines = [line for line in LINES if line[:10] != "2004-02-29"]
    said = valid(report(lines))
    assert said["filled"]["tmin_c"]["days"] == 1
    assert said["filled"]["tmin_c"]["method"] == weather.METHOD
    assert "rain_mm" not in said["filled"]
    (leap_day,) = [each for each in said["suspect"] if each["check"] == "missing_days"]
    assert leap_day["date"] == "2004-02-29"


def test_an_impossible_value_is_told_and_counted_in_the_sentence(report):
    wet = LINES[200].split(",")
    wet[LINES[0].split(",").index("rain_mm")] = "-3"
    said = valid(report([*LINES[:200], ",".join(wet), *LINES[201:]]))
    (suspect,) = [each for each in said["suspect"] if each["check"] == "range"]
    assert (suspect["variable"], suspect["value"]) == ("rain_mm", -3)
    assert (suspect["date"], suspect["refused"]) == (wet[0], True)
    assert "1 value left out as impossible" in said["sentence"]


def test_very_many_suspects_are_counted_and_the_first_shown(report):
    said = valid(report([LINES[0], *LINES[1:3000:2]]))
    assert said["suspect_total"] > 1000
    assert len(said["suspect"]) == weather.MOST_OF_A_CHECK
    assert said["gaps_total"] > len(said["gaps"]) == weather.MOST_GAPS


def test_the_schema_knows_every_variable_check_and_fitness():
    variables = {each.outside for each in VARIABLES.values()}
    assert variables == set(SCHEMA["$defs"]["variable"]["enum"])
    suspect = SCHEMA["properties"]["suspect"]["items"]["properties"]
    # Fahrenheit refuses the whole file, so no suspect ever bears its name.
    checks = {check.name for check in CHECKS} - {"fahrenheit"}
    assert checks <= set(suspect["check"]["enum"])
    assert set(SCHEMA["properties"]["fit_for"]["items"]["enum"]) == set(weather.FITNESS)


@pytest.mark.parametrize(
    ("name", "fit", "unfit"),
    [
        ("dly532.csv", {"stages", "stooks", "futures", "lodging"}, {"humidity"}),
        ("dly518.csv.gz", {"stages", "stooks", "futures", "lodging"}, {"humidity"}),
        ("etmgeg_260_1980-2019.txt.gz", set(weather.FITNESS), set()),
    ],
)
def test_the_services_own_records_are_fit_for_what_they_measure(name, fit, unfit):
    if not (REAL / name).exists():
        pytest.skip(f"needs ../shared/data/weather/{name}")
    said = valid(weather.weather_report(REAL / name))
    assert set(said["fit_for"]) >= fit
    assert not set(said["fit_for"]) & unfit
