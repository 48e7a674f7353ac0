"""The Dutch institute's daily text, with and without a preamble, in invented lines."""

import datetime

import numpy as np
import pytest

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds import weather

HEADING = "# STN,YYYYMMDD, FG, FXX, TG, TN, TX, SQ, Q, RH, PG, UG, UX, UN, EV24\n"
ROWS = """  901,20240228, 25, 80, 61, 35, 81, -1, 93,   -1,10240, 97, 99, 93,    1
  901,20240229, 36,   , 73, 54, 96, 12,268,    0,10267, 87, 99, 73,    4
  901,20240301, 57,130, 84, 64,104, 30,435,   45,10203, 78, 95, 60,   11
"""
PREAMBLE = """BRON: AN INVENTED INSTITUTE
# STN         LON(east)   LAT(north)  ALT(m)      NAME
# 901         5.180       52.100      1.90        Weide

RH        = Daily precipitation amount (in 0.1 mm) (-1 for <0.05 mm)

"""


def test_tenths_become_whole_units(file):
    values = weather.read(file(HEADING + ROWS)).values
    np.testing.assert_allclose(values["tmin"], [3.5, 5.4, 6.4])
    np.testing.assert_allclose(values["pressure"], [1024.0, 1026.7, 1020.3])
    np.testing.assert_allclose(values["humidity_min"], [0.93, 0.73, 0.60])
    np.testing.assert_allclose(values["pe"], [0.1, 0.4, 1.1])


def test_a_trace_of_rain_or_sun_is_none_and_not_missing(file):
    values = weather.read(file(HEADING + ROWS)).values
    np.testing.assert_allclose(values["rain"], [0.0, 0.0, 4.5])
    np.testing.assert_allclose(values["sunshine"], [0.0, 1.2, 3.0])


def test_other_negative_rain_is_impossible_and_left_out(file):
    examined = weather.examine(file(HEADING + ROWS.replace(",   45,", ",   -2,")))
    assert np.isnan(examined.record.values["rain"][2])
    (suspect,) = examined.suspects
    assert (suspect.check, suspect.variable, suspect.value) == ("range", "rain", -0.2)
    assert suspect.first == datetime.date(2024, 3, 1)


def test_a_blank_is_missing(file):
    record = weather.read(file(HEADING + ROWS))
    assert record.missing("gust").tolist() == [False, True, False]


def test_a_preamble_that_lists_the_place_gives_it(file):
    record = weather.read(file(PREAMBLE + HEADING + "\n" + ROWS))
    assert (record.station, record.altitude) == ("Weide", 1.9)
    assert (record.latitude, record.longitude) == (52.1, 5.18)


def test_without_one_the_station_goes_by_its_number(file):
    record = weather.read(file(HEADING.removeprefix("# ") + ROWS))
    assert (record.station, record.latitude) == ("station 901", None)


def test_two_stations_in_one_file_are_refused(file):
    with pytest.raises(UnreadableInput, match=r"2 stations \('901', '902'\)"):
        weather.read(file(HEADING + ROWS + ROWS.replace("901", "902")))
