"""EPW's hours made daily; pvlib reads the same invented file as a second opinion."""

import csv
import datetime
from pathlib import Path

import numpy as np
import pvlib
import pytest
from pvlib.iotools import read_epw

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds import weather

HEADING = """LOCATION,Marl Hollow,-,XXX,invented,000000,52.40,-8.10,0.0,85.0
DESIGN CONDITIONS,0
TYPICAL/EXTREME PERIODS,0
GROUND TEMPERATURES,0
HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0
COMMENTS 1,invented
COMMENTS 2,invented
DATA PERIODS,1,1,Data,Sunday,1/1,12/31
"""


def an_hour(year, month, day, hour, temperature, rain):
    sun = 100 if 9 <= hour <= 16 else 0
    return (
        f"{year},{month},{day},{hour},60,?,{temperature:.1f},3.0,{50 + hour},101300,"
        f"0,0,300,{sun},0,0,0,0,0,0,270,{hour / 4},5,5,20,20000,9,999999999,10,0.1,0,"
        f"88,0.2,{rain},1"
    )


def hours(dates, rain=0.5):
    rows = [
        an_hour(date.year, date.month, date.day, hour, 10 + day % 9 + hour / 4, rain)
        for day, date in enumerate(dates)
        for hour in range(1, 25)
    ]
    return HEADING + "\n".join(rows) + "\n"


def days(*texts):
    return [datetime.date.fromisoformat(text) for text in texts]


TWO_DAYS = hours(days("2020-02-28", "2020-02-29"))


def test_a_day_is_the_extremes_means_and_sums_of_its_hours(file):
    values = weather.read(file(TWO_DAYS)).values
    np.testing.assert_allclose(values["tmin"], [10.25, 11.25], atol=0.06)
    np.testing.assert_allclose(values["tmax"], [16.0, 17.0])
    np.testing.assert_allclose(values["humidity"], 0.625)
    np.testing.assert_allclose(values["radiation"], 8 * 100 * 0.0036)
    np.testing.assert_allclose(values["rain"], 12.0)


def test_another_library_reads_the_same_days(file):
    values = weather.read(file(TWO_DAYS)).values
    theirs, about = read_epw(file(TWO_DAYS))
    daily = theirs.groupby(["year", "month", "day"])
    np.testing.assert_allclose(values["tmean"], daily["temp_air"].mean())
    np.testing.assert_allclose(values["radiation"], daily["ghi"].sum() * 0.0036)
    np.testing.assert_allclose(values["wind"], daily["wind_speed"].mean())
    np.testing.assert_allclose(
        values["humidity_min"], daily["relative_humidity"].min() / 100
    )
    assert weather.read(file(TWO_DAYS)).latitude == about["latitude"]


def test_a_code_for_missing_leaves_the_day_missing(file):
    record = weather.read(file(TWO_DAYS.replace(",?,11.0,", ",?,99.9,", 1)))
    assert record.missing("tmax").tolist() == [True, False]
    assert "rain" not in weather.read(file(hours(days("2020-02-28"), 999))).values


def test_a_typical_year_of_many_years_is_laid_on_one(file):
    record = weather.read(file(hours(days("1993-01-31", "1985-02-01"))))
    assert record.layout.endswith("typical year")
    assert (record.first, record.days) == (datetime.date(2001, 1, 31), 2)


def test_real_years_stay_what_they_are(file):
    record = weather.read(file(hours(days("2019-12-31", "2020-01-01"))))
    assert (record.first, record.days) == (datetime.date(2019, 12, 31), 2)


def test_rain_that_never_fell_in_a_year_was_not_measured(file):
    start = datetime.date(2019, 1, 1)
    year = [start + datetime.timedelta(day) for day in range(365)]
    examined = weather.examine(file(hours(year, rain=0)))
    assert "rain" not in examined.record.values
    assert "dry_share" in {suspect.check for suspect in examined.suspects}


LAST_ROW = TWO_DAYS.splitlines()[-1]
REFUSED = {
    HEADING: "8 heading lines, then hours",
    TWO_DAYS + LAST_ROW: "hour '24' should be given once a day",
    TWO_DAYS.replace("2020,2,29,24,", "2020,2,29,25,"): "hour '25' should be from 1",
    TWO_DAYS.replace("2020,", "2021,"): "day '29' should be a day of its",
    TWO_DAYS + LAST_ROW[:40]: "the line looks cut off",
    TWO_DAYS.replace("52.40,-8.10", "52.40"): "LOCATION should end with latitude",
    TWO_DAYS.replace("52.40", "152.40"): "latitude 152.4 should lie from -90",
}


@pytest.mark.parametrize(("content", "words"), REFUSED.items(), ids=REFUSED.values())
def test_a_broken_file_is_refused_in_words(file, content, words):
    with pytest.raises(UnreadableInput, match=words):
        weather.read(file(content))


@pytest.fixture(scope="module")
def typical_hours():
    """The hours of a typical year that pvlib carries, in another layout."""
    with (Path(pvlib.__file__).parent / "data/723170TYA.CSV").open() as lines:
        next(lines)
        yield list(csv.DictReader(lines))


def test_a_real_typical_year_of_8760_hours_is_read(file, typical_hours):
    rows = []
    for hour in typical_hours:
        month, day, year = map(int, hour["Date (MM/DD/YYYY)"].split("/"))
        temperature, clock = float(hour["Dry-bulb (C)"]), int(hour["Time (HH:MM)"][:2])
        rows.append(an_hour(year, month, day, clock, temperature, 999))
    record = weather.read(file(HEADING + "\n".join(rows)))
    warmest = max(float(hour["Dry-bulb (C)"]) for hour in typical_hours)
    assert (record.days, record.first) == (365, datetime.date(2001, 1, 1))
    assert record.values["tmax"].max() == warmest
