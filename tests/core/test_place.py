import gzip
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.inputs.place import PlacePrior
from sheafwright.core.weather.place import (
    Belief,
    Days,
    Place,
    PlaceDraws,
    correct,
    draw_place,
    learn_place,
    log_rain_ratio,
    posterior_of_mean,
)
from sheafwright.feeds.readings import place_prior

HOURLY = Path(__file__).parents[3] / "shared/data/weather/aimsir17_observations.csv.gz"
PRIOR = PlacePrior(
    rain_log_ratio_sd=0.2,
    rain_wet_day_sd=0.3,
    wet_from_mm=1.0,
    tmin_offset_sd_c=1.0,
    tmin_day_sd_c=2.0,
    tmax_offset_sd_c=1.0,
    tmax_day_sd_c=2.0,
)

means = st.floats(-20, 20)
counts = st.integers(1, 1000)
spreads = st.floats(0.05, 5)
rain = st.none() | st.floats(0, 50)
days_of_rain = st.lists(st.tuples(rain, rain), max_size=20)


@given(means, counts, counts, spreads, spreads)
def test_more_readings_never_widen_the_belief(mean, n, more, prior_sd, reading_sd):
    before = posterior_of_mean(mean, n, prior_sd, reading_sd)
    after = posterior_of_mean(mean, n + more, prior_sd, reading_sd)
    assert after.sd <= before.sd <= prior_sd * (1 + 1e-12)


@given(means, counts, spreads, spreads)
def test_the_belief_lies_between_the_prior_and_the_readings(
    mean, n, prior_sd, reading_sd
):
    belief = posterior_of_mean(mean, n, prior_sd, reading_sd)
    assert min(0, mean) <= belief.mean <= max(0, mean)


@given(means, counts, counts, spreads, spreads)
def test_more_readings_draw_the_belief_nearer(mean, n, more, prior_sd, reading_sd):
    before = posterior_of_mean(mean, n, prior_sd, reading_sd)
    after = posterior_of_mean(mean, n + more, prior_sd, reading_sd)
    assert abs(after.mean - mean) <= abs(before.mean - mean) + 1e-9


@given(days_of_rain)
def test_the_ratio_turned_round_is_its_inverse(days):
    field, station = np.array(days, dtype=float).reshape(-1, 2).T
    np.testing.assert_allclose(
        log_rain_ratio(field, station), -log_rain_ratio(station, field), atol=1e-9
    )


@given(days_of_rain)
def test_no_pair_of_gauges_is_too_odd_to_learn_from(days):
    field, station = np.array(days, dtype=float).reshape(-1, 2).T
    unread = np.full(len(days), np.nan)
    place = learn_place(
        Days(field, unread, unread), Days(station, unread, unread), PRIOR
    )
    assert np.isfinite(place.log_rain_ratio).all()
    assert place.log_rain_ratio.sd <= PRIOR.rain_log_ratio_sd * (1 + 1e-12)


def station_and_field(rng, n_days, ratio, colder, warmer):
    """A station's days, and those of a field that truly differs by so much."""
    rain = 5.0 * (np.arange(n_days) % 2)
    tmin = rng.normal(9, 3, n_days)
    tmax = tmin + rng.gamma(8, 1, n_days)
    field = Days(
        rain * ratio * rng.normal(1, PRIOR.rain_wet_day_sd, n_days),
        tmin + colder + rng.normal(0, PRIOR.tmin_day_sd_c, n_days),
        tmax + warmer + rng.normal(0, PRIOR.tmax_day_sd_c, n_days),
    )
    return Days(rain, tmin, tmax), field


def test_ten_years_of_readings_find_the_true_difference():
    station, field = station_and_field(np.random.default_rng(3), 3650, 1.3, -1.2, 0.6)
    place = learn_place(field, station, PRIOR)
    assert np.exp(place.log_rain_ratio.mean) == pytest.approx(1.3, rel=0.03)
    assert place.tmin_offset.mean == pytest.approx(-1.2, abs=0.1)
    assert place.tmax_offset.mean == pytest.approx(0.6, abs=0.1)


def test_nine_in_ten_true_differences_lie_in_the_nine_tenths_band():
    rng = np.random.default_rng(4)
    truth = np.array([0.2, 1.0, 1.0])[:, np.newaxis] * rng.standard_normal((3, 400))
    inside = []
    for log_ratio, colder, warmer in truth.T:
        pair = station_and_field(rng, 20, np.exp(log_ratio), colder, warmer)
        place = learn_place(*pair[::-1], PRIOR)
        off = np.array([log_ratio, colder, warmer]) - [belief.mean for belief in place]
        inside.append(np.abs(off) < 1.645 * np.array([belief.sd for belief in place]))
    np.testing.assert_allclose(np.mean(inside, axis=0), 0.9, atol=0.05)


def test_dry_days_and_blanks_teach_nothing():
    unread = np.full(3, np.nan)
    field = Days(np.array([0.0, 0.9, np.nan]), unread, unread)
    station = Days(np.array([0.0, 0.8, 3.0]), np.arange(3.0), np.arange(3.0))
    place = learn_place(field, station, PRIOR)
    np.testing.assert_allclose([belief.sd for belief in place], [0.2, 1.0, 1.0])


