"""The same past under other losses."""

import dataclasses

import numpy as np
import pytest

from sheafwright.core.decide.learn import Weather, in_season, prepare
from sheafwright.core.decide.otherwise import drying_times, losses_times, revalued
from sheafwright.feeds import decision

N_YEARS = 4


@pytest.fixture(scope="module")
def weather():
    """Four years of days whose weather is drawn apart."""
    rng, n_days = np.random.default_rng(3), 365 * N_YEARS
    return Weather(
        day_of_year=np.arange(n_days) % 365 + 1,
        year=2001 + np.arange(n_days) // 365,
        tmax=rng.normal(20, 3, n_days),
        rain=np.maximum(rng.normal(0, 4, n_days), 0),
        evapotranspiration=rng.uniform(0.5, 4, n_days),
        pressure=None,
        gain=rng.uniform(0.01, 0.03, n_days),
    )


@pytest.fixture(scope="module")
def made(weather):
    counted = in_season(weather.day_of_year, 200, 80)

    def made(losses):
        rng = np.random.default_rng(5)
        settings = decision.settings()
        return prepare(weather, losses, settings, (190, 120), counted, [0.8], rng)

    return made, counted


@pytest.mark.parametrize("times", [losses_times, drying_times])
def test_a_past_revalued_is_one_prepared_so_from_the_start(made, times):
    prepare_with, counted = made
    other = times(decision.losses(), 2.0)
    got, wanted = (
        revalued(prepare_with(decision.losses()), other, counted),
        (prepare_with(other)),
    )
    assert got.losses == other
    for name in ("rate", "stook_share", "days_out", "known"):
        np.testing.assert_array_equal(getattr(got, name), getattr(wanted, name))
    np.testing.assert_allclose(got.sums.moments, wanted.sums.moments)


def test_losses_doubled_and_halved_are_as_they_were():
    losses = decision.losses()
    assert losses_times(losses_times(losses, 2.0), 0.5) == losses
    assert drying_times(drying_times(losses, 2.0), 0.5) == losses


def test_twice_the_losses_leave_what_is_no_loss_alone():
    losses, twice = decision.losses(), losses_times(decision.losses(), 2.0)
    assert twice.stook.late_loss_share == 2 * losses.stook.late_loss_share
    assert twice.ripeness.fit_from == losses.ripeness.fit_from
    assert twice.stook.never_cut == losses.stook.never_cut
    assert dataclasses.asdict(twice.drying) == dataclasses.asdict(losses.drying)
