"""A few of the grower's own dates make the tool right on the farm."""

import dataclasses

import numpy as np
import pytest

from sheafwright.core.crop.development import develop, ripeness
from sheafwright.core.crop.learning import (
    Doubt,
    crops,
    draw_doubt,
    effective_draws,
    past_dates,
    resample,
    weigh,
)
from sheafwright.core.crop.progress import first_day
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds import crop

PHASES = crop.phases("end-january")
FORMS = crop.grain_filling_forms()
PRIOR = crop.doubt_prior()
ERRORS = dataclasses.astuple(crop.date_errors())
N_DRAWS = 4000


@pytest.fixture
def rng():
    return np.random.default_rng(42)


@pytest.fixture(scope="module")
def past(season):
    """Four past seasons, some warmer than others: weather and sowing days."""
    by = np.array([[-0.8], [0.3], [1.0], [-0.2]])
    years = season.tmin + by, season.tmax + by, season.day_length + 0 * by
    return tuple(each[:, :400] for each in years), np.array([39, 30, 45, 52])


def dates_of(past, doubt):
    weather, sown = past
    return past_dates(
        *weather, sown, crops(PHASES, FORMS, doubt), doubt.cutting_ripeness
    )


def one_crop(to_flowering=1.0, grain_filling=1.0, form=1):
    """A doubt of a single draw: by the book unless said otherwise."""
    ripe = [PRIOR.cutting_ripeness]
    return Doubt(*map(np.array, ([to_flowering], [grain_filling], [form], ripe)))


def cutting_days(past, doubt):
    return dates_of(past, doubt)[..., 1]


def test_past_dates_are_those_of_each_crop_alone(past):
    weather, sown = past
    book = one_crop()
    phases, filling = crops(PHASES, FORMS, book)
    third = [each[2] for each in weather]
    flowering = develop(*third, sown[2], phases, filling).gs61
    cut = first_day(ripeness(*third[:2], flowering, filling) >= PRIOR.cutting_ripeness)
    assert dates_of(past, book)[0, 2].tolist() == [*flowering, *cut]


def test_a_crop_twelve_days_early_is_learnt_from_four_seasons(past, rng):
    early = one_crop(to_flowering=0.855, grain_filling=0.93)
    seen = dates_of(past, early)[0] + rng.normal(0, ERRORS, (4, 2)).round()
    prior = draw_doubt(PRIOR, N_DRAWS, rng)
    drawn = dates_of(past, prior)
    posterior = resample(weigh(drawn, seen, ERRORS), N_DRAWS, rng)
    book, truth, learnt = (
        np.median(days)
        for days in (drawn[..., 1], cutting_days(past, early), drawn[posterior][..., 1])
    )
    assert book - truth == pytest.approx(12, abs=0.5)
    assert book - learnt > 0.75 * (book - truth)


def test_no_dates_leave_the_prior_as_it_was(past, rng):
    drawn = dates_of(past, draw_doubt(PRIOR, 500, rng))
    weights = weigh(drawn, np.full((4, 2), np.nan), ERRORS)
    assert np.all(weights == 1 / 500)
    assert effective_draws(weights) == pytest.approx(500)


def test_the_prior_is_centred_on_the_book(rng):
    drawn = draw_doubt(PRIOR, 40_000, rng)
    assert np.median(drawn.to_flowering) == pytest.approx(1, abs=0.003)
    assert np.log(drawn.grain_filling).std() == pytest.approx(
        PRIOR.grain_filling_sd, rel=0.02
    )
    assert np.bincount(drawn.form) / 40_000 == pytest.approx(
        PRIOR.form_weights, abs=0.01
    )


def test_the_weights_agree_with_the_conjugate_normal(rng):
    prior_mean, prior_sd, error = 200.0, 8.0, 5.0
    seen = np.array([[185.0], [190.0], [np.nan], [188.0]])
    days = rng.normal(prior_mean, prior_sd, 200_000)
    weights = weigh(np.tile(days[:, None, None], (1, 4, 1)), seen, [error])
    precision = 1 / prior_sd**2 + 3 / error**2
    mean = (prior_mean / prior_sd**2 + np.nansum(seen) / error**2) / precision
    # Four standard errors of the weighted sample, about 50,000 draws' worth.
    assert weights @ days == pytest.approx(mean, abs=0.05)
    assert weights @ (days - mean) ** 2 == pytest.approx(1 / precision, rel=0.03)


def test_resampled_draws_come_in_proportion_to_their_weights(rng):
    taken = resample(np.array([0.7, 0.0, 0.3]), 20_000, rng)
    assert np.bincount(taken) / 20_000 == pytest.approx([0.7, 0, 0.3], abs=0.015)


def test_a_crop_that_never_ripened_is_not_the_one_that_was_cut():
    drawn = np.array([[[160.0, 240.0]], [[160.0, np.nan]]])
    assert weigh(drawn, np.array([[160.0, 240.0]]), ERRORS).tolist() == [1, 0]


def test_dates_that_no_crop_could_reach_are_refused():
    drawn = np.full((3, 1, 2), np.nan)
    with pytest.raises(OutOfRange, match="check the dates, the variety class"):
        weigh(drawn, np.array([[160.0, 240.0]]), ERRORS)


def test_the_draws_taken_keep_their_four_numbers_together(rng):
    doubt = draw_doubt(PRIOR, 10, rng)
    assert np.array_equal(np.array(doubt.taken([7, 7])), np.array(doubt)[:, [7, 7]])
