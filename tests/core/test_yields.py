"""Straw and grain move the ways that are known, and keep within what was printed."""

import time

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.crop.yields import (
    bound_straw,
    draw_luck,
    draw_recovery,
    dry_matter,
    grain_per_straw,
    grown,
    half_full_plants,
    harvest_index,
    odds,
    share_of_full,
)
from sheafwright.feeds import outturns, yields

RESPONSE, STAND = yields.part("nitrogen"), yields.part("stand")
supplies = st.floats(0, 400)
more = st.floats(1, 100)


def against(name):
    """Odds of a height class over those of the wheat the response was seen on."""
    mine, seen = (
        odds(yields.height_class(each).harvest_index)
        for each in (name, yields.RESPONSE_WHEAT)
    )
    return mine / seen


@given(supplies, more)
def test_more_nitrogen_makes_more_of_both_and_relatively_more_straw(supply, more):
    less, rich = (
        grown(each, 200, 1.6, 1, RESPONSE) for each in (supply, supply + more)
    )
    assert rich.straw > less.straw
    assert rich.grain / rich.straw < less.grain / less.straw


def test_grain_never_falls_within_what_was_tried():
    within = np.linspace(30, 174, 50)
    assert (np.diff(grown(within, 200, 1.6, 1, RESPONSE).grain) > 0).all()


@given(supplies, st.sampled_from(yields.HEIGHT_CLASSES), st.floats(5, 600))
def test_straw_and_grain_make_the_same_whole_whatever_the_height(supply, name, plants):
    crop = grown(supply, plants, 1.6, against(name), RESPONSE)
    whole = dry_matter(supply, RESPONSE) * share_of_full(plants, 1.6)
    assert crop.straw + crop.grain == pytest.approx(whole)


def test_the_taller_the_class_the_more_of_it_is_straw():
    classes = [yields.height_class(name) for name in yields.HEIGHT_CLASSES]
    heights = [each.height for each in classes]
    straws = [
        grown(90, 200, 1.6, against(name), RESPONSE).straw
        for name in yields.HEIGHT_CLASSES
    ]
    assert heights == sorted(heights, reverse=True)
    assert straws == sorted(straws, reverse=True)


def test_modern_wheat_beats_the_old_by_about_what_was_published():
    """52 % more grain at the same weight, over 0 to 288 kg/ha (Austin et al. 1993)."""
    supply = np.array([0, 96, 192, 288]) + RESPONSE.ground_supply
    old, modern = (
        grown(supply, 200, 1.6, against(name), RESPONSE).grain.mean()
        for name in ("old_tall", "short")
    )
    assert modern / old == pytest.approx(1.52, abs=0.15)


@pytest.mark.parametrize("given_kg", [0, 48, 96, 144])
def test_the_harvest_index_falls_with_nitrogen_as_the_four_plots_did(given_kg):
    ratio = grain_per_straw(given_kg + RESPONSE.ground_supply, RESPONSE)
    # The straight line through the plots' means is itself good to 0.003.
    line = 0.406 - 0.00050 * given_kg
    assert harvest_index(ratio) == pytest.approx(line, abs=0.005)


@given(st.floats(0.01, 0.99))
def test_odds_and_harvest_index_undo_each_other(share):
    assert harvest_index(odds(share)) == pytest.approx(share)


@pytest.mark.parametrize(("days", "optimum"), [(0, 62), (15, 90), (45, 140)])
def test_more_plants_than_paid_in_trials_hardly_add_to_the_crop(days, optimum):
    at_optimum = share_of_full(optimum, half_full_plants(days, STAND))
    assert 0.96 < at_optimum < 0.995
    # There the last plant gives its seed's worth: 0.75 kg at twice the grain's price.
    gained = 8000 * np.gradient(
        share_of_full(
            [optimum - 1, optimum, optimum + 1], half_full_plants(days, STAND)
        )
    )
    assert gained[1] == pytest.approx(1.5, rel=0.1)


def test_a_stand_so_thin_that_it_would_be_redrilled_loses_some_and_is_less_sure():
    luck = draw_luck(yields.part("years"), STAND, 4000, np.random.default_rng(1))
    half_full = half_full_plants(45, STAND) * luck.half_full
    thin, usual, thick = (share_of_full(plants, half_full) for plants in (30, 200, 400))
    assert thin.mean() < 0.9 < usual.mean()
    assert thin.std() > 3 * usual.std()
    assert (thick > usual).all()
    assert np.median(thick / usual) < 1.02


def test_late_sown_crops_want_more_plants():
    assert (np.diff(half_full_plants(np.arange(0, 151, 10), STAND)) > 0).all()


@given(st.floats(0, 60), st.floats(80, 160))
def test_the_binder_binds_the_less_the_higher_it_cuts(stubble, height):
    low, high = (bound_straw(4.0, height, each, 1.3) for each in (stubble, stubble + 1))
    assert 0 < high < low <= 4.0


@pytest.mark.parametrize("combed", [True, False])
def test_what_the_drum_makes_keeps_within_what_its_shares_allow(combed):
    made, *_, rest = outturns.usual_shares(combed).values()
    drawn = draw_recovery(made, rest, 4000, np.random.default_rng(1))
    least, most = made[0] / (made[0] + rest[1]), made[1] / (made[1] + rest[0])
    assert least <= drawn.min() < drawn.max() <= most
    assert drawn.std() > 0.02


def test_luck_spreads_as_years_and_plots_do_together():
    spread = yields.part("years")
    luck = draw_luck(spread, STAND, 40_000, np.random.default_rng(1))
    whole = spread.dry_matter_years**2 + spread.dry_matter_plots**2
    ratio = spread.grain_per_straw_years**2 + spread.grain_per_straw_plots**2
    assert luck.dry_matter.var() == pytest.approx(whole, rel=0.03)
    assert luck.grain_per_straw.var() == pytest.approx(ratio, rel=0.03)
    assert np.median(luck.half_full) == pytest.approx(1, rel=0.03)


def test_alternatives_meet_the_same_luck_in_one_call():
    luck = draw_luck(yields.part("years"), STAND, 50, np.random.default_rng(1))
    supply = np.array([60, 100])[:, np.newaxis, np.newaxis]
    plants = np.array([80, 160, 320])[:, np.newaxis]
    together = grown(supply, plants, 1.6, 1, RESPONSE, luck)
    assert together.straw.shape == (2, 3, 50)
    alone = grown(100, 160, 1.6, 1, RESPONSE, luck)
    np.testing.assert_array_equal(together.grain[1, 1], alone.grain)


def test_a_whole_comparison_of_sowings_takes_no_time_to_speak_of():
    luck = draw_luck(yields.part("years"), STAND, 84 * 10, np.random.default_rng(1))
    half_full = half_full_plants(np.arange(-20, 100, 10), STAND)
    began = time.perf_counter()
    dates = half_full[:, np.newaxis, np.newaxis]
    plants = np.array([100, 200, 300])[:, np.newaxis]
    assert grown(90, plants, dates, 1, RESPONSE, luck).straw.shape == (12, 3, 840)
    assert time.perf_counter() - began < 0.5
