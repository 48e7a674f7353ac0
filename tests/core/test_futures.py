"""Possible summers: whole days drawn one after another, with and without a forecast."""

import dataclasses
import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.core.chance.futures import (
    Calendar,
    Days,
    draw_futures,
    nearness_weights,
)

few_examples = settings(max_examples=40, deadline=None)


@st.composite
def records(draw):
    """A small record of random likeness, with days that may not be drawn."""
    rng = np.random.default_rng(draw(st.integers(0, 2**32)))
    n_days = draw(st.integers(2, 25))
    nearest = np.array([rng.permutation(n_days) for _ in range(n_days)])
    nearest[:, 1 + rng.integers(n_days) :] = -1
    calendar = Calendar(rng.integers(1, 367, n_days), half_window=60)
    return Days(
        nearest=nearest.astype(np.int32),
        usable=rng.random(n_days) < 0.8,
        wetness=rng.normal(size=n_days),
        calendar=calendar if draw(st.booleans()) else None,
    )


def may_lead_on(days, day):
    """Whether a day and the one after it may both be drawn."""
    return 0 <= day < len(days.usable) - 1 and all(days.usable[day : day + 2])


def agreeing(days, day, signal, r):
    """How likely a forecast makes a day."""
    if np.isnan(signal):
        return 1.0
    miss = signal - r * days.wetness[day]
    return np.exp(-(miss**2) / (2 * (1 - r * r))) + 1e-12


def in_season(days, day, date):
    """Whether a day lies near the date."""
    if days.calendar is None:
        return 1.0
    apart = abs(int(days.calendar.day_of_year[day]) - date) % 366
    return 1.0 if min(apart, 366 - apart) <= days.calendar.half_window else 1e-12


def that_may_follow(days, day, n_near):
    """The days after the nearest; where there is none, the day itself goes on."""
    like = [d + 1 for d in days.nearest[day] if may_lead_on(days, d)][:n_near]
    return like or [day + may_lead_on(days, day)]


def by_plain_python(start, days, n_near, rng, signal, correlation, n_days=6):
    """Summers drawn as the page about them tells it."""
    luck = rng.random((len(start), n_days))
    paths = [[day] for day in start.tolist()]
    for ahead in range(n_days):
        told = signal[ahead] if ahead < len(signal) else np.nan
        shares = []
        for path in paths:
            follow = that_may_follow(days, path[-1], n_near)
            share = nearness_weights(n_near)[: len(follow)]
            if days.calendar or not np.isnan(told):
                date = 0
                if days.calendar:
                    date = int(days.calendar.day_of_year[path[0]]) + ahead + 1
                r = 0 if np.isnan(told) else correlation[ahead]
                share = share * [
                    agreeing(days, d, told, r) * in_season(days, d, date)
                    for d in follow
                ]
            shares.append((follow, share))
        if not np.isnan(told):
            passed = np.cumsum([share.sum() for _, share in shares])
            evenly = (np.arange(len(paths)) + rng.random()) / len(paths)
            kept = [int((passed < each * passed[-1]).sum()) for each in evenly]
            paths, shares = [[*paths[k]] for k in kept], [shares[k] for k in kept]
        weighed = days.calendar or not np.isnan(told)
        for path, (follow, share), lucky in zip(
            paths, shares, luck[:, ahead], strict=True
        ):
            total = share.sum() if weighed else 1.0
            place = int((np.cumsum(share) < lucky * total).sum())
            path.append(int(follow[min(place, len(follow) - 1)]))
    return paths


@few_examples
@given(records(), st.integers(1, 8), st.integers(0, 99), st.booleans())
def test_all_summers_at_once_are_those_that_plain_python_draws(
    days, n_near, seed, is_foretold
):
    signal, correlation = (
        ([0.7, np.nan, -1.2], [0.9, 0.6, 0.3]) if is_foretold else ([], [])
    )
    rng = np.random.default_rng(seed)
    start = rng.integers(len(days.usable), size=1 if is_foretold else 5).repeat(5)[:5]
    told = signal, correlation
    drawn = draw_futures(start, days, 6, n_near, np.random.default_rng(seed), *told)
    plain = by_plain_python(start, days, n_near, np.random.default_rng(seed), *told)
    assert drawn.tolist() == plain


