import datetime

import numpy as np
import pytest

from sheafwright.core.errors import UnreadableInput
from sheafwright.core.weather.place import draw_place, learn_place
from sheafwright.feeds.readings import (
    PastSeason,
    own_readings,
    past_seasons,
    place_prior,
)

READINGS = """date,rain_mm,tmin_c,tmax_c
2026-06-01,2.5,8.0,17.5
2026-06-02,,9.0,
2026-06-04,0.0,,19
"""
SEASONS = """sown,flowered,cut,variety
2023-10-12,2024-06-20,2024-08-05,Long Meadow
2025-02-26,,2025-08-19,
2025-10-10,,,
"""


def day(text):
    return datetime.date.fromisoformat(text)


@pytest.fixture
def saved(tmp_path):
    def save(text):
        path = tmp_path / "own.csv"
        path.write_text(text, encoding="utf-8")
        return path

    return save


def test_readings_become_days_without_a_break(saved):
    own = own_readings(saved(READINGS))
    assert own.first == day("2026-06-01")
    np.testing.assert_array_equal(own.days.rain, [2.5, np.nan, np.nan, 0])
    np.testing.assert_array_equal(own.days.tmin, [8, 9, np.nan, np.nan])
    np.testing.assert_array_equal(own.days.tmax, [17.5, np.nan, np.nan, 19])


def test_a_rain_gauge_alone_is_enough(saved):
    own = own_readings(saved("date,rain_mm\n2026-06-02,3\n2026-06-01,1\n"))
    np.testing.assert_array_equal(own.days.rain, [1, 3])
    assert np.isnan(own.days.tmin).all()


@pytest.mark.parametrize(
    ("first", "n_days", "rain"),
    [
        ("2026-05-31", 6, [np.nan, 2.5, np.nan, np.nan, 0, np.nan]),
        ("2026-06-04", 2, [0, np.nan]),
        ("2026-06-01", 1, [2.5]),
        ("2026-07-01", 2, [np.nan, np.nan]),
        ("2026-05-01", 2, [np.nan, np.nan]),
    ],
)
def test_readings_are_laid_beside_a_record(saved, first, n_days, rain):
    beside = own_readings(saved(READINGS)).aligned(day(first), n_days)
    np.testing.assert_array_equal(beside.rain, rain)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        (
            "2026-06-04",
            "2026-06-02",
            "line 4, column date: '2026-06-02' should be given",
        ),
        ("2026-06-04", "", "line 4, column date: '' should be filled in"),
        ("2026-06-04", "4 June", "line 4, column date: '4 June' should be a date such"),
        ("2026-06-04", "0206-06-04", "line 4, column date: '0206-06-04' should be a y"),
        ("2.5", "-2.5", "line 2, column rain_mm: '-2.5' should be a number from 0 to"),
        ("2.5", "trace", "line 2, column rain_mm: 'trace' should be a number from 0"),
        ("17.5", "63.5", "line 2, column tmax_c: '63.5' should be a number from -50"),
        ("17.5", "7.5", "line 2, column tmin_c: '8.0' should be no more than tmax_c"),
        ("rain_mm", "rain", "line 1: the columns should be date, and may have rain_mm"),
        ("rain_mm,", "tmin_c,", "line 1: the columns should be date, and may have"),
    ],
)
def test_a_bad_reading_is_named_with_line_and_column(saved, old, new, says):
    with pytest.raises(UnreadableInput) as refused:
        own_readings(saved(READINGS.replace(old, new)))
    assert says in str(refused.value)
    assert "own.csv, line" in str(refused.value)


@pytest.mark.parametrize("text", ["date,rain_mm\n", "date,rain_mm\n2026-06-01,\n"])
def test_a_notebook_without_a_reading_is_refused(saved, text):
    with pytest.raises(UnreadableInput, match="holds no reading"):
        own_readings(saved(text))


def test_a_file_that_is_absent_is_named(tmp_path):
    with pytest.raises(UnreadableInput, match=r"own.csv cannot be read \(No such"):
        own_readings(tmp_path / "own.csv")


def test_past_seasons_keep_what_is_known(saved):
    assert past_seasons(saved(SEASONS)) == [
        PastSeason(
            day("2023-10-12"), day("2024-06-20"), day("2024-08-05"), "Long Meadow"
        ),
        PastSeason(day("2025-02-26"), None, day("2025-08-19")),
        PastSeason(day("2025-10-10"), None, None),
    ]


def test_the_variety_may_be_left_out(saved):
    (season,) = past_seasons(saved("sown,flowered,cut\n2023-10-12,,2024-08-05\n"))
    assert season.variety == ""


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("2023-10-12", "", "line 2, column sown: '' should be filled in"),
        ("2024-06-20", "2023-06-20", "line 2, column flowered: '2023-06-20' should be"),
        ("2024-08-05", "2024-06-20", "should be after 2024-06-20 and within 500 days"),
        ("2025-08-19", "2025-02-26", "should be after 2025-02-26 and within 500 days"),
        (
            "2025-08-19",
            "2027-08-19",
            "line 3, column cut: '2027-08-19' should be after",
        ),
        (
            "2025-08-19",
            "19/8/25",
            "line 3, column cut: '19/8/25' should be a date such",
        ),
        ("flowered", "flower", "line 1: the columns should be sown, flowered, cut"),
    ],
)
def test_a_bad_season_is_named_with_line_and_column(saved, old, new, says):
    with pytest.raises(UnreadableInput) as refused:
        past_seasons(saved(SEASONS.replace(old, new)))
    assert says in str(refused.value)


def test_three_readings_move_the_shipped_prior_a_little(saved):
    own = own_readings(saved(READINGS))
    station = own.days._replace(tmin=own.days.tmin + 2)
    place = learn_place(own.days, station, place_prior())
    assert -1 < place.tmin_offset.mean < 0
    assert place.tmax_offset.sd < place_prior().tmax_offset_sd_c
    draws = draw_place(place, 100, np.random.default_rng(1))
    assert (draws.rain_ratio > 0).all()
