"""What possible summers make of the crop, and the chance of a fit spell."""

import numpy as np
import pytest

from sheafwright.core.drying.stook import drying_rate, stooks
from sheafwright.core.season.summers import came_through, fit_week, summers
from sheafwright.core.season.worth import ripeness_worth
from sheafwright.feeds.decision import losses

LOSSES = losses()
N_CUTS, N_DAYS = 6, 60


@pytest.fixture
def made():
    """Two summers of one record, dry and wet, seen from a nearly ripe crop."""
    rain = np.concatenate([np.zeros(N_DAYS), np.full(N_DAYS, 6.0)])
    rate = drying_rate(np.full(2 * N_DAYS, 2.5), LOSSES.drying)
    dry = np.arange(N_DAYS)
    wet = np.concatenate([[0], np.arange(N_DAYS, 2 * N_DAYS - 1)])
    ripeness = 0.86 + 0.05 * np.tile(np.arange(N_CUTS), (2, 1))
    paths = np.stack([dry, wet])
    return paths, rain, rate, summers(paths, ripeness, -1, rain, rate, LOSSES)


def test_a_summers_worth_is_its_ripeness_worth_times_what_the_stooks_bring(made):
    paths, rain, rate, found = made
    share, days_out = stooks(paths, rain, rate, N_CUTS, LOSSES)
    ripe = ripeness_worth(found.ripeness, np.array([0, 0, 0, 0, 0, 1]), LOSSES.ripeness)
    np.testing.assert_allclose(found.worth, np.maximum(ripe * share, 0.2))
    np.testing.assert_array_equal(found.stook_share, share)
    np.testing.assert_array_equal(found.days_out, days_out)


def test_a_wet_summer_can_only_be_cut_on_today(made):
    *_, found = made
    assert found.can_cut.tolist() == [[True] * 6, [True] + [False] * 5]


def test_days_over_ripe_go_on_from_the_day_before_today():
    paths = np.arange(N_DAYS)[np.newaxis]
    rate = drying_rate(np.full(N_DAYS, 2.5), LOSSES.drying)
    fresh, late = (
        summers(paths, np.full((1, 2), 1.2), over, np.zeros(N_DAYS), rate, LOSSES)
        for over in (-1, 6)
    )
    assert fresh.worth[0].tolist() == pytest.approx([1.0, 1 - 0.012 - 0.0015])
    assert late.worth[0, 0] == pytest.approx(1 - 0.012 * 7 - 0.0015 * 49)


def test_the_chance_of_a_fit_spell_is_the_share_of_summers_that_have_one(made):
    *_, found = made
    assert fit_week(found, 10, 0.9).tolist() == [0.5] * N_CUTS


def test_a_shower_does_not_spoil_a_fit_spell_but_a_wet_fortnight_does():
    days_out, share = np.array([9, 9, 12, -1]), np.array([0.96, 0.88, 0.97, 0.25])
    came = came_through(days_out, share, longest_days=10, least_share=0.9)
    assert came.tolist() == [True, False, False, False]
