"""How wet a day is for its place and time of year."""

import numpy as np
import pytest

from sheafwright.core.chance.wetness import wetness, wetness_foretold, wetness_of

N_DAYS = 40 * 365


@pytest.fixture(scope="module")
def climate():
    """Forty years of rain and demand in which winter is wetter, each (day,)."""
    rng = np.random.default_rng(8)
    day_of_year = np.arange(N_DAYS) % 365 + 1
    winter = 1 + np.cos(2 * np.pi * day_of_year / 365)
    rain = np.round(rng.gamma(0.7, 4.0 * (0.3 + winter)), 1)
    rain[rng.random(N_DAYS) < 0.5] = 0.0
    return rain, rng.gamma(9, 0.3, N_DAYS), day_of_year


def test_wetness_is_a_standard_normal_score_in_every_season(climate):
    rain, demand, day_of_year = climate
    score = wetness(rain, demand, day_of_year, np.ones(N_DAYS, bool))
    for season in (day_of_year < 60, (day_of_year > 180) & (day_of_year < 240)):
        assert score[season].mean() == pytest.approx(0, abs=0.01)
        assert score[season].std() == pytest.approx(1, abs=0.02)


def test_the_same_shower_is_wetter_for_a_summer_day(climate):
    rain, demand, day_of_year = climate
    rain, every_day = np.where(day_of_year % 5 == 0, 4.0, rain), np.ones(N_DAYS, bool)
    score = wetness(rain, demand, day_of_year, every_day)
    assert score[day_of_year == 180].mean() > score[day_of_year == 5].mean() + 0.2


def test_a_wetter_day_scores_higher_and_of_equals_the_one_that_dries_less():
    rain, demand = [0.0, 0.0, 3.0, 3.0, 7.5], [4.0, 1.0, 9.0, 2.0, 5.0]
    score = wetness(rain, demand, [210] * 5, np.ones(5, bool))
    assert (np.diff(score) > 0).all()


def test_a_day_without_data_has_no_score_and_counts_for_none():
    every_day, days = np.ones(4, bool), [210] * 4
    score = wetness([0.0, np.nan, 3.0, 9.0], [3.0] * 4, days, every_day)
    without = wetness([0.0, 3.0, 9.0], [3.0] * 3, days[:3], every_day[:3])
    assert np.isnan(score[1])
    np.testing.assert_array_equal(score[[0, 2, 3]], without)


def test_days_left_out_of_the_climate_are_scored_but_do_not_score():
    rain, days = np.array([0.0, 2.0, 5.0, 90.0]), [210] * 4
    kept = np.array([True, True, True, False])
    score = wetness(rain, [3.0] * 4, days, kept)
    changed = wetness(np.where(kept, rain, 91.0), [3.0] * 4, days, kept)
    assert score[3] > score[:3].max()
    np.testing.assert_array_equal(score[:3], changed[:3])


def test_with_no_climate_every_day_is_a_middling_day():
    score = wetness([0.0, 9.0], [3.0, 3.0], [210, 211], np.zeros(2, bool))
    assert score.tolist() == [0, 0]


@pytest.mark.parametrize("rain_mm", [0.0, 0.4, 5.0, 75.0])
def test_rain_foretold_scores_as_the_same_rain_fallen(climate, rain_mm):
    rain, _, day_of_year = (each.copy() for each in climate)
    day, usual = np.flatnonzero(day_of_year == 215)[3], np.full(N_DAYS, 2.6)
    rain[day] = rain_mm
    fallen = wetness(rain, usual, day_of_year, np.ones(N_DAYS, bool))[day]
    foretold = wetness_foretold(rain, usual, day_of_year, rain_mm, 215)
    assert foretold == pytest.approx(fallen, abs=1e-12)


def test_a_missing_forecast_has_no_wetness(climate):
    foretold = wetness_foretold(*climate, np.array([np.nan, 3.0]), 215)
    np.testing.assert_array_equal(np.isnan(foretold), [True, False])


def test_the_wetness_of_a_millimetre_parts_dry_days_from_wet(climate):
    rain, demand, day_of_year = climate
    every_day = np.ones(N_DAYS, bool)
    limit = wetness_of(1.0, rain, day_of_year, every_day)
    score = wetness(rain, demand, day_of_year, every_day)
    agree = (score < limit) == (rain < 1.0)
    assert agree.mean() > 0.999


def test_the_year_is_a_circle():
    rain, days = [0.0, 5.0, 9.0], [366, 1, 2]
    score = wetness(rain, [3.0] * 3, days, np.ones(3, bool))
    limit = wetness_of(6.0, np.array(rain), days, np.ones(3, bool))
    assert score.tolist() == pytest.approx([-0.67449, 0, 0.67449], abs=5e-6)
    assert limit.tolist() == pytest.approx([0.31864] * 3, abs=5e-6)
