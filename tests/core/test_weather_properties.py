"""What the weather equations obey on any day, and another library's word on them."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pvlib import irradiance, solarposition

from sheafwright.core.weather import (
    day_length,
    evapotranspiration,
    humidity,
    radiation,
    substitutes,
    thermal_time,
    wind,
)

LATITUDES = st.floats(-65, 65)
DAYS = st.integers(1, 366)
COLD = st.floats(-30, 30)
RANGES = st.floats(0, 25)
NAN = float("nan")


@given(COLD, RANGES, st.floats(0, 10), st.floats(-2, 12))
def test_a_warmer_afternoon_never_lowers_thermal_time(tmin, span, warmer, base):
    before = thermal_time.thermal_time(tmin, tmin + span, base)
    after = thermal_time.thermal_time(tmin, tmin + span + warmer, base)
    assert after >= before - 1e-12


@given(COLD, RANGES, st.floats(-2, 12))
def test_thermal_time_is_at_least_that_of_the_plain_mean(tmin, span, base):
    eight_parts = thermal_time.thermal_time(tmin, tmin + span, base)
    assert eight_parts >= max(tmin + span / 2 - base, 0) - 1e-9


@given(COLD, RANGES)
def test_the_eight_parts_lie_inside_the_day_and_keep_its_mean(tmin, span):
    parts = list(thermal_time.part_temperatures(tmin, tmin + span))
    assert len(parts) == thermal_time.PARTS
    assert min(parts) >= tmin - 1e-9
    assert max(parts) <= tmin + span + 1e-9
    assert np.mean(parts) == pytest.approx(tmin + span / 2, abs=1e-9)


@given(LATITUDES, DAYS, st.sampled_from([0.0, 0.8333, 6.0]))
def test_a_day_has_between_none_and_24_hours(latitude, day, depression):
    assert 0 <= day_length.day_length(latitude, day, depression) <= 24
    assert 0 <= radiation.daylight_hours(latitude, day) <= 24


@pytest.mark.parametrize("day", [1, 172, 355])
def test_the_sun_stays_down_or_up_all_day_beyond_the_polar_circle(day):
    winter = 0 if day != 172 else 24
    assert day_length.day_length(80, day) == pytest.approx(winter)
    assert radiation.daylight_hours(80, day) == pytest.approx(winter)
    assert radiation.extraterrestrial_radiation(80, day) >= 0


@given(LATITUDES, DAYS)
def test_day_length_north_and_south_make_24_hours(latitude, day):
    north, south = day_length.day_length([latitude, -latitude], day)
    assert north + south == pytest.approx(24)


@given(st.floats(1, 65))
def test_the_longest_day_is_in_the_week_of_21_june(latitude):
    year = np.arange(1, 366)
    assert 169 <= year[day_length.day_length(latitude, year).argmax()] <= 175
    assert 169 <= year[radiation.daylight_hours(latitude, year).argmax()] <= 175


def test_a_column_of_latitudes_and_a_row_of_days_give_place_by_day():
    assert day_length.day_length([[51.8], [55.0]], np.arange(1, 366)).shape == (2, 365)


@given(COLD, RANGES)
def test_air_with_its_dewpoint_at_tmin_is_never_over_full(tmin, span):
    vapour = substitutes.vapour_pressure_from_tmin(tmin, 0.0)
    assert humidity.relative_humidity(vapour, tmin + span) <= 1 + 1e-12
    full = humidity.vapour_pressure_from_extremes(tmin, tmin + span, 1, 1)
    assert full == pytest.approx(
        humidity.mean_saturation_vapour_pressure(tmin, tmin + span)
    )


@given(st.floats(0.3, 2.5), st.floats(0, 40))
def test_wind_at_the_crop_top_is_less_than_at_the_mast(crop_height, mast_wind):
    at_top = wind.wind_at_crop_top(mast_wind, crop_height, blending_height=60)
    assert 0 <= at_top <= mast_wind


@given(st.floats(0, 6), st.floats(0, 6), st.floats(5, 30))
def test_more_wind_dries_more_in_unsaturated_air(calm, more, radiation_kept):
    day = {"tmin": 10, "tmax": 20, "vapour_pressure": 0.6, "pressure": 101}
    kept = radiation_kept / 10
    before, after = evapotranspiration.penman_monteith(
        net_radiation=kept, wind=np.array([calm, calm + more]), **day
    )
    assert after >= before - 1e-12


def test_a_clear_winter_day_makes_dew_and_dries_nothing():
    day = {"tmin": -6, "tmax": 1, "vapour_pressure": 0.5}
    sky = radiation.net_radiation(radiation=3.0, clear_sky=4.0, **day)
    dew = evapotranspiration.penman_monteith(
        net_radiation=sky, wind=0.5, pressure=101, **day
    )
    dried = evapotranspiration.reference_evapotranspiration(
        radiation=3.0, wind=0.5, extraterrestrial=4.0 / 0.75, altitude=0, **day
    )
    assert dew < 0
    assert dried == 0


@pytest.mark.parametrize(
    "answer",
    [
        thermal_time.thermal_time([NAN, 5], [20, NAN], 1.0),
        day_length.day_length([NAN, 50.0], [100, NAN]),
        radiation.extraterrestrial_radiation([NAN, 50.0], [100, NAN]),
        radiation.radiation_from_sunshine([NAN, 5], [12, NAN], 20.0, 0.25, 0.5),
        radiation.net_radiation([NAN, 5], [15, NAN], 0.8, 10.0, 20.0),
        humidity.vapour_pressure_from_mean([NAN, 5], 15, [0.8, NAN]),
        humidity.vapour_pressure_from_extremes([NAN, 5], 15, [0.5, NAN], 0.9),
        humidity.vapour_pressure_from_wet_bulb([NAN, 15], [12, NAN], 101.0),
        substitutes.radiation_from_temperature([NAN, 5], [15, NAN], 20.0, 0.16),
        evapotranspiration.hargreaves([NAN, 5], [15, NAN], 20.0),
        evapotranspiration.reference_evapotranspiration(
            [NAN, 5], 15, 0.8, [10, NAN], 2, 20.0, 70
        ),
        wind.wind_at_two_metres([NAN, NAN]),
        wind.wind_at_crop_top([NAN, 5], [1.2, NAN], 60),
    ],
)
def test_a_day_without_data_gives_nan(answer):
    assert np.isnan(answer).all()


def test_the_best_known_estimate_is_taken_day_by_day():
    value, choice = substitutes.first_known([1, NAN, NAN, NAN], [9, 2, NAN, 3], NAN)
    np.testing.assert_array_equal(value, [1, 2, NAN, 3])
    np.testing.assert_array_equal(choice, [0, 1, -1, 1])


# pvlib asks pandas for `dayofyear`, which pandas is giving up.
pvlib_warns = pytest.mark.filterwarnings("ignore:DatetimeIndex.dayofyear")


def days_of_2025(step):
    return pd.date_range("2025-01-01", "2026-01-01", freq=step, tz="UTC")[:-1]


@pvlib_warns
@pytest.mark.parametrize("latitude", [-45.0, 0.0, 45.0, 53.43, 60.0])
def test_day_length_agrees_with_pvlib_to_eight_minutes(latitude):
    midnights = days_of_2025("D")
    sun = solarposition.sun_rise_set_transit_spa(midnights, latitude, 0.0)
    theirs = (sun["sunset"] - sun["sunrise"]).dt.total_seconds() / 3600 % 24
    ours = day_length.day_length(latitude, midnights.day_of_year, 0.8333)
    # Forsythe's orbit runs two days late by autumn: 8 minutes at 60°, 6 at 53°.
    np.testing.assert_allclose(ours, theirs, rtol=0, atol=8 / 60)


@pvlib_warns
@pytest.mark.parametrize("latitude", [0.0, 45.0, 53.43, 60.0])
def test_extraterrestrial_radiation_agrees_with_pvlib_to_under_a_unit(latitude):
    moments = days_of_2025("30min")
    sun = solarposition.get_solarposition(moments, latitude, 0.0, method="ephemeris")
    height = np.cos(np.radians(sun["zenith"])).clip(lower=0)
    flux = irradiance.get_extra_radiation(moments) * height
    theirs = flux.groupby(moments.day_of_year).mean() * 86400 / 1e6
    ours = radiation.extraterrestrial_radiation(latitude, theirs.index)
    # FAO-56's declination, one sine wave, is up to a degree low about the equinoxes.
    np.testing.assert_allclose(ours, theirs, rtol=0, atol=0.8)


def test_daylight_hours_agree_with_pvlib_on_the_same_declination():
    days = days_of_2025("D")
    rise, fall, _ = solarposition.sun_rise_set_transit_geometric(
        days, 53.43, 0.0, radiation.solar_declination(days.day_of_year), 0.0
    )
    theirs = (fall - rise).total_seconds() / 3600
    ours = radiation.daylight_hours(53.43, days.day_of_year)
    np.testing.assert_allclose(ours, theirs, rtol=0, atol=1e-6)


def test_the_suns_distance_agrees_with_pvlib():
    days = np.arange(1, 366)
    theirs = irradiance.get_extra_radiation(days, 1.0, method="asce")
    ours = radiation.inverse_relative_distance(days)
    np.testing.assert_allclose(ours, theirs, rtol=0, atol=1e-12)
