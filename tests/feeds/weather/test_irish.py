"""The Irish service's two daily layouts, each in a dozen invented lines."""

import datetime

import numpy as np
import pytest

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds import weather

SHORT = """date,maxtp,mintp,gmin,rain,cbl,wdsp,hm,ddhm,hg,sun,g_rad,soil,pe,evap
29-Dec-99,9.7,6.8,4.7,0,1020.3,10, , ,30,0, , ,0.4,0.5
30-Dec-99,9.9,7.9,6.7,0.1,1016.2,15.2, , , ,0, , ,0.7,0.9
31-Dec-99,11.2,8.9,7.2,1.5,1006.8,14, , , ,0.1,120, ,0.5,0.6
01-Jan-00,9.2,2.7,3.4,3.5,1001.5,17, , , ,0, ,6.5,0.6,0.7
"""
LONG = """Station Name: MARL HOLLOW
Station Height: 85 M
Latitude:52.400  ,Longitude: -8.100


date:   -  00 to 00 utc
maxtp:  -  Maximum Air Temperature (C)
ind:    -  Indicator (i)

date,ind,maxtp,ind,mintp,igmin,gmin,ind,rain,cbl,wdsp,ind,hg,sun,pe
28-feb-2024,0,9.2,0,1.6,0,0.6,0,0.2,1013.8,10.0,0,27,1.6,0.6
29-feb-2024,0,9.4,1,2.8,1,-0.4,3,0.0,1018.2,7.3,0,16,4.3,0.5
01-mar-2024,0, ,0,3.8,0,2.6,3,0.0,1021.2,4.2,0,8, ,0.9
02-mar-2024,0,8.8,0,2.2,0,1.6,0,7.3,1011.2,9.2,0,28,0.0,0.4
"""


def test_two_digit_years_pass_the_turn_of_the_century(file):
    record = weather.read(file(SHORT))
    assert record.first == datetime.date(1999, 12, 29)
    assert record.last == datetime.date(2000, 1, 1)


def test_wind_comes_from_knots_and_radiation_from_joules(file):
    values = weather.read(file(SHORT)).values
    assert values["wind"][0] == pytest.approx(5.1444, abs=1e-4)
    assert values["gust"][0] == pytest.approx(15.4333, abs=1e-4)
    assert values["radiation"][2] == pytest.approx(1.20)


def test_a_single_space_is_missing(file):
    record = weather.read(file(SHORT))
    assert record.missing("gust").tolist() == [False, True, True, True]
    np.testing.assert_array_equal(record.values["rain"], [0, 0.1, 1.5, 3.5])


def test_the_preamble_tells_the_station_and_its_place(file):
    record = weather.read(file(LONG))
    assert (record.station, record.altitude) == ("Marl Hollow", 85)
    assert (record.latitude, record.longitude) == (52.4, -8.1)


def test_columns_named_alike_do_not_shift_the_values(file):
    values = weather.read(file(LONG)).values
    np.testing.assert_array_equal(values["tmin"], [1.6, 2.8, 3.8, 2.2])
    np.testing.assert_array_equal(values["rain"], [0.2, 0, 0, 7.3])


def test_pressure_at_the_station_is_brought_to_sea_level(file):
    pressure = weather.read(file(LONG)).values["pressure"]
    # 85 m are about a hundredth of the air.
    np.testing.assert_allclose(pressure / [1013.8, 1018.2, 1021.2, 1011.2], 1.01, 2e-3)


def test_a_station_above_the_highest_mountain_is_refused(file):
    with pytest.raises(UnreadableInput, match="altitude 99999 should lie from -500"):
        weather.read(file(LONG.replace("85 M", "99999 M")))


def test_gzip_and_any_file_name_make_no_difference(file):
    plain, packed = file(LONG), file(LONG, "etmgeg_260.txt.gz")
    assert weather.read(plain).first == weather.read(packed).first


def test_a_line_cut_off_is_named(file):
    with pytest.raises(UnreadableInput, match="line 5: 4 columns where the heading"):
        weather.read(file(SHORT[: SHORT.index(",3.5,1001")] + "\n"))


def test_a_word_among_the_numbers_is_named_with_its_line_and_column(file):
    with pytest.raises(UnreadableInput, match=r"line 3: rain 'wet' should be a number"):
        weather.read(file(SHORT.replace("6.7,0.1,", "6.7,wet,")))


@pytest.mark.parametrize("date", ["29-feb-2023", "31-apr-2024", "1-xyz-2024", "x"])
def test_a_day_that_never_was_is_refused(file, date):
    with pytest.raises(UnreadableInput, match=r"line 12: date .* of the calendar"):
        weather.read(file(LONG.replace("29-feb-2024", date)))
