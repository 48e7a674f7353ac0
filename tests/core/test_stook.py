"""Stooks from cutting to carting: drying, wetting, spoiling, and waiting."""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheafwright.core.drying.stook import GIVEN_UP, drying_rate, rain_loss, stooks
from sheafwright.feeds.decision import losses

LOSSES = losses()
STOOK, DRYING = LOSSES.stook, LOSSES.drying
N_DAYS = 60
RAINS = st.sampled_from([0.0, 0.2, 0.4, 1.0, 2.5, 5.0, 9.9, 10.0, 25.0])
DEMANDS = st.floats(0.3, 6.0)

few_examples = settings(max_examples=60, deadline=None)


@st.composite
def summers(draw, rains=RAINS):
    """Rain and evaporative demand of sixty days, both (day,). [mm d⁻¹]"""
    days = st.lists(st.tuples(rains, DEMANDS), min_size=N_DAYS, max_size=N_DAYS)
    return np.array(draw(days)).T


def of_record(rain, demand, n_cuts=5, losses=LOSSES):
    """Share left and days out of stooks cut on a record's own first days, (cut,)."""
    path = np.arange(len(rain))[np.newaxis]
    rate = drying_rate(demand, losses.drying)
    share, days_out = stooks(path, rain, rate, n_cuts, losses)
    return share[0], days_out[0]


def by_plain_python(rain, demand, cutting):
    """Share left and days out of one stook, as the page about it tells it."""
    wet_basis = DRYING.at_cutting, DRYING.equilibrium, DRYING.fit_to_carry
    water, dry, limit = (moisture / (1 - moisture) for moisture in wet_basis)
    lost = 0.0
    for out in range(1, STOOK.longest_days + 1):
        if cutting + out >= len(rain):
            return math.nan, 0
        today, before = rain[cutting + out], rain[cutting + out - 1]
        if math.isnan(today + before + demand[cutting + out]):
            return math.nan, 0
        if today >= DRYING.wet_day_mm:
            water += DRYING.wet_day_gain_dry_basis
        else:
            rate = DRYING.rate_per_dry_day * math.sqrt(demand[cutting + out] / 2.5)
            rate *= 0.5 if before >= DRYING.soaking_mm else 1.0
            water = dry + (water - dry) * math.exp(-rate)
        steps = zip(STOOK.rain_loss_mm, STOOK.rain_loss_share, strict=True)
        lost += max((share for mm, share in steps if today >= mm), default=0.0)
        lost += STOOK.late_loss_share if out > STOOK.free_days else 0.0
        dry_enough = today < DRYING.carrying_rain_mm
        dry_enough &= before < DRYING.carrying_rain_before_mm
        if water <= limit and dry_enough:
            return max(STOOK.floor, 1 - lost), out
    return STOOK.never_carted, GIVEN_UP


@few_examples
@given(summers(st.one_of(RAINS, st.just(math.nan))))
def test_all_stooks_at_once_fare_as_each_does_in_plain_python(summer):
    share, days_out = of_record(*summer, n_cuts=N_DAYS)
    for cutting in range(N_DAYS):
        expected, out = by_plain_python(*summer, cutting)
        assert share[cutting] == pytest.approx(expected, abs=1e-12, nan_ok=True)
        assert days_out[cutting] == out


@few_examples
@given(summers(), st.integers(0, N_DAYS - 1), st.floats(0.1, 30))
def test_more_rain_never_raises_what_is_carted_nor_brings_it_home_sooner(
    summer, wetter_day, more
):
    rain, demand = summer
    wetter = rain + np.where(np.arange(N_DAYS) == wetter_day, more, 0)
    (share, out), (worse, later) = of_record(rain, demand), of_record(wetter, demand)
    # Stooks given up are worth a fixed little, which may be more than the floor.
    assert (worse <= np.maximum(share, STOOK.never_carted)).all()
    longest = STOOK.longest_days + 1
    assert (
        np.where(later == GIVEN_UP, longest, later)
        >= np.where(out == GIVEN_UP, longest, out)
    ).all()


@few_examples
@given(summers(st.just(0.0)), st.floats(1.0, 3.0))
def test_on_dry_days_more_evaporation_never_delays_carting(summer, times):
    rain, demand = summer
    _, out = of_record(rain, demand)
    _, sooner = of_record(rain, demand * times)
    assert (sooner <= out).all()


