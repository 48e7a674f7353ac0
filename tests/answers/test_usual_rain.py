"""What rains in a usual year, of records that tests write and of the demo's."""

import csv
import datetime
import gzip
import json
import random
from pathlib import Path

import jsonschema
import pytest

from sheafwright.answers.usual_rain import usual_rain
from sheafwright.core.errors import NotEnoughWeather
from sheafwright.feeds.holding import demo_holding

SCHEMA = Path(__file__).parent / "schemas" / "usual_rain.json"


def record(path, first, last, missing=lambda day: False):
    """A record of showers; its path, and what fell on each day."""
    luck = random.Random(7)
    days = [first + datetime.timedelta(day) for day in range((last - first).days + 1)]
    fell = {day: luck.choice((0, 0, 0.2, 1.4, 3.1, 8.8)) for day in days}
    lines = ["date,tmin_c,tmax_c,rain_mm"]
    for day, mm in fell.items():
        tmin, rise = round(luck.gauss(5, 3), 1), round(luck.uniform(4, 12), 1)
        lines.append(f"{day},{tmin},{tmin + rise:.1f},{'' if missing(day) else mm}")
    path.write_text("\n".join(lines))
    return path, fell


def by_the_year(fell):
    return sum(fell) / len(fell) * 365.25


@pytest.fixture
def file(tmp_path):
    return tmp_path / "record.csv"


def test_the_mean_of_the_years_is_what_is_usual(file):
    first, last = datetime.date(2000, 1, 1), datetime.date(2011, 12, 31)
    path, fell = record(file, first, last)
    answer = usual_rain(path)
    assert answer.usual == pytest.approx(by_the_year(fell.values()), rel=0.001)
    assert answer.sentence == f"{answer.usual:.0f} mm of rain fall in a usual year."


def test_days_missing_make_no_year_drier(file):
    def in_july(day):
        return day.month == 7 and day.day < 20

    first, last = datetime.date(2000, 1, 1), datetime.date(2011, 12, 31)
    path, fell = record(file, first, last, missing=in_july)
    told = [mm for day, mm in fell.items() if not in_july(day)]
    assert usual_rain(path).usual == pytest.approx(by_the_year(told), rel=0.005)


def test_a_year_begun_is_no_year(file):
    path, fell = record(file, datetime.date(2000, 1, 1), datetime.date(2010, 2, 28))
    whole = [mm for day, mm in fell.items() if day.year < 2010]
    answer = usual_rain(path)
    assert answer.years.tolist() == list(range(2000, 2010))
    assert answer.usual == pytest.approx(by_the_year(whole), rel=0.001)


def test_what_fell_later_than_asked_changes_nothing(file):
    path, fell = record(file, datetime.date(1999, 1, 1), datetime.date(2012, 12, 31))
    until = datetime.date(2009, 12, 31)
    upto = [mm for day, mm in fell.items() if day <= until]
    answer = usual_rain(path, until=until)
    assert answer.usual == pytest.approx(by_the_year(upto), rel=0.001)


def test_few_years_are_refused(file):
    path, _fell = record(file, datetime.date(2000, 1, 1), datetime.date(2004, 12, 31))
    with pytest.raises(NotEnoughWeather, match="5 years with the rain of 90% of days"):
        usual_rain(path)


def test_the_demos_is_what_its_file_adds_up_to():
    demo = demo_holding()
    with gzip.open(demo.weather, "rt") as file:
        fell = [(r["date"][:4], float(r["rain_mm"])) for r in csv.DictReader(file)]
    whole = [mm for year, mm in fell if int(year) < demo.as_of.year]
    said = usual_rain(demo.weather, demo.columns, demo.as_of).to_json()
    said = json.loads(json.dumps(said, allow_nan=False))
    jsonschema.Draft202012Validator(json.loads(SCHEMA.read_text())).validate(said)
    assert said["rain_mm_per_year"] == pytest.approx(by_the_year(whole), rel=0.001)
