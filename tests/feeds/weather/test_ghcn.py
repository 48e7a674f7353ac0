"""GHCN-Daily's three forms, holding the same invented days."""

import datetime

import numpy as np
import pytest

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds import weather

STATION = "XX000012345"
# 27 February to 1 March 2024; the rain of the 28th failed a check of the archive.
TMAX, TMIN, PRCP = (88, 91, 74, 102), (12, -5, 31, 40), (0, 512, 3, 25)
FLAGS = " G  "


def dly_month(element, year_month, values, flags):
    slots = {
        day: f"{value:5d} {flag} "
        for day, value, flag in zip(*values, flags, strict=True)
    }
    return (
        STATION
        + year_month
        + element
        + "".join(slots.get(day, "-9999   ") for day in range(1, 32))
    )


def dly():
    lines = []
    for element, values in (("TMAX", TMAX), ("TMIN", TMIN), ("PRCP", PRCP)):
        flags = FLAGS if element == "PRCP" else "    "
        february, march = ((27, 28, 29), values[:3]), ((1,), values[3:])
        lines.append(dly_month(element, "202402", february, flags[:3]))
        lines.append(dly_month(element, "202403", march, flags[3:]))
    lines.append(dly_month("SNWD", "202402", ((27,), (0,)), " "))
    return "\n".join(lines) + "\n"


def by_element():
    dates = ("20240227", "20240228", "20240229", "20240301")
    rows = [
        f"{STATION},{date},{element},{value},,{flag.strip()},S,0700"
        for element, values in (("TMAX", TMAX), ("TMIN", TMIN), ("PRCP", PRCP))
        for date, value, flag in zip(
            dates, values, FLAGS if element == "PRCP" else "    ", strict=True
        )
    ]
    return "\n".join([*rows, f"{STATION},20240227,SNWD,0,,,S,"]) + "\n"


def by_day():
    dates = ("2024-02-27", "2024-02-28", "2024-02-29", "2024-03-01")
    names = (
        "STATION,DATE,LATITUDE,LONGITUDE,ELEVATION,NAME,PRCP,PRCP_ATTRIBUTES,TMAX,TMIN"
    )
    rows = [
        f'"{STATION}","{date}","52.4","-8.1","85.0","MARL HOLLOW, XX",'
        f'"{rain:5d}",",{flag.strip()},S,0700","{tmax:5d}","{tmin:5d}"'
        for date, rain, flag, tmax, tmin in zip(
            dates, PRCP, FLAGS, TMAX, TMIN, strict=True
        )
    ]
    heading = ",".join(f'"{name}"' for name in names.split(","))
    return "\n".join([heading, *rows]) + "\n"


FORMS = pytest.mark.parametrize(
    "content", [dly(), by_element(), by_day()], ids=[".dly", "by element", "by day"]
)


@FORMS
def test_tenths_become_whole_units(file, content):
    record = weather.read(file(content))
    assert record.first == datetime.date(2024, 2, 27)
    np.testing.assert_allclose(record.values["tmax"], [8.8, 9.1, 7.4, 10.2])
    np.testing.assert_allclose(record.values["tmin"], [1.2, -0.5, 3.1, 4.0])


@FORMS
def test_a_value_that_the_archive_flags_is_left_out_and_told(file, content):
    examined = weather.examine(file(content))
    np.testing.assert_allclose(examined.record.values["rain"], [0, np.nan, 0.3, 2.5])
    (suspect,) = examined.suspects
    assert (suspect.check, suspect.value) == ("archive_flag", 51.2)
    assert suspect.first == datetime.date(2024, 2, 28)


def test_the_form_by_day_tells_the_place(file):
    record = weather.read(file(by_day()))
    assert (record.station, record.latitude) == ("Marl Hollow, Xx", 52.4)
    assert (record.longitude, record.altitude) == (-8.1, 85.0)


def test_a_heading_above_the_rows_by_element_is_passed_over(file):
    heading = "ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n"
    assert weather.read(file(heading + by_element())).days == 4


def test_trimmed_blanks_at_the_end_of_a_line_do_no_harm(file):
    trimmed = "\n".join(line.rstrip() for line in dly().splitlines())
    assert weather.read(file(trimmed)).days == 4


def test_decimals_betray_another_unit(file):
    with pytest.raises(UnreadableInput, match="TMAX has decimals"):
        weather.read(file(by_day().replace('"   88"', '" 47.8"')))


REFUSED = {
    dly()[:-40]: "cut off or of another form",
    dly().replace("-9999   \n", "   12   \n", 1): "no such day",
    dly().replace("   88", " 8-8 "): "not a whole number",
    by_element().replace("20240229", "20230229"): "a date of the calendar",
    by_element().splitlines()[-1]: "it should hold weather that we know",
    by_element() + f"{STATION},202402": "line 14: .* is cut off",
    by_element().replace(f"{STATION},20240301", "YY000012345,20240301"): "2 stations",
}


@pytest.mark.parametrize(("content", "words"), REFUSED.items(), ids=REFUSED.values())
def test_a_broken_file_is_refused_in_words(file, content, words):
    with pytest.raises(UnreadableInput, match=words):
        weather.read(file(content))
