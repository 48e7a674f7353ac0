"""What each check marks, leaves out or refuses, on the shipped demo record."""

import dataclasses
import json

import numpy as np
import pytest

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds.telling import (
    Reader,
    Telling,
    again,
    packed,
    read_by,
    refusal,
)
from sheafwright.feeds.weather import checks
from sheafwright.feeds.weather.reading import Reading, on_calendar, rows_as_series
from sheafwright.feeds.weather.text import Text
from sheafwright.feeds.weather.variables import VARIABLES

TEXT = Text("ann.csv", [])
LIMITS = checks.shipped_checks()
DAYS = np.arange("2000-01-01", "2012-01-01", dtype="datetime64[D]")


def usual():
    """Twelve invented years: warm summers, cold winters, rain on half of the days."""
    rng = np.random.default_rng(1)
    tmin = 6 - 5 * np.cos(np.arange(len(DAYS)) * 2 * np.pi / 365.25)
    tmin = np.round(tmin + rng.normal(0, 2, len(DAYS)), 1)
    rain = np.round(rng.gamma(0.8, 5, len(DAYS)) * (rng.random(len(DAYS)) < 0.5), 1)
    return {
        "tmin": tmin,
        "tmax": np.round(tmin + rng.uniform(4, 12, len(DAYS)), 1),
        "rain": rain,
        "wind": np.round(rng.gamma(4, 1, len(DAYS)), 1) + 0.1,
    }


def check(values):
    days = DAYS[: len(values["rain"])]
    reading = Reading("Long Meadow", "by hand", rows_as_series(days, values))
    record, _ = on_calendar(reading, TEXT)
    return checks.check(record, LIMITS, TEXT)


def told(values):
    return {
        (each.check, each.variable, str(each.first), each.days, each.refused)
        for each in check(values)[1]
    }


def test_nothing_is_wrong_with_usual_weather():
    assert told(usual()) == set()


def altered(name, day, *values):
    weather = usual()
    at = int((np.datetime64(day) - DAYS[0]).astype(int))
    weather[name][at : at + len(values)] = values
    return weather


def test_what_is_said_of_a_value_is_told_in_any_language():
    _, (found,) = check(altered("tmin", "2003-05-05", -75))
    assert found.says == "Outside -60 to 40."
    german = {
        "Outside {lowest:g} to {highest:g}.": "Nicht in {lowest:g} .. {highest:g}"
    }
    with read_by(Reader(gettext=lambda words: german.get(words, words))):
        assert again(found.says) == "Nicht in -60 .. 40"


def test_a_refused_column_can_be_kept_and_told_again():
    weather = usual()
    weather["tmax"] = weather["tmax"] * 1.8 + 60
    with pytest.raises(UnreadableInput) as refused:
        check(weather)
    kept = json.loads(json.dumps(packed(refusal(refused.value))), cls=Telling)
    assert kept == str(refused.value)
    assert "looks like degrees Fahrenheit" in kept


@pytest.mark.parametrize(
    ("name", "value"), [("tmin", -75), ("tmax", 61), ("rain", -0.1), ("rain", 999)]
)
def test_an_impossible_value_is_left_out(name, value):
    record, _ = check(altered(name, "2005-08-01", value))
    assert np.isnan(record.values[name]).sum() == 1
    wrong = ("range", name, "2005-08-01", 1, True)
    assert told(altered(name, "2005-08-01", value)) == {wrong}


def test_a_night_above_its_day_leaves_both_out():
    weather = altered("tmin", "2005-08-01", 21.0) | {}
    weather["tmax"] = altered("tmax", "2005-08-01", 12.0)["tmax"]
    assert told(weather) == {
        ("order", "tmin", "2005-08-01", 1, True),
        ("order", "tmax", "2005-08-01", 1, True),
    }


def test_a_stuck_instrument_is_left_out_from_its_first_day():
    assert told(altered("wind", "2005-08-01", *[3.3] * 10)) == {
        ("stuck", "wind", "2005-08-01", 10, True)
    }
    assert told(altered("wind", "2005-08-01", *[3.3] * 9)) == set()


def test_a_long_drought_is_not_a_stuck_gauge():
    found = told(altered("rain", "2005-08-01", *[0.0] * 30))
    assert "stuck" not in {check for check, *_ in found}


def test_a_spell_in_fahrenheit_is_left_out():
    weather = usual()
    winter = slice(1827, 1827 + 59)
    for name in ("tmin", "tmax"):
        weather[name][winter] = weather[name][winter] * 1.8 + 32
    record, found = check(weather)
    assert np.isnan(record.values["tmin"][winter]).all()
    assert np.isnan(record.values["tmax"][winter]).all()
    assert "season" in {each.check for each in found}


