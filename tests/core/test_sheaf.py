"""Grain and straw in the stook, day by day: dew, wetting, drying and carrying."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.core.drying import sheaf
from sheafwright.core.drying.stook import drying_rate, stooks
from sheafwright.core.moisture.equilibrium import chung_pfost, henderson, oswin
from sheafwright.feeds.decision import losses
from sheafwright.feeds.stooks import dampest_air, dew, straw_drying
from sheafwright.feeds.tables import shipped

LOSSES, DEW = losses(), dew()
GRAIN = LOSSES.drying
STRAW = straw_drying(GRAIN)
MOISTURE = shipped("moisture")
N_DAYS = 50
RAINS = st.sampled_from([0.0, 0.2, 0.4, 1.0, 2.5, 5.0, 12.0])
NO_DEW = np.zeros(N_DAYS)

few_examples = settings(max_examples=50, deadline=None)


@st.composite
def weather(draw, rains=RAINS):
    """Rain and evaporative demand of fifty days, both (day,). [mm d⁻¹]"""
    demands = st.floats(0.0, 6.0)
    days = st.lists(st.tuples(rains, demands), min_size=N_DAYS, max_size=N_DAYS)
    return np.array(draw(days)).T


def grain_by_day(rain, demand, dewy=NO_DEW, settles_at=0.14, drying=GRAIN):
    return sheaf.moisture_by_day(rain, demand, dewy, settles_at, drying, DEW)


@few_examples
@given(weather())
def test_in_air_of_one_dampness_and_no_dew_it_is_the_stook_the_decision_values(days):
    rain, demand = days
    grain = grain_by_day(rain, demand, settles_at=GRAIN.equilibrium)
    wet = sheaf.water_lies(rain, demand, NO_DEW, GRAIN, DEW)
    fit = sheaf.fit_to_carry(grain, grain * 0, wet, GRAIN.fit_to_carry, 0.16)
    path, rate = np.arange(N_DAYS)[np.newaxis], drying_rate(demand, GRAIN)
    _, days_out = stooks(path, rain, rate, 1, LOSSES)
    carried = np.flatnonzero(fit[1 : LOSSES.stook.longest_days + 1])
    assert days_out[0, 0] == (carried[0] + 1 if carried.size else -1)


@few_examples
@given(weather(), st.integers(0, N_DAYS - 1), st.floats(0.5, 20))
def test_more_rain_never_leaves_grain_or_straw_drier(days, wetter_day, more):
    rain, demand = days
    wetter = rain + np.where(np.arange(N_DAYS) == wetter_day, more, 0)
    for drying in (GRAIN, STRAW):
        before = grain_by_day(rain, demand, drying=drying)
        after = grain_by_day(wetter, demand, drying=drying)
        assert (after >= before - 1e-12).all()


@few_examples
@given(weather(), st.integers(0, N_DAYS - 1))
def test_a_night_of_dew_never_hastens_drying(days, dewy_night):
    dewy = (np.arange(N_DAYS) == dewy_night).astype(float)
    assert (grain_by_day(*days, dewy) >= grain_by_day(*days) - 1e-12).all()


@few_examples
@given(weather(st.just(0.0)), st.floats(1.0, 3.0))
def test_on_dry_days_more_evaporation_never_leaves_it_damper(days, times):
    rain, demand = days
    slow, fast = grain_by_day(rain, demand), grain_by_day(rain, demand * times)
    assert (fast <= slow + 1e-12).all()


@few_examples
@given(weather(), st.floats(0.08, 0.20), st.floats(0.0, 0.1))
def test_damper_air_never_leaves_it_drier(days, settles_at, damper):
    dry_air = grain_by_day(*days, settles_at=settles_at)
    damp_air = grain_by_day(*days, settles_at=settles_at + damper)
    assert (damp_air >= dry_air - 1e-12).all()


def test_each_day_moves_towards_the_equilibrium_of_its_own_air():
    fair = np.zeros(4), np.full(4, 2.5), np.zeros(4)
    air = np.array([0.5, 0.14, 0.14, 0.25])
    moisture = sheaf.moisture_by_day(*fair, air, GRAIN, DEW)
    assert (np.diff(moisture)[:2] < 0).all()
    assert moisture[3] > moisture[2]


def test_a_wet_day_adds_what_the_table_says_and_dries_nothing():
    rain, demand = np.array([0.0, 1.0, 3.0]), np.full(3, 6.0)
    straw = sheaf.moisture_by_day(rain, demand, np.zeros(3), 0.13, STRAW, DEW)
    dry_basis = straw / (1 - straw)
    assert np.diff(dry_basis).tolist() == pytest.approx([0.03, 0.03])


def test_dew_takes_its_water_before_the_sheaf_dries():
    left = sheaf.evaporation_left([2.5, 2.5, 0.1, 0.1], [0, 1, 1, 0], DEW)
    assert left.tolist() == pytest.approx([2.5, 2.3, 0.0, 0.1])


@pytest.mark.parametrize(
    ("humidity", "tmin", "dewpoint", "dewy"),
    [
        (0.96, 12.0, 9.0, 1),
        (0.80, 12.0, 12.0, 1),
        (0.80, 12.0, 9.0, 0),
        (0.96, np.nan, np.nan, 1),
        (np.nan, 8.0, 9.5, 1),
        (np.nan, 12.0, 9.5, 0),
        (np.nan, 12.0, np.nan, np.nan),
    ],
)
def test_dew_falls_after_a_damp_night_or_at_the_dewpoint(
    humidity, tmin, dewpoint, dewy
):
    np.testing.assert_equal(sheaf.dew_falls(humidity, tmin, dewpoint, DEW), dewy)


def test_water_lies_after_rain_and_where_the_day_does_not_take_off_the_dew():
    rain = np.array([0.0, 0.3, 0.2, 2.0, 0.0, 0.0, 0.0])
    demand = np.array([2.5, 2.5, 2.5, 2.5, 2.5, 0.2, 0.3])
    wet = sheaf.water_lies(rain, demand, np.array([1, 0, 0, 0, 0, 1, 1]), GRAIN, DEW)
    assert wet.tolist() == [0, 1, 0, 1, 1, 1, 0]


def test_sheaves_are_carried_with_both_dry_and_no_water_on_them():
    grain = np.array([0.17, 0.171, 0.17, 0.17])
    straw = np.array([0.16, 0.16, 0.161, 0.16])
    fit = sheaf.fit_to_carry(grain, straw, np.array([0, 0, 0, 1]), 0.17, 0.16)
    assert fit.tolist() == [1, 0, 0, 0]


def test_a_day_without_data_leaves_the_rest_unknown():
    rain, demand = np.zeros(6), np.full(6, 2.5)
    for gap in ("rain", "demand", "dewy", "air"):
        given_days = {"rain": rain, "demand": demand, "dewy": rain, "air": rain + 0.14}
        given_days[gap] = np.where(np.arange(6) == 3, np.nan, given_days[gap])
        moisture = sheaf.moisture_by_day(*given_days.values(), GRAIN, DEW)
        assert np.isnan(moisture).tolist() == [False] * 3 + [True] * 3


def test_what_is_not_known_is_neither_fit_nor_unfit():
    unknown = sheaf.fit_to_carry(
        np.array([np.nan, 0.1]), np.array([0.1, 0.1]), np.array([0, np.nan]), 0.17, 0.16
    )
    assert np.isnan(unknown).all()
    assert np.isnan(sheaf.water_lies([0, np.nan], [2, 2], [0, 0], GRAIN, DEW)[1])


def test_many_summers_and_rates_are_followed_at_once():
    rain, demand = np.zeros((2, 3, 8)), np.full(8, 2.5)
    rates = np.array([0.1, 0.2, 0.3])[:, np.newaxis]
    each = dataclasses.replace(GRAIN, rate_per_dry_day=rates)
    moisture = sheaf.moisture_by_day(rain, demand, np.zeros(8), 0.14, each, DEW)
    assert moisture.shape == (2, 3, 8)
    assert (np.diff(moisture[0, :, -1]) < 0).all()


CURVES = [
    (henderson, MOISTURE["grain"]["henderson_soft"].value),
    (chung_pfost, MOISTURE["grain"]["chung_pfost_wheat"].value),
    (oswin, MOISTURE["straw"]["oswin_low"].value),
    (oswin, MOISTURE["straw"]["oswin_high"].value),
]


@pytest.mark.parametrize(("curve", "constants"), CURVES)
def test_air_damper_than_the_curves_hold_for_is_taken_as_the_dampest(curve, constants):
    held, damper, fog = sheaf.equilibrium(
        curve, [0.95, 0.97, 1.0], 15.0, constants, dampest_air()
    )
    assert held == damper == fog < 0.30


def test_the_drying_hours_are_drier_than_the_day_and_never_more_than_damp():
    tmin, tmax, vapour = np.array([11.0, 11.0]), np.array([19.0, 11.0]), 1.4
    humidity, temperature = sheaf.drying_air(tmin, tmax, vapour, 0.75)
    nearer_noon, _ = sheaf.drying_air(tmin, tmax, vapour, 0.9)
    assert nearer_noon[0] < humidity[0] < 1 == humidity[1]
    assert temperature.tolist() == [17.0, 11.0]


def test_air_of_unknown_humidity_has_no_equilibrium():
    curve, constants = CURVES[0]
    assert np.isnan(sheaf.equilibrium(curve, np.nan, 15.0, constants, 0.95))


def test_the_straws_usual_equilibrium_lies_between_its_stand_in_curves():
    low, high = (
        sheaf.equilibrium(curve, 0.75, 20.0, constants, dampest_air())
        for curve, constants in CURVES[2:]
    )
    assert low < STRAW.equilibrium < high


def test_what_the_straw_has_no_row_for_is_as_in_its_grain():
    assert STRAW.soaking_mm == GRAIN.soaking_mm
    assert STRAW.fit_to_carry == 0.16


@given(st.floats(0.18, 0.45), st.floats(0.05, 1.0))
def test_after_the_dry_days_needed_the_limit_is_just_reached(moisture, rate):
    days = sheaf.dry_days_needed(moisture, 0.17, 0.14, rate)
    assert sheaf.dried(moisture, 0.14, rate * days) == pytest.approx(0.17)


def test_grain_dry_enough_needs_no_day_and_in_damp_air_it_never_gets_there():
    moisture, air = [0.17, 0.15, 0.20, 0.18, np.nan], [0.14, 0.20, 0.17, 0.19, 0.14]
    days = sheaf.dry_days_needed(moisture, 0.17, air, 0.27)
    assert days.tolist()[:4] == [0, 0, np.inf, np.inf]
    assert np.isnan(days[4])


def test_grain_and_straw_are_fit_after_about_as_many_fair_days():
    grain_days = sheaf.dry_days_needed(0.31, 0.17, 0.14, GRAIN.rate_per_dry_day)
    straw_days = sheaf.dry_days_needed(
        STRAW.at_cutting, STRAW.fit_to_carry, STRAW.equilibrium, STRAW.rate_per_dry_day
    )
    assert grain_days == pytest.approx(7.1, abs=0.05)
    assert straw_days == pytest.approx(8.0, abs=0.05)
