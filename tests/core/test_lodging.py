"""A crop lies as the mechanics say, thick sowing is weaker, and lodging teaches."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.core.inputs.lodging import Husbandry, StandingPrior
from sheafwright.core.lodging.anchorage import anchorage_strength
from sheafwright.core.lodging.learning import (
    angular,
    chosen,
    factor_grid,
    prior_weights,
    weigh,
)
from sheafwright.core.lodging.season import (
    Both,
    Days,
    draw_mechanics,
    failing_gusts,
    felt_gusts,
    firmness,
    load,
    roots,
    season_share,
    share_lodged,
    shares_by_day,
    unit_moment,
)
from sheafwright.core.lodging.stem import failing_gust, self_weight, stem_strength
from sheafwright.core.lodging.wind import (
    GustLine,
    gust_at_crop,
    gust_from_wind,
    gust_line,
)
from sheafwright.core.soil.strength import topsoil_wetness
from sheafwright.feeds import lodging

EFFECTS = lodging.effects()
MEDIUM = lodging.mechanics("medium")
TALL = Husbandry(plants_per_m2=250, height=1.2, nitrogen_index=1, weeks_later=0)
DRAWS, PATCHES, N_DAYS = 120, 40, 60
factors = st.floats(1.1, 4)


def drawn(n_draws=DRAWS, n_patches=PATCHES):
    shape, rng = (n_draws, n_patches), np.random.default_rng(2)
    return draw_mechanics(MEDIUM, lodging.doubt(), lodging.patches(), shape, rng)


STANDS = drawn()


def windy_days(n_draws=DRAWS, n_days=N_DAYS):
    """Days of gusts and showers, standing from the tenth on."""
    rng = np.random.default_rng(3)
    gust = 11 * rng.weibull(2.2, (n_draws, n_days))
    rain = np.where(
        rng.random((n_draws, n_days)) < 0.4, rng.gamma(0.8, 6, gust.shape), 0
    )
    wetness = topsoil_wetness(rain, 2.5, np.full(n_draws, 7.2))
    standing = np.broadcast_to(np.arange(n_days) >= 10, gust.shape)
    return Days(gust, wetness, standing)


DAYS = windy_days()


def grown(**changes):
    return dataclasses.replace(TALL, **changes)


def mean_share(**changes):
    return season_share(grown(**changes), DAYS, STANDS, EFFECTS).mean()


def bare(husbandry, mechanics=MEDIUM):
    """Gusts that a stand bears without any spread."""
    stem, root = failing_gusts(husbandry, mechanics, EFFECTS)
    return Both(float(np.squeeze(stem)), float(np.squeeze(root)))


@given(factors)
def test_a_root_bears_more_by_its_spread_to_one_and_a_half_and_the_soils_root(by):
    usual = bare(TALL).root
    wider = dataclasses.replace(MEDIUM, root_spread=by * MEDIUM.root_spread)
    firmer = dataclasses.replace(MEDIUM, wet_strength=by * MEDIUM.wet_strength)
    more = dataclasses.replace(MEDIUM, shoots_per_m2=by * MEDIUM.shoots_per_m2)
    assert bare(TALL, wider).root == pytest.approx(usual * by**1.5)
    assert bare(TALL, firmer).root == pytest.approx(usual * by**0.5)
    assert bare(TALL, more).root == pytest.approx(usual * by**-0.5)


@given(factors)
def test_a_stem_bears_more_by_the_root_of_its_yield_stress(by):
    stiffer = dataclasses.replace(MEDIUM, yield_stress=by * MEDIUM.yield_stress)
    assert bare(TALL, stiffer).stem == pytest.approx(bare(TALL).stem * by**0.5)
    assert bare(TALL, stiffer).root == bare(TALL).root


def test_a_shoot_too_stiff_to_lean_carries_no_weight_of_its_own():
    assert self_weight(1e4, 0.7) == pytest.approx(1, abs=1e-8)
    assert self_weight(0.5, 0.7) > self_weight(0.9, 0.7) > 1


def test_a_tall_crop_goes_down_in_three_quarters_of_the_gust_that_fells_a_short_one():
    def of(centre_share, frequency_height, height):
        crop = dataclasses.replace(
            MEDIUM, centre_share=centre_share, frequency_height=frequency_height
        )
        return failing_gust(1.0, unit_moment(height, crop))

    tall, short = of(0.70 / 1.2, 0.60 * 1.2, 1.2), of(0.50 / 0.8, 0.90 * 0.8, 0.8)
    assert tall / short == pytest.approx(0.7618, abs=5e-5)


def test_overshoot_can_be_left_out():
    without = dataclasses.replace(MEDIUM, overshoot_counts=0)
    ratio = bare(TALL, without).stem / bare(TALL).stem
    assert ratio == pytest.approx(1.7002368**0.5)


@settings(max_examples=200)
@given(st.floats(0.01, 0.6), st.floats(0, 0.9), st.floats(1.05, 4))
def test_thick_sowing_is_weaker_at_the_roots_exactly_where_its_sign_rule_says(
    narrower, more_shoots, by
):
    effects = dataclasses.replace(
        EFFECTS, spread_exponent=-narrower, shoots_exponent=more_shoots
    )
    margin = 3 * narrower - (1 - more_shoots)
    thin, thick = (
        float(np.squeeze(failing_gusts(grown(plants_per_m2=p), MEDIUM, effects).root))
        for p in (250, 250 * by)
    )
    assert thick / thin == pytest.approx(by ** (-margin / 2))
    if abs(margin) > 1e-6:
        assert (thick < thin) == (margin > 0)


def test_the_tables_exponents_keep_the_sign_rule():
    assert 3 * -EFFECTS.spread_exponent > 1 - EFFECTS.shoots_exponent
    thin, thick = (bare(grown(plants_per_m2=p)) for p in (250, 500))
    assert thick.root / thin.root == pytest.approx(1 - 0.144, abs=5e-4)
    assert thick.stem < thin.stem


def test_density_never_changes_shoots_on_a_plant_without_its_roots():
    thin, thick = (roots(plants, MEDIUM, EFFECTS) for plants in (150, 400))
    assert thick[0] < thin[0]
    assert thick[1] < thin[1]
    # Fewer shoots to hold would make it look safer; its smaller cone does not.
    strength = [
        anchorage_strength(6e3, spread, 0.43) / n for spread, n in (thin, thick)
    ]
    assert strength[1] < strength[0]


def test_nitrogen_weakens_stems_twice_as_much_as_roots():
    richer = firmness(grown(nitrogen_index=2), EFFECTS)
    assert richer.stem < richer.root < 1
    assert np.log(richer.stem) == pytest.approx(2 * np.log(richer.root))


def test_a_week_is_worth_what_the_guidance_says_in_the_gusts_that_fell_such_crops():
    later = firmness(grown(weeks_later=1), EFFECTS)
    gain = 18.2 * np.log(later.stem)
    assert gain == pytest.approx(0.5 * 5 / 3.6, rel=1e-6)
    assert later.stem == later.root


def test_sowing_weeks_outside_autumn_count_no_more():
    six, twenty = (firmness(grown(weeks_later=weeks), EFFECTS) for weeks in (6, 20))
    assert six == twenty


@settings(max_examples=25, deadline=None)
@given(
    st.sampled_from(["plants_per_m2", "height", "nitrogen_index"]),
    st.floats(0.5, 1.5),
    st.floats(1.05, 1.6),
)
def test_thicker_taller_and_richer_crops_lie_more(what, at, by):
    low = at * getattr(TALL, what)
    assert mean_share(**{what: low}) <= mean_share(**{what: low * by})


@given(st.floats(-6, 5), st.floats(0.2, 6))
@settings(max_examples=25, deadline=None)
def test_later_sown_crops_lie_less(weeks, by):
    assert mean_share(weeks_later=weeks + by) <= mean_share(weeks_later=weeks)


def test_the_proven_changes_are_no_small_matter():
    usual = mean_share()
    assert mean_share(plants_per_m2=150) < 0.9 * usual
    assert mean_share(weeks_later=3) < 0.9 * usual
    assert mean_share(height=1.0) < 0.9 * usual
    assert mean_share(nitrogen_index=3) > 1.1 * usual


def test_of_seeds_from_50_to_1600_the_thicker_lies_first_and_most():
    # Easson, White and Pickles 1993, in that order; two seeds in three come up.
    plants = np.array([50, 100, 200, 400, 800, 1600]) * 2 / 3
    husbandry = grown(plants_per_m2=plants)
    felt = felt_gusts(DAYS, np.full(6, 1.2), STANDS)
    shares = shares_by_day(felt, failing_gusts(husbandry, STANDS, EFFECTS))
    lies = (shares.stem + shares.root).mean(axis=-2)
    assert (np.diff(lies[:, -1]) > 0).all()
    first = (lies > 0.05).argmax(axis=-1)
    assert (np.diff(first[lies[:, -1] > 0.05]) <= 0).all()
    assert first[-1] < first[2]


def test_wet_ground_is_weaker_for_roots_and_not_for_stems():
    dry, wet = (
        felt_gusts(DAYS._replace(wetness=np.full_like(DAYS.gust, w)), 1.2, STANDS)
        for w in (0.0, 1.0)
    )
    np.testing.assert_array_equal(dry.stem, wet.stem)
    on = DAYS.standing
    assert (wet.root[on] > dry.root[on]).all()
    np.testing.assert_allclose(wet.root, wet.stem)


def test_nothing_lies_before_ear_emergence():
    shares = _by_day(TALL)
    assert not shares.stem[:, :10].any()
    assert not shares.root[:, :10].any()


def _by_day(husbandry, days=DAYS):
    felt = felt_gusts(days, husbandry.height, STANDS)
    return shares_by_day(felt, failing_gusts(husbandry, STANDS, EFFECTS))


def test_what_lies_by_the_last_day_is_the_seasons_share():
    shares = _by_day(TALL)
    by_day = shares.stem + shares.root
    assert (np.diff(by_day, axis=-1) >= 0).all()
    np.testing.assert_allclose(by_day[:, -1], season_share(TALL, DAYS, STANDS, EFFECTS))


def test_every_patch_is_where_a_plain_walk_through_the_days_puts_it():
    felt = felt_gusts(DAYS, 1.2, STANDS)
    failing = failing_gusts(TALL, STANDS, EFFECTS)
    shares = shares_by_day(felt, failing)
    for draw in range(0, DRAWS, 7):
        down = {"stem": [], "root": []}
        for patch in range(PATCHES):
            bears = Both(*(float(each[draw, patch]) for each in failing))
            for day in range(N_DAYS):
                over = Both(
                    felt.stem[draw, day] / bears.stem, felt.root[draw, day] / bears.root
                )
                if max(over) >= 1:
                    down["stem" if over.stem > over.root else "root"].append(day)
                    break
        for kind, share in shares._asdict().items():
            expected = [sum(d <= day for d in down[kind]) for day in range(N_DAYS)]
            np.testing.assert_allclose(share[draw] * PATCHES, expected)


def test_a_missing_day_in_ear_makes_the_season_unknown_and_one_before_does_not():
    gust = DAYS.gust.copy()
    gust[0, 5], gust[1, 30] = np.nan, np.nan
    days = DAYS._replace(gust=gust)
    share = season_share(TALL, days, STANDS, EFFECTS)
    assert np.isfinite(share[0])
    assert np.isnan(share[1])
    assert np.isnan(_by_day(TALL, days).root[1]).all()
    assert np.isfinite(share[2:]).all()


def test_a_season_of_like_days_goes_down_as_the_closed_form_says():
    # Gusts Weibull (2.2, 11 m/s), a stand that bears 20 m/s, 60 days:
    # 1 - (1 - exp(-(20 / 11)^2.2))^60 = 0.7685869, worked apart.
    n, rng = 20_000, np.random.default_rng(5)
    gust = 11 * rng.weibull(2.2, (n, 60))
    felt = Both(gust, np.zeros_like(gust))
    failing = Both(np.full((n, 1), 20.0), np.full((n, 1), 20.0))
    share = share_lodged(load(felt, failing))
    assert share.mean() == pytest.approx(0.7685869, abs=4 * (0.77 * 0.23 / n) ** 0.5)


def test_crops_are_told_apart_in_one_call_as_in_many():
    plants = np.array([150.0, 250, 400])
    weeks = np.array([[-2.0], [0], [4], [6]])
    together = season_share(
        grown(plants_per_m2=plants, weeks_later=weeks), DAYS, STANDS, EFFECTS
    )
    assert together.shape == (4, 3, DRAWS)
    alone = season_share(
        grown(plants_per_m2=400.0, weeks_later=4.0), DAYS, STANDS, EFFECTS
    )
    np.testing.assert_array_equal(together[2, 2], alone)


def test_draws_lie_about_the_table_and_only_where_it_is_doubted():
    many = drawn(4000, 3)
    spread = np.median(many.root_spread)
    scores = np.log(many.drag[:, 0] / MEDIUM.drag) / lodging.doubt().drag
    # One of each four-thousandth part of the chances.
    assert abs(scores.mean()) < 1e-3
    assert spread == pytest.approx(MEDIUM.root_spread, rel=0.01)
    assert np.log(many.drag[:, 0]).std() == pytest.approx(
        lodging.doubt().drag, rel=0.05
    )
    assert many.drag.shape == (4000, 1)
    assert many.damping == MEDIUM.damping
    between = np.log(many.root_spread).std(axis=-1, ddof=1)
    within = np.sqrt((between**2).mean())
    assert within == pytest.approx(lodging.patches().root_spread, rel=0.05)


def test_the_weakest_dry_fields_go_down_in_the_gusts_that_were_recorded():
    # Niu et al. 2016: of 52 large events the least gusts without rain were 14.9 m/s for
    # severity 2 up to 26.5 m/s for severity 5. Those crops were short and modern.
    stands = drawn(2000, 20)
    short = grown(height=0.8, nitrogen_index=3)
    felt = gust_at_crop(
        1.0,
        0.8,
        stands.mast_gust_factor,
        stands.turbulence,
        stands.peak_factor,
        stands.blending_height,
    )
    failing = failing_gusts(short, stands, EFFECTS)
    dry = np.minimum(failing.stem, failing.root * stands.dry_over_wet**0.5) / felt
    wet = np.minimum(*failing) / felt
    weakest = np.quantile(np.median(dry, axis=-1), 1 / 52)
    assert 12 < weakest < 26.5
    assert np.quantile(np.median(wet, axis=-1), 1 / 52) < weakest


@given(st.lists(st.floats(0, 60), min_size=1, max_size=40), st.floats(3, 12))
def test_topsoil_is_never_drier_than_dry_nor_wetter_than_full(rain, capacity):
    wetness = topsoil_wetness(np.array(rain), 3.0, capacity)
    assert ((wetness >= 0) & (wetness <= 1)).all()
    more = topsoil_wetness(np.array(rain) + 1, 3.0, capacity)
    assert (more >= wetness).all()


def test_a_hollow_stem_is_weaker_than_a_thick_walled_one():
    walls = stem_strength(30e6, 0.004, np.linspace(1e-4, 2e-3, 20))
    assert (np.diff(walls) > 0).all()


def test_a_stations_line_of_gusts_is_found_again():
    rng = np.random.default_rng(8)
    wind = 6 * rng.weibull(2, 20_000) + 0.3
    true = GustLine(1.1, 0.8, 0.2)
    gust = gust_from_wind(wind, true) * rng.lognormal(0, true.sd, wind.shape)
    assert gust_line(wind, gust) == pytest.approx(true, abs=0.01)
    gust[::3] = np.nan
    assert gust_line(wind, gust) == pytest.approx(true, abs=0.02)


PRIOR = StandingPrior(usual_factor=1.0, factor_sd=0.3, share_error=0.1)
YEARS = 8


@pytest.fixture(scope="module")
def loads():
    """Of some years on one holding's fields, (year, draw, patch)."""
    failing = failing_gusts(TALL, STANDS, EFFECTS)
    years = [DAYS._replace(gust=np.roll(DAYS.gust, 11 * n, 0)) for n in range(YEARS)]
    return np.array([load(felt_gusts(y, 1.2, STANDS), failing) for y in years])


