"""Reliability bands by whole seasons, and the share of foresight."""

import numpy as np
import pytest

from sheafwright.core.chance import reliability
from sheafwright.core.errors import NotEnoughWeather

TENTHS = np.linspace(0, 1, 11)
N_SEASONS, N_DAYS = 41, 30
SEASON = np.repeat(np.arange(N_SEASONS), N_DAYS)


@pytest.fixture
def rng():
    return np.random.default_rng(11)


def normal_cdf(z):
    from scipy.special import ndtr

    return ndtr(z)


def one_event_a_season(rng):
    """The season's one outcome, ever better foreseen: days share all their luck."""
    known = np.linspace(0, 0.9, N_DAYS + 1)[1:]
    signs = rng.normal(size=(N_SEASONS, N_DAYS)) * np.sqrt(0.9 / N_DAYS)
    seen = signs.cumsum(axis=-1)
    outcome = seen[:, -1] + rng.normal(size=N_SEASONS) * np.sqrt(0.1)
    said = normal_cdf((seen - 0.3) / np.sqrt(1 - known))
    return said.ravel(), np.repeat(outcome > 0.3, N_DAYS).astype(float)


def spells(rng, memory):
    """Standard normal days that remember the day before: (season, day)."""
    days = rng.normal(size=(N_SEASONS, N_DAYS))
    for day in range(1, N_DAYS):
        kept = memory * days[:, day - 1]
        days[:, day] = kept + np.sqrt(1 - memory**2) * days[:, day]
    return days


def spells_of_luck(rng):
    """Outcomes that go by spells of several days, beyond what the chances tell."""
    said = normal_cdf(0.8 * spells(rng, 0.9) - 0.4)
    return said.ravel(), (normal_cdf(spells(rng, 0.85)) < said).ravel().astype(float)


def days_apart(rng):
    """Every day its own trial."""
    said = rng.random(SEASON.size)
    return said, (rng.random(SEASON.size) < said).astype(float)


@pytest.mark.parametrize("forecasts", [one_event_a_season, spells_of_luck, days_apart])
def test_nine_in_ten_bins_of_a_reliable_forecast_lie_in_their_band(forecasts, rng):
    inside = [
        reliability.reliability(*forecasts(rng), SEASON, TENTHS, rng, 200).inside
        for _ in range(100)
    ]
    assert np.concatenate(inside).mean() == pytest.approx(0.9, abs=0.04)


def test_bars_that_take_each_day_for_its_own_trial_are_far_too_narrow(rng):
    inside = []
    for _ in range(50):
        said, came = one_event_a_season(rng)
        by_season = reliability.reliability(said, came, SEASON, TENTHS, rng, 200)
        low, high = reliability.consistency_bars(said, TENTHS, rng, 200)
        inside.append((low <= by_season.came) & (by_season.came <= high))
    assert np.concatenate(inside).mean() < 0.6


def test_where_days_are_apart_the_band_is_the_consistency_bar(rng):
    said, came = days_apart(rng)
    apart = reliability.reliability(
        said, came, np.arange(said.size), TENTHS, rng, 4_000
    )
    low, high = reliability.consistency_bars(said, TENTHS, rng, 4_000)
    np.testing.assert_allclose(apart.low, low, rtol=0, atol=0.015)
    np.testing.assert_allclose(apart.high, high, rtol=0, atol=0.015)


def test_a_consistency_bar_holds_nine_tenths_of_the_binomial(rng):
    from scipy.stats import binom

    low, high = reliability.consistency_bars(np.full(50, 0.3), [0, 1], rng, 20_000)
    assert low[0] * 50 == binom.ppf(0.05, 50, 0.3)
    assert high[0] * 50 == binom.ppf(0.95, 50, 0.3)


def test_forecasts_that_promise_too_much_are_found_out(rng):
    said, came = spells_of_luck(rng)
    boastful = reliability.reliability(
        np.minimum(said + 0.25, 1), came, SEASON, TENTHS, rng
    )
    assert boastful.inside.mean() < 0.5


def test_each_occupied_bin_says_what_was_said_what_came_and_how_often(rng):
    said, came = [0.12, 0.18, 0.9, 0.96], [0, 1, 1, 1]
    table = reliability.reliability(said, came, [1, 2, 1, 2], TENTHS, rng)
    assert table.said.tolist() == pytest.approx([0.15, 0.93])
    assert table.came.tolist() == [0.5, 1.0]
    assert table.n.tolist() == [2, 2]


def test_forecasts_not_yet_judged_are_left_out(rng):
    said, came = [0.1, 0.2, np.nan], [0, np.nan, 1]
    table = reliability.reliability(said, came, [1, 1, 1], TENTHS, rng)
    assert table.n.tolist() == [1]


def test_with_no_forecast_judged_there_is_no_table(rng):
    with pytest.raises(NotEnoughWeather, match="known outcome"):
        reliability.reliability([], [], [], TENTHS, rng)


def test_a_sure_and_true_forecast_lies_in_its_band(rng):
    table = reliability.reliability([0.0, 1.0], [0, 1], [1, 1], TENTHS, rng)
    assert table.inside.all()


def test_the_same_luck_gives_the_same_band(rng):
    forecasts = spells_of_luck(rng)
    first, again = (
        reliability.reliability(*forecasts, SEASON, TENTHS, np.random.default_rng(3))
        for _ in range(2)
    )
    assert first.low.tolist() == again.low.tolist()


def test_luck_shared_by_half_is_measured_as_a_half(rng):
    said = np.full(SEASON.size, 0.4)
    came = reliability.reliable_outcomes(said, SEASON, 0.5, rng, 200)
    in_bin = np.ones((1, said.size))
    found = [reliability.shared_luck(said, each, SEASON, in_bin) for each in came]
    assert np.mean(found) == pytest.approx(0.5, abs=0.03)


def test_advice_half_way_from_the_rule_to_foresight_has_half_the_share(rng):
    rule, foresight = np.array([0.6, 0.7, 0.8]), np.array([0.9, 0.9, 1.0])
    share = reliability.bootstrap_share((rule + foresight) / 2, rule, foresight, rng)
    assert (share.share, share.low, share.high) == pytest.approx((0.5, 0.5, 0.5))


def test_nine_in_ten_intervals_hold_the_true_share(rng):
    held = []
    for _ in range(200):
        rule = rng.normal(0.7, 0.1, size=80)
        advice = rule + rng.normal(0.08, 0.1, size=80)
        foresight = rule + rng.gamma(4, 0.05, size=80)
        share = reliability.bootstrap_share(advice, rule, foresight, rng, 300)
        held.append(share.low <= 0.4 <= share.high)
    assert np.mean(held) == pytest.approx(0.9, abs=0.06)


def test_a_season_not_valued_leaves_the_share_unknown(rng):
    share = reliability.bootstrap_share([0.5, np.nan], [0.4, 0.4], [0.9, 0.9], rng)
    assert np.isnan([share.share, share.low, share.high]).all()


def test_where_foresight_gains_nothing_there_is_no_share(rng):
    assert np.isnan(reliability.bootstrap_share([0.7], [0.7], [0.7], rng).share)
