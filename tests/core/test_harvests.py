"""The harvests on record: which days they hold, and what those are worth."""

from types import SimpleNamespace

import numpy as np
import pytest

from sheafwright.core.decide.harvests import MOST_DAYS, grown, harvests, taken
from sheafwright.core.drying.stook import drying_rate, stooks
from sheafwright.core.season.worth import days_over, ripeness_worth
from sheafwright.feeds.crop import grain_filling_forms, phases
from sheafwright.feeds.decision import losses

LOSSES = losses()
N_DAYS, SOWN = 600, np.array([0, 200])
NO_FORECAST = np.empty(0)


@pytest.fixture
def past():
    """A record of fair days with a shower every fourth, as `harvests` reads it."""
    rain = np.where(np.arange(N_DAYS) % 4, 0.0, 1.5)
    rate = drying_rate(np.full(N_DAYS, 2.5), LOSSES.drying)
    every_day = np.arange(N_DAYS)[np.newaxis]
    share, _ = stooks(every_day, rain, rate, N_DAYS, LOSSES)
    weather = SimpleNamespace(
        rain=rain,
        day_of_year=np.arange(N_DAYS) % 365 + 1,
        year=2001 + np.arange(N_DAYS) // 365,
    )
    return SimpleNamespace(
        weather=weather,
        losses=LOSSES,
        rate=rate,
        stook_share=share[0],
        whole=np.ones(N_DAYS, bool),
        correlation=NO_FORECAST,
    )


@pytest.fixture
def ripening():
    """Two crops, fit to cut 100 days after sowing and ripe a fortnight later."""
    days = np.arange(300)
    return np.tile(0.75 + 0.01 * np.clip(days - 100, -75, None), (2, 1))


def test_a_harvest_begins_on_the_first_day_fit_to_cut(past, ripening):
    found = harvests(past, SOWN, ripening, 0.90)
    assert found.position[:, 0].tolist() == [100, 300]
    assert found.start.tolist() == [99, 299]
    assert found.start_ripeness.tolist() == pytest.approx([0.74, 0.74])
    assert found.ripe.tolist() == [115, 315]
    assert found.harvest_year.tolist() == [2001, 2001]


def test_a_day_is_worth_its_ripeness_times_its_stooks(past, ripening):
    found = harvests(past, SOWN, ripening, 0.90)
    day, ripe = found.position[0], ripening[0, 100 : 100 + MOST_DAYS]
    over = days_over(ripe, LOSSES.ripeness.full_to)
    expected = ripeness_worth(ripe, over, LOSSES.ripeness) * past.stook_share[day]
    np.testing.assert_allclose(
        found.seasons.worth[0], np.maximum(expected, LOSSES.stook.floor)
    )


def test_a_harvest_ends_when_standing_is_worth_no_more_than_being_left(past, ripening):
    found = harvests(past, SOWN, ripening, 0.90)
    value = ripeness_worth(
        found.seasons.ripeness,
        days_over(found.seasons.ripeness, LOSSES.ripeness.full_to),
        LOSSES.ripeness,
    )
    last = found.in_window[0].sum() - 1
    assert found.in_window[0, : last + 1].all()
    assert value[0, last] > LOSSES.stook.never_cut >= value[0, last + 1]
    assert not found.seasons.can_cut[0, last + 1 :].any()


def test_only_dry_days_can_be_cut_on(past, ripening):
    found = harvests(past, SOWN, ripening, 0.90)
    wet = past.weather.rain[found.position] >= LOSSES.ripeness.cutting_rain
    assert not found.seasons.can_cut[wet].any()
    assert found.seasons.can_cut[~wet & found.in_window].all()


def test_without_a_forecast_the_dry_days_just_past_stand_for_those_in_sight(
    past, ripening
):
    found = harvests(past, SOWN, ripening, 0.90).seasons
    np.testing.assert_array_equal(found.dry_ahead, found.dry_before)
    assert found.dry_before[0, :5].tolist() == [0, 1, 2, 3, 0]


def test_with_a_forecast_dry_days_are_counted_while_dry_is_likelier(past, ripening):
    past.correlation = np.array([0.9, 0.8, 0.7])
    past.signals = np.tile([-1.0, -1.0, 3.0], (N_DAYS, 1))
    past.signals[101] = [3.0, -1.0, -1.0]
    found = harvests(past, SOWN, ripening, 0.90).seasons
    assert found.dry_ahead[0, :3].tolist() == [2, 0, 2]


def test_a_crop_that_never_ripens_is_no_harvest(past, ripening):
    ripening[1] = np.minimum(ripening[1], 0.80)
    assert harvests(past, SOWN, ripening, 0.90).ripe.tolist() == [115]


def test_a_harvest_with_all_its_weather_is_complete(past, ripening):
    assert harvests(past, SOWN, ripening, 0.90).complete.tolist() == [True, True]


@pytest.mark.parametrize("day", [105, 120])
def test_a_day_without_rain_data_leaves_its_harvest_incomplete(past, ripening, day):
    past.weather.rain[day] = np.nan
    assert harvests(past, SOWN, ripening, 0.90).complete.tolist() == [False, True]


def test_stooks_whose_end_is_past_the_record_leave_the_harvest_incomplete(
    past, ripening
):
    late = np.array([0, 480])
    found = harvests(past, late, ripening, 0.90)
    assert found.complete.tolist() == [True, False]
    past_the_end = late[1] + 100 + np.arange(MOST_DAYS) >= N_DAYS
    assert np.isnan(found.seasons.worth[1, past_the_end]).all()


def test_some_harvests_may_be_taken_by_place_or_by_mask(past, ripening):
    found = harvests(past, SOWN, ripening, 0.90)
    second = taken(found, [1])
    assert second.start.tolist() == [299]
    assert second.seasons.worth.shape == (1, MOST_DAYS)
    by_mask = taken(found, np.array([False, True]))
    np.testing.assert_array_equal(by_mask.seasons.worth, second.seasons.worth)


def test_crops_are_grown_from_their_own_sowing_day():
    days = np.arange(800)
    tmean = 10 - 7 * np.cos(2 * np.pi * (days - 20) / 365)
    light = 12 - 4.5 * np.cos(2 * np.pi * (days + 10) / 365)
    crop = phases("end-january"), grain_filling_forms()[1]
    sown = np.array([280, 645])
    first, second = grown(tmean - 4, tmean + 5, light, sown, *crop)
    ripe = np.flatnonzero(first >= 1)[0] + 280
    assert 365 + 190 < ripe < 365 + 260
    # The second crop's summer lies past the record's end: nothing ripens there.
    assert not (second >= 0.5).any()
    assert np.isnan(second[-1])