def test_nothing_seen_leaves_the_prior_as_it_was():
    weights = weigh(np.empty((0, DRAWS, PATCHES)), np.empty(0), PRIOR)
    np.testing.assert_allclose(weights.sum(axis=-1), prior_weights(PRIOR))
    assert weights.sum() == pytest.approx(1)


def test_lodging_seen_lowers_what_is_borne_and_standing_raises_it(loads):
    grid = factor_grid(PRIOR)
    usual = grid @ prior_weights(PRIOR)
    for share, sign in ((0.0, 1), (0.9, -1)):
        weights = weigh(loads, np.full(YEARS, share), PRIOR)
        assert np.sign(grid @ weights.sum(axis=-1) - usual) == sign


def test_a_known_factor_is_found_again_and_the_interval_holds_it_as_often_as_it_says(
    loads,
):
    rng, grid = np.random.default_rng(13), factor_grid(PRIOR)
    n = 150
    true = np.exp(rng.normal(0, PRIOR.factor_sd, n))
    means, held = np.empty(n), np.empty(n, dtype=bool)
    for number, factor in enumerate(true):
        stand = rng.integers(DRAWS)
        shares = share_lodged(loads[:, stand], factor)
        judged = angular(shares) + rng.normal(0, PRIOR.share_error, YEARS)
        seen = np.sin(np.clip(judged, 0, np.pi / 2)) ** 2
        weights = weigh(loads, seen, PRIOR).sum(axis=-1)
        means[number] = weights @ np.log(grid)
        below = np.cumsum(weights) - weights / 2
        low, high = np.interp([0.1, 0.9], below, np.log(grid))
        held[number] = low <= np.log(factor) <= high
    assert np.corrcoef(means, np.log(true))[0, 1] > 0.6
    assert np.std(means - np.log(true)) < 0.8 * PRIOR.factor_sd
    assert held.mean() == pytest.approx(0.8, abs=0.1)


def test_stands_are_chosen_in_proportion_to_their_weights(loads):
    weights = weigh(loads, np.full(YEARS, 0.2), PRIOR)
    factor, draw = chosen(weights, 50_000, np.random.default_rng(1))
    often = np.zeros(weights.shape)
    np.add.at(often, (factor, draw), 1 / 50_000)
    np.testing.assert_allclose(often, weights, atol=1 / 50_000)