def test_summers_that_led_towards_a_forecast_are_kept(rng):
    # After a wet day comes another; the forecast names only the day after tomorrow.
    wet, dry = [1, 3], [5, 7]
    nearest = np.array(
        [[0, 4], [2, 2], [2, 2], [2, 2], [2, 2], [6, 6], [6, 6], [6, 6], [6, 6]]
    )
    wetness = np.array([0, 2.0, 0, 2.0, 0, -2.0, 0, -2.0, 0])
    days = Days(nearest.astype(np.int32), np.ones(9, bool), wetness)
    told = [np.nan, 1.9], [0.1, 0.95]
    paths = draw_futures(np.zeros(2000, int), days, 2, 2, rng, *told)
    assert np.isin(paths[:, 1], wet).mean() > 0.99
    assert np.isin(draw_futures(np.zeros(2000, int), days, 2, 2, rng)[:, 1], dry).any()


@few_examples
@given(records(), st.integers(1, 8), st.integers(0, 99))
def test_a_day_left_out_is_never_drawn(days, n_near, seed):
    start = np.arange(len(days.usable))
    paths = draw_futures(start, days, 9, n_near, np.random.default_rng(seed))
    drawn = paths[:, 1:]
    assert (days.usable[drawn] | (drawn == start[:, np.newaxis])).all()


def a_long_record(rng, n_days=4_000):
    """Any day is like any few hundred others, so that neighbours tell nothing."""
    nearest = rng.integers(n_days - 1, size=(n_days, 300)).astype(np.int32)
    wetness = rng.normal(size=n_days)
    return Days(
        nearest, np.ones(n_days, bool), (wetness - wetness.mean()) / wetness.std()
    )


@pytest.fixture
def rng():
    return np.random.default_rng(17)


def test_every_drawn_day_follows_a_neighbour_of_the_day_before(rng):
    days = a_long_record(rng)
    paths = draw_futures(np.arange(50), days, 8, 5, rng)
    for path in paths:
        for before, drawn in itertools.pairwise(path):
            assert drawn - 1 in days.nearest[before, :5]


def test_neighbours_are_drawn_as_often_as_their_rank_says(rng):
    nearest = np.tile(np.arange(0, 20, 2, dtype=np.int32), (21, 1))
    days = Days(nearest, np.ones(21, bool), np.zeros(21))
    drawn = draw_futures(np.zeros(50_000, int), days, 1, 10, rng)[:, 1]
    often = np.bincount(drawn, minlength=21)[1::2] / drawn.size
    expected = nearness_weights(10)
    error = np.sqrt(expected * (1 - expected) / drawn.size)
    assert (np.abs(often - expected) < 4 * error).all()


def test_a_neighbour_left_out_gives_its_rank_to_the_next(rng):
    nearest = np.tile(np.array([0, 2, 4, 6], dtype=np.int32), (8, 1))
    usable = np.array([True] * 2 + [False] * 2 + [True] * 4)
    days = Days(nearest, usable, np.zeros(8))
    drawn = draw_futures(np.zeros(20_000, int), days, 1, 2, rng)[:, 1]
    assert set(drawn) == {1, 5}
    assert (drawn == 1).mean() == pytest.approx(2 / 3, abs=0.015)


@pytest.mark.parametrize("skill", [0.2, 0.5, 0.8])
def test_a_forecast_alone_moves_wetness_by_its_skill_and_no_more(skill, rng):
    days = a_long_record(rng)
    start = rng.integers(4_000, size=4_000)
    signal = [1.2, -0.6]
    paths = draw_futures(start, days, 2, 300, rng, signal, [skill, skill])
    # A few hundred neighbours of unlike rank are a small sample: hence the slack.
    for day, told in enumerate(signal, 1):
        wet = days.wetness[paths[:, day]]
        assert wet.mean() == pytest.approx(skill * told, abs=0.07)
        assert wet.var() == pytest.approx(1 - skill**2, abs=0.08)


