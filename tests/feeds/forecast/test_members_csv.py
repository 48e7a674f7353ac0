import datetime

import numpy as np
import pytest

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds.forecast.members_csv import parse

TWO_MEMBERS = b"""date,member,rain_mm,tmin_c,tmax_c
2026-08-06,a,0.0,9.5,18.0
2026-08-07,a,3.2,11.0,17.5
2026-08-06,b,1.0,10.0,17.0
2026-08-07,b,0.0,10.5,19.0
"""
RAIN_ALONE = b"date,member,rain_mm\n2026-08-06,a,0.0\n2026-08-07,a,3.2\n"


def refusal(content):
    with pytest.raises(UnreadableInput) as refused:
        parse(content, "ours.csv")
    return str(refused.value)


def test_members_become_rows_and_dates_columns():
    forecast = parse(TWO_MEMBERS, "ours.csv")
    np.testing.assert_array_equal(forecast.rain, [[0.0, 3.2], [1.0, 0.0]])
    np.testing.assert_array_equal(forecast.tmin, [[9.5, 11.0], [10.0, 10.5]])
    np.testing.assert_array_equal(forecast.tmax, [[18.0, 17.5], [17.0, 19.0]])


def test_the_first_day_has_a_lead_of_one():
    forecast = parse(TWO_MEMBERS, "ours.csv")
    assert forecast.issued == datetime.date(2026, 8, 5)
    assert forecast.first == datetime.date(2026, 8, 6)
    assert forecast.source == "ours.csv"


def test_the_order_of_lines_does_not_matter():
    header, *lines = TWO_MEMBERS.splitlines(keepends=True)
    turned = parse(header + b"".join(lines[::-1]), "ours.csv")
    np.testing.assert_array_equal(turned.rain, [[1.0, 0.0], [0.0, 3.2]])


def test_temperatures_may_be_left_out():
    forecast = parse(RAIN_ALONE, "ours.csv")
    assert forecast.tmin is None
    assert forecast.tmax is None


def test_the_mark_of_a_spreadsheet_is_no_part_of_the_first_name():
    assert parse(b"\xef\xbb\xbf" + RAIN_ALONE, "ours.csv").rain.shape == (1, 2)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        (b"3.2", b"-1", "line 3, column rain_mm: '-1' should be a number from 0"),
        (b"3.2", b"", "line 3, column rain_mm: '' should be filled in"),
        (b"3.2", b"nan", "line 3, column rain_mm: 'nan' should be a number"),
        (b"3.2", b"1_5", "line 3, column rain_mm: '1_5' should be a number"),
        (b"11.0", b"18.5", "line 3, column tmin_c: '18.5' should be no more than"),
        (b"18.0", b"64.4", "line 2, column tmax_c: '64.4' should be a number from -50"),
        (b"2026-08-07,a", b"2026-02-29,a", "line 3, column date: '2026-02-29' should"),
        (b"2026-08-07,a", b"2026-08-06,a", "line 3, column date: '2026-08-06' should"),
        (b"2026-08-07,a", b"2026-08-07,", "line 3, column member: '' should be filled"),
        (b"2026-08-07,b", b"2026-08-08,b", "member 'a' lacks 2026-08-08; every member"),
        (b"2026-08-07", b"2026-08-08", "member 'a' lacks 2026-08-07; every member"),
        (b",0.0,9.5", b",0.0", "line 2: 4 cells where the first line names 5"),
        (b"tmax_c", b"tmax_f", "line 1: the columns should be date, member, rain_mm"),
        (b",tmax_c", b",tmin_c", "line 1: the columns should be"),
        (b"0.0,9.5", b'"0.0,9.5', "line 5: not a line of CSV"),
        (b"3.2", b"3,2", "line 3: 6 cells where the first line names 5"),
        (b"3.2", b"\xb0", "byte 73: the file should be UTF-8 text"),
    ],
)
def test_a_bad_cell_is_named_with_line_and_column(old, new, says):
    assert TWO_MEMBERS.count(old) >= 1
    assert says in refusal(TWO_MEMBERS.replace(old, new))


def test_one_temperature_alone_is_refused():
    lone = b"date,member,rain_mm,tmin_c\n2026-08-06,a,0,9\n"
    assert "tmin_c and tmax_c should come together" in refusal(lone)


def test_a_header_alone_is_refused():
    assert refusal(b"date,member,rain_mm\n") == (
        "ours.csv names its columns but holds no day."
    )