@few_examples
@given(summers())
def test_what_is_left_lies_between_the_least_and_a_perfect_crop(summer):
    share, out = of_record(*summer)
    assert (share >= min(STOOK.floor, STOOK.never_carted)).all()
    assert (share <= 1).all()
    assert ((out == GIVEN_UP) == (share == STOOK.never_carted))[out != 0].all()


def fair_weather(n_days=N_DAYS, demand=2.5):
    return np.zeros(n_days), np.full(n_days, demand)


def test_in_fair_weather_stooks_come_home_whole_in_about_a_week():
    share, out = of_record(*fair_weather())
    # ln((0.4493 - 0.1628) / (0.2048 - 0.1628)) / 0.27 = 7.1 dry days.
    assert out.tolist() == [8] * 5
    assert share.tolist() == [1.0] * 5


def test_each_soaking_costs_its_share_and_its_days():
    rain, demand = fair_weather()
    rain[3] = 12.0
    (share, *_), (out, *_) = of_record(rain, demand)
    assert share == pytest.approx(1 - STOOK.rain_loss_share[2])
    # 7.1 dry days, the day itself, half the next, and 0.2 for what it wetted.
    assert out == 9


def test_after_the_free_days_each_day_costs():
    rain, demand = fair_weather(demand=0.625)
    (share, *_), (out, *_) = of_record(rain, demand)
    assert out == 15
    assert share == pytest.approx(1 - 5 * STOOK.late_loss_share)


def test_the_day_of_cutting_does_not_wet_its_stooks_but_is_the_day_before():
    rain, demand = fair_weather()
    rain[0] = 5.0
    (share, *_), (out, *_) = of_record(rain, demand)
    assert (share, out) == (1.0, 8)
    slower = dataclasses.replace(DRYING, soaking_mm=5.1)
    _, (sooner, *_) = of_record(
        rain, demand, losses=dataclasses.replace(LOSSES, drying=slower)
    )
    assert sooner <= out


@pytest.mark.parametrize(
    ("rained", "out"),
    [({8: 0.2}, 8), ({8: 0.3}, 9), ({7: 1.9}, 9), ({8: 2.0}, 10)],
)
def test_sheaves_are_carted_only_without_water_on_them(rained, out):
    rain, demand = fair_weather()
    rain[list(rained)] = list(rained.values())
    assert of_record(rain, demand)[1][0] == out


def test_stooks_that_are_never_fit_are_given_up():
    share, out = of_record(np.full(N_DAYS, 1.0), np.full(N_DAYS, 2.5))
    assert share.tolist() == [STOOK.never_carted] * 5
    assert out.tolist() == [GIVEN_UP] * 5


def test_a_path_too_short_to_know_the_end_gives_nan_and_no_days():
    share, out = of_record(*fair_weather(8), n_cuts=3)
    assert np.isnan(share).all()
    assert out.tolist() == [0, 0, 0]


@pytest.mark.parametrize("gap", ["rain", "demand"])
def test_a_day_without_data_makes_the_end_unknown(gap):
    rain, demand = fair_weather()
    {"rain": rain, "demand": demand}[gap][5] = np.nan
    share, out = of_record(rain, demand, n_cuts=7)
    # The sixth cut is that of the day itself: its rain is the day before the next.
    unknown = [True] * 5 + [gap == "rain", False]
    assert np.isnan(share).tolist() == unknown
    assert (out == 0).tolist() == unknown


def test_paths_are_followed_through_the_record_in_their_own_order():
    rain, demand = fair_weather(3)
    rain[1] = 30.0
    path = np.array([[0] * 20, [0, 1, 1, 1] + [0] * 16])
    rate = drying_rate(demand, DRYING)
    share, out = stooks(path, rain, rate, 1, LOSSES)
    assert share[:, 0].tolist() == pytest.approx([1.0, 1 - 3 * 0.08 - 0.01])
    assert out[:, 0].tolist() == [8, 11]


def test_twice_the_demand_dries_by_the_root_of_two():
    slow, fast = drying_rate([1.5, 3.0], DRYING)
    assert fast / slow == pytest.approx(math.sqrt(2))


@given(st.floats(0, 100), st.floats(0, 100))
def test_a_wetter_day_never_costs_less(some, more):
    less_lost, more_lost = rain_loss([some, some + more], STOOK)
    assert more_lost >= less_lost