def test_a_forecast_and_the_neighbours_are_both_believed(rng):
    wet = np.where(np.arange(2_000) % 2, 1.0, -1.0)
    nearest = np.tile(np.arange(300, dtype=np.int32), (2_000, 1))
    days = Days(nearest, np.ones(2_000, bool), np.roll(wet, 1))
    even = draw_futures(np.zeros(9_000, int), days, 1, 300, rng, [0.5], [0.6])[:, 1]
    weights = nearness_weights(300) * np.exp(
        -((0.5 - 0.6 * wet[:300]) ** 2) / (2 * 0.64)
    )
    expected = weights[wet[:300] > 0].sum() / weights.sum()
    assert (days.wetness[even] > 0).mean() == pytest.approx(expected, abs=0.02)


def a_drifting_record(rng):
    """Ten years in which most of a day's neighbours are a few days ahead of it."""
    day_of_year, place = np.tile(np.arange(1, 367), 10), np.arange(3_660)
    later = place[:, np.newaxis] + rng.integers(-4, 7, (3_660, 40))
    nearest = (later + 366 * rng.integers(10, size=later.shape)) % 3_660
    days = Days(nearest.astype(np.int32), np.ones(3_660, bool), np.zeros(3_660))
    return days, day_of_year


def strays(paths, day_of_year):
    """Days by which each drawn day is off its date."""
    date = day_of_year[paths[:, :1]] + np.arange(paths.shape[1])
    return (day_of_year[paths] - date + 183) % 366 - 183


def test_a_calendar_keeps_long_summers_to_the_time_of_year(rng):
    days, day_of_year = a_drifting_record(rng)
    kept = dataclasses.replace(days, calendar=Calendar(day_of_year, half_window=7))
    start = rng.integers(3_000, size=100)
    free, held = (draw_futures(start, each, 45, 30, rng) for each in (days, kept))
    assert strays(free, day_of_year)[:, -1].mean() > 21
    assert np.abs(strays(held, day_of_year)).max() <= 7


def test_a_lead_without_a_forecast_is_drawn_as_if_there_were_none(rng):
    days, start = a_long_record(rng), np.arange(100)
    luck = [np.random.default_rng(3) for _ in range(2)]
    plain = draw_futures(start, days, 4, 30, luck[0])
    unknown = draw_futures(start, days, 4, 30, luck[1], [np.nan] * 3, [0.9, 0.8, 0.7])
    np.testing.assert_array_equal(plain, unknown)


def test_a_forecast_beyond_all_that_is_on_record_still_draws_a_day(rng):
    days = a_long_record(rng)
    paths = draw_futures(np.arange(20), days, 1, 30, rng, [1e6], [0.99])
    assert ((paths[:, 1] > 0) & (paths[:, 1] < 4_000)).all()


def test_with_no_day_like_it_the_day_itself_goes_on_while_it_may(rng):
    nearest, usable = np.full((4, 1), -1, dtype=np.int32), np.ones(4, bool)
    alone = draw_futures([0], Days(nearest, usable, np.zeros(4)), 5, 3, rng)
    assert alone.tolist() == [[0, 1, 2, 3, 3, 3]]
    usable[2] = False
    stopped = draw_futures([0], Days(nearest, usable, np.zeros(4)), 3, 3, rng)
    assert stopped.tolist() == [[0, 1, 1, 1]]


def test_the_same_luck_draws_the_same_summers():
    days = a_long_record(np.random.default_rng(1))
    first, again = (
        draw_futures(np.arange(30), days, 10, 20, np.random.default_rng(5))
        for _ in range(2)
    )
    np.testing.assert_array_equal(first, again)
