"""Sowings set side by side over the same seasons: each as if it were grown alone."""

import numpy as np
import pytest

from sheafwright.core.crop.development import develop
from sheafwright.core.crop.progress import first_day
from sheafwright.core.season.sowings import (
    Growth,
    Harvest,
    growth,
    harvest,
    is_known,
    on_day,
    seasons_of,
)
from sheafwright.feeds import crop
from sheafwright.feeds.decision import losses

LOSSES, WINDOW = losses(), crop.cutting_window()
PHASES, FILLING = crop.phases("end-january"), crop.grain_filling_forms()[1]
N_DAYS = 30


@pytest.fixture
def ripening():
    """One crop in one season: 5 hundredths riper a day, soft dough on day 8."""
    ripe = (0.5 + 0.05 * np.arange(N_DAYS))[np.newaxis, np.newaxis]
    day = np.zeros((1, 1))
    return Growth(day, day, ripe, np.array([[8.0]]), np.array([[13.0]]))


@pytest.fixture
def cut(ripening):
    """The harvest of that crop, some of its days changed."""

    def cut(**changes):
        days = {
            "binder_day": np.ones((1, N_DAYS), dtype=bool),
            "came_through": np.ones((1, N_DAYS), dtype=bool),
            "share": np.full((1, N_DAYS), 0.9),
        }
        return harvest(ripening, **days | changes, losses=LOSSES)

    return cut


def none_until(day):
    return (np.arange(N_DAYS) >= day)[np.newaxis]


def test_each_sowing_grows_as_it_would_alone(season):
    years = np.stack([season.tmin, season.tmin - 1])
    warm = np.stack([season.tmax, season.tmax - 1])
    sown = np.array([[40, 39], [100, 101], [180, 180]])
    light = np.broadcast_to(season.day_length, years.shape)
    together = growth(years, warm, light, sown, PHASES, FILLING, WINDOW)
    for sowing, each in np.ndindex(sown.shape):
        days = years[each], warm[each], season.day_length
        alone = develop(*days, sown[sowing, each], PHASES, FILLING)
        found = [together.emergence, together.ear_out]
        assert [day[sowing, each] for day in found] == [alone.emergence, alone.gs59]
        ripe = first_day(together.ripeness[sowing, each] >= 1)
        np.testing.assert_equal(ripe, alone.gs87)


def test_a_season_begins_on_its_day_and_is_unknown_past_the_records_end():
    found = seasons_of([0.0, 1.0, 2.0, 3.0, 4.0], [1, 3], 3)
    np.testing.assert_array_equal(found, [[1, 2, 3], [3, 4, np.nan]])


def test_a_value_is_read_on_each_crops_own_day():
    values = np.array([[10.0, 11.0, 12.0], [20.0, 21.0, 22.0]])
    day = np.array([[0.0, 2.0], [1.0, np.nan]])
    np.testing.assert_array_equal(on_day(values, day), [[10, 22], [11, np.nan]])


def test_a_crop_is_cut_when_its_window_opens_and_a_binder_can_go(cut):
    assert cut().cut == 8
    assert cut(binder_day=none_until(11)).cut == 11


def test_its_worth_is_that_of_its_ripeness_times_what_the_stooks_bring(cut):
    table = LOSSES.ripeness
    assert cut().worth == pytest.approx(0.9)
    # Full ripeness, 1.03, is passed on day 11; day 16 is five days over.
    late = 1 - table.over_ripe_loss * 5 - table.over_ripe_loss_squared * 25
    assert cut(binder_day=none_until(16)).worth == pytest.approx(0.9 * late)


def test_a_crop_never_cut_is_worth_what_is_left_standing(cut):
    found = cut(binder_day=np.zeros((1, N_DAYS), dtype=bool))
    assert np.isnan(found.cut)
    assert found.worth == LOSSES.stook.never_cut


def test_a_fit_spell_counts_only_while_the_binders_window_is_open(cut):
    assert cut().fit_spell
    assert cut(came_through=none_until(13)).fit_spell
    assert not cut(came_through=none_until(14)).fit_spell


def test_a_missing_day_matters_from_sowing_to_cutting_alone(ripening, cut):
    sown = np.array([[3]])

    def known(day, harvest):
        missing = (np.arange(N_DAYS) == day)[np.newaxis]
        return bool(is_known(missing, sown, ripening, harvest)[0, 0])

    assert [known(day, cut()) for day in (2, 3, 8, 13, 14)] == [
        True, False, False, False, True,
    ]  # fmt: skip
    # What was never cut is known only once the season is over.
    never = cut(binder_day=np.zeros((1, N_DAYS), dtype=bool))
    assert not known(N_DAYS - 1, never)


def test_stooks_still_out_at_the_records_end_leave_the_worth_unknown(ripening):
    unknown = Harvest(np.array([[8.0]]), np.array([[False]]), np.array([[np.nan]]))
    missing = np.zeros((1, N_DAYS), dtype=bool)
    assert not is_known(missing, np.array([[3]]), ripening, unknown)
