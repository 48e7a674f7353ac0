"""The drying rate, learned from a moisture meter."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.core.drying.meter import (
    Rate,
    believed,
    possible_rates,
    rate_from_readings,
    rates_at,
)
from sheafwright.core.drying.sheaf import dried
from sheafwright.core.inputs.stooks import Meter
from sheafwright.feeds.decision import losses
from sheafwright.feeds.stooks import dew, meter

GRAIN, DEW, METER = losses().drying, dew(), meter()
SURE = Meter(rate_cv=METER.rate_cv, reading_error=1e-4)
N_DAYS = 10
AIR = np.full(N_DAYS, 0.14)
FAIR = np.zeros(N_DAYS), np.full(N_DAYS, 2.5), np.zeros(N_DAYS)
NO_READING = np.full(N_DAYS, np.nan)

few_examples = settings(max_examples=25, deadline=None)


def reading(moisture_by_day):
    """Readings on some days and none on the others."""
    readings = NO_READING.copy()
    readings[list(moisture_by_day)] = list(moisture_by_day.values())
    return readings


def learned(readings, weather=FAIR, meter=METER):
    return rate_from_readings(weather, AIR, readings, GRAIN, DEW, meter)


def test_before_any_reading_the_rate_is_the_tables_with_its_doubt():
    rate = learned(NO_READING)
    assert rate.mean == pytest.approx(0.27, rel=1e-4)
    assert rate.sd == pytest.approx(0.30 * 0.27, rel=1e-3)


def test_half_of_the_rates_that_may_be_lie_below_the_log_normals_median():
    rates, chance = possible_rates(0.27, 0.30)
    below = rates < 0.27 / np.sqrt(1 + 0.30**2)
    assert chance.sum() == pytest.approx(1)
    assert chance[below].sum() == pytest.approx(0.5, abs=0.002)


def test_rates_drawn_have_the_mean_and_the_spread_that_are_believed():
    drawn = rates_at(Rate(0.31, 0.06), np.random.default_rng(1).normal(size=200_000))
    assert drawn.mean() == pytest.approx(0.31, abs=0.001)
    assert drawn.std() == pytest.approx(0.06, abs=0.001)
    assert (drawn > 0).all()


@few_examples
@given(st.floats(0.15, 0.45), st.integers(2, 9))
def test_an_exact_reading_gives_the_rate_that_solves_it(rate, day):
    moisture = dried(GRAIN.at_cutting, 0.14, rate * day)
    found = learned(reading({day: moisture}), meter=SURE)
    # Closed form: k = ln((m₀ - e) / (m - e)) / n, all dry basis.
    start, now, settles = (w / (1 - w) for w in (GRAIN.at_cutting, moisture, 0.14))
    solved = np.log((start - settles) / (now - settles)) / day
    assert solved == pytest.approx(rate)
    assert found.mean == pytest.approx(solved, rel=0.01)
    assert found.sd < 0.05 * rate


def test_where_moisture_is_a_line_in_the_rate_it_is_the_normal_conjugate():
    rates = np.linspace(0.01, 0.53, 2_001)
    chance = np.exp(-((rates - 0.27) ** 2) / (2 * 0.05**2))
    predicted = 0.4 - rates[:, np.newaxis] * [0.0, 0.5, 1.0]
    found = believed(rates, chance, predicted, [np.nan, 0.25, 0.15], 0.02)
    # Precisions add: of the prior, and of each reading through its slope.
    precision = 1 / 0.05**2 + 0.5**2 / 0.02**2 + 1 / 0.02**2
    pulled = 0.27 / 0.05**2 + 0.30 * 0.5**2 / 0.02**2 + 0.25 / 0.02**2
    assert found.mean == pytest.approx(pulled / precision, abs=1e-6)
    assert found.sd == pytest.approx(precision**-0.5, rel=1e-4)


@few_examples
@given(st.floats(0.15, 0.29), st.floats(0.002, 0.02), st.integers(1, 9))
def test_a_drier_reading_means_a_faster_rate(moisture, drier, day):
    damp = learned(reading({day: moisture}))
    dry = learned(reading({day: moisture - drier}))
    assert dry.mean >= damp.mean


@few_examples
@given(st.floats(0.17, 0.30), st.integers(2, 9))
def test_a_reading_moves_the_rate_towards_what_it_says_and_no_further(moisture, day):
    start, now, settles = (w / (1 - w) for w in (GRAIN.at_cutting, moisture, 0.14))
    solved = np.log((start - settles) / (now - settles)) / day
    low, high = sorted([solved, GRAIN.rate_per_dry_day])
    # A log-normal that shrinks moves its mean a little, even by a reading as expected.
    assert low - 0.02 <= learned(reading({day: moisture})).mean <= high + 0.02


def test_each_further_reading_leaves_less_doubt():
    moisture = dried(GRAIN.at_cutting, 0.14, 0.22 * np.arange(N_DAYS))
    readings = dict(enumerate(moisture))
    doubts = [
        learned(reading({day: readings[day] for day in days})).sd
        for days in ([], [3], [3, 5], [3, 5, 7])
    ]
    assert (np.diff(doubts) < 0).all()


def test_readings_that_fit_the_table_leave_the_rate_and_lessen_its_doubt():
    moisture = dried(GRAIN.at_cutting, 0.14, 0.27 * np.arange(N_DAYS))
    rate = learned(reading({4: moisture[4], 6: moisture[6]}))
    assert rate.mean == pytest.approx(0.27, abs=0.01)
    assert rate.sd < 0.05


def test_a_reading_on_the_day_of_cutting_says_nothing_of_the_rate():
    assert tuple(learned(reading({0: 0.20}))) == pytest.approx(learned(NO_READING))


def test_a_wet_spell_is_not_taken_for_slow_drying():
    wet = np.array([0, 3, 3, 3, 0, 0, 0, 0, 0, 0.0]), *FAIR[1:]
    still_damp = reading({5: 0.27})
    assert learned(still_damp, wet).mean > learned(still_damp).mean + 0.05


def test_a_reading_after_a_day_without_weather_leaves_the_rate_unknown():
    rain = FAIR[0].copy()
    rain[3] = np.nan
    gap = rain, *FAIR[1:]
    assert np.isnan(learned(reading({5: 0.2}), gap).mean)
    assert learned(reading({2: 0.2}), gap) == learned(reading({2: 0.2}))