def first_years(values):
    """Too few years to know what is usual in a month."""
    return {name: each[:1827] for name, each in values.items()}


def test_a_day_that_leaps_and_comes_back_is_left_out():
    assert told(first_years(altered("tmax", "2003-01-10", 40.0))) == {
        ("spike", "tmax", "2003-01-10", 1, True)
    }


def test_a_leap_that_stays_is_told_and_kept():
    jump = ("jump", "tmax", "2003-01-10", 1, False)
    weather = altered("tmax", "2003-01-10", 40.0, 39.0, 28.0, 18.0)
    assert jump in told(first_years(weather))


def test_a_year_that_is_another_again_is_left_out():
    weather = usual()
    years = DAYS.astype("datetime64[Y]").astype(int) + 1970
    # Only the later year is a leap year.
    weather["rain"][years == 2008] = np.append(weather["rain"][years == 2007], 0.0)
    later = weather["rain"][years == 2008]
    later[60:] = weather["rain"][years == 2007][59:]
    weather["rain"][years == 2008] = later
    assert told(weather) == {("repeated_year", "rain", "2008-01-01", 366, True)}


def test_a_month_of_too_much_rain_is_told_with_its_total():
    found = check(altered("rain", "2005-08-01", *[40.0, 30.0] * 15))[1]
    (month,) = [each for each in found if each.check == "month_rain"]
    assert (str(month.first), month.days, month.refused) == ("2005-08-01", 31, False)
    assert month.value > 1000


def test_a_rainless_month_where_it_always_rains_is_told():
    rainless = ("month_rain", "rain", "2005-08-01", 31, False)
    assert rainless in told(altered("rain", "2005-08-01", *[0.0] * 31))


def test_a_month_with_a_missing_day_is_not_judged():
    weather = altered("rain", "2005-08-01", *[40.0, 30.0] * 15)
    weather["rain"][np.datetime64("2005-08-31") == DAYS] = np.nan
    assert told(weather) == set()


def test_rain_in_inches_is_told():
    inches = usual()
    inches["rain"] = np.round(inches["rain"] / 25.4, 2)
    assert ("year_rain", "rain", "2000-01-01", len(DAYS), False) in told(inches)


def test_rain_that_never_falls_was_not_measured():
    dry = usual() | {"rain": np.zeros(len(DAYS))}
    assert "rain" not in check(dry)[0].values
    assert told(dry) == {("dry_share", "rain", "2000-01-01", len(DAYS), True)}


def swapped(one, other):
    weather = usual()
    return weather | {one: weather[other], other: weather[one]}


def fahrenheit():
    weather = usual()
    return weather | {n: weather[n] * 1.8 + 32 for n in ("tmin", "tmax")}


REFUSED = {
    "looks like degrees Fahrenheit": fahrenheit(),
    "tmin_c is above tmax_c on": swapped("tmin", "tmax"),
    "rain_mm is impossible on": swapped("rain", "tmin"),
    "rain_mm is above zero on 100%": swapped("rain", "wind"),
    "tmin_c is above tmax_c on .* swapped": swapped("tmax", "rain"),
}


@pytest.mark.parametrize(("words", "values"), REFUSED.items(), ids=REFUSED)
def test_a_column_wrong_as_a_whole_refuses_the_file(words, values):
    with pytest.raises(UnreadableInput, match=rf"ann.csv: .*{words}"):
        check(values)


def test_one_slip_in_a_short_record_condemns_no_column():
    short = {name: values[:12].copy() for name, values in usual().items()}
    short["rain"][5] = -1
    reading = Reading("Long Meadow", "by hand", rows_as_series(DAYS[:12], short))
    record, found = checks.check(on_calendar(reading, TEXT)[0], LIMITS, TEXT)
    assert [each.check for each in found] == ["range"]
    assert record.days == 12


def test_a_record_without_one_possible_value_is_refused():
    reading = Reading(
        "Ann", "by hand", rows_as_series(DAYS[:1], {"rain": np.array([-1.0])})
    )
    with pytest.raises(UnreadableInput, match="holds no value that can be used"):
        checks.check(on_calendar(reading, TEXT)[0], LIMITS, TEXT)


def test_every_variable_has_its_range():
    fields = {field.name for field in dataclasses.fields(LIMITS.range)}
    assert fields == set(VARIABLES)