def test_a_gauge_read_at_another_hour_is_no_other_place():
    fell = np.array([8.0, 0.0, 6.0, 1.0, 0.0, 9.0, 0.0])
    assert log_rain_ratio(np.roll(fell, 1), fell) == 0


def test_draws_spread_as_wide_as_the_belief():
    place = Place(Belief(0.1, 0.2), Belief(-1.0, 0.5), Belief(0.5, 0.1))
    draws = draw_place(place, 4000, np.random.default_rng(5))
    log_ratio = np.log(draws.rain_ratio)
    for drawn, belief in zip((log_ratio, *draws[1:]), place, strict=True):
        assert drawn.mean() == pytest.approx(belief.mean, abs=4 * belief.sd / 4000**0.5)
        assert drawn.std() == pytest.approx(belief.sd, rel=0.05)


def test_few_readings_give_wider_odds_than_many():
    pair = station_and_field(np.random.default_rng(6), 400, 1.0, 0.0, 0.0)
    spread = [
        draw_place(
            learn_place(*(Days(*(v[:n] for v in days)) for days in pair[::-1]), PRIOR),
            2000,
            np.random.default_rng(7),
        ).tmin_offset.std()
        for n in (0, 10, 100, 400)
    ]
    assert spread == sorted(spread, reverse=True)
    assert spread[0] > 5 * spread[-1]


def test_the_same_generator_gives_the_same_draws():
    place = Place(*[Belief(0.0, 1.0)] * 3)
    first, again = (draw_place(place, 5, np.random.default_rng(8)) for _ in range(2))
    np.testing.assert_array_equal(first, again)


def test_places_come_first_and_draws_last():
    place = Place(*[Belief(np.zeros((2, 3)), np.ones((2, 3)))] * 3)
    assert draw_place(place, 4, np.random.default_rng(9)).rain_ratio.shape == (2, 3, 4)


DULL_DAYS = Days(
    rain=np.array([0.0, 4.0, np.nan]),
    tmin=np.array([10.0, 12.0, np.nan]),
    tmax=np.array([20.0, 12.5, 15.0]),
)
TWO_DRAWS = PlaceDraws(
    rain_ratio=np.array([1.0, 1.5]),
    tmin_offset=np.array([0.0, 1.0]),
    tmax_offset=np.array([0.0, -1.0]),
)


def test_a_record_is_corrected_for_each_draw():
    field = correct(DULL_DAYS, TWO_DRAWS)
    np.testing.assert_array_equal(field.rain, [[0, 4, np.nan], [0, 6, np.nan]])
    np.testing.assert_array_equal(field.tmin[0], DULL_DAYS.tmin)
    np.testing.assert_array_equal(field.tmax[:, 0], [20, 19])


def test_corrected_temperatures_never_cross():
    field = correct(DULL_DAYS, TWO_DRAWS)
    assert (field.tmin[1, 1], field.tmax[1, 1]) == (11.5, 13.0)


def test_possible_summers_keep_their_shape():
    summers = Days(*(np.broadcast_to(values, (2, 3)) for values in DULL_DAYS))
    np.testing.assert_array_equal(
        correct(summers, TWO_DRAWS), correct(DULL_DAYS, TWO_DRAWS)
    )


def daily_of_2017():
    """Each station's days, from the hours."""
    import pandas as pd

    with gzip.open(HOURLY) as file:
        hours = pd.read_csv(file)
    by_day = hours.groupby(["station", "month", "day"])
    days = pd.DataFrame(
        {
            "rain": by_day["rain"].sum(min_count=24),
            "tmin": by_day["temp"].min(),
            "tmax": by_day["temp"].max(),
        }
    )
    return {name: Days(*own.to_numpy().T) for name, own in days.groupby("station")}


def truly(field, station):
    read = np.isfinite(field.rain + station.rain)
    ratio = field.rain[read].sum() / station.rain[read].sum()
    return [
        np.log(ratio),
        np.nanmean(field.tmin - station.tmin),
        np.nanmean(field.tmax - station.tmax),
    ]


NEAR = [
    {"CASEMENT", "PHOENIX PARK", "DUBLIN AIRPORT", "DUNSANY"},
    {"CORK AIRPORT", "ROCHES POINT", "MOORE PARK"},
    {"CLAREMORRIS", "KNOCK AIRPORT", "NEWPORT"},
    {"MT DILLON", "MULLINGAR", "BALLYHAISE"},
]


@pytest.mark.skipif(
    not HOURLY.exists(), reason="needs the hourly records beside the project"
)
def test_a_month_of_readings_foretells_the_rest_of_the_year():
    stations = daily_of_2017()
    pairs = [pair for group in NEAR for pair in combinations(sorted(group), 2)]
    months = np.arange(365) // 31
    inside = []
    for (name, other), month in ((pair, m) for pair in pairs for m in range(11)):
        both = stations[name], stations[other]
        read = [Days(*(v[months == month] for v in days)) for days in both]
        rest = [Days(*(v[months != month] for v in days)) for days in both]
        place = learn_place(*read, place_prior())
        off = np.subtract(truly(*rest), [belief.mean for belief in place])
        inside.append(np.abs(off) < 1.645 * np.array([belief.sd for belief in place]))
    share = np.mean(inside, axis=0)
    assert (share > 0.85).all()
    assert (share < 0.99).all()
