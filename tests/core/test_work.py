"""Hours agree with carts moved about one by one, and with what practice tells."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.work.carting import carting_hours, loads
from sheafwright.core.work.field import (
    crew_days,
    days_behind,
    field_capacity,
    hand_hours,
    hands_to_keep_up,
)
from sheafwright.feeds.work import work_rates

ACRE = 0.40468564224
RATES = work_rates()
hours = st.floats(0.05, 3)


def carted_one_by_one(n_loads, loading, unloading, trip, carts):
    """When the last cart is back: each waits for its turn at either end."""
    back = [0.0] * carts
    field_free = rick_free = 0.0
    for _ in range(n_loads):
        cart = back.index(min(back))
        field_free = max(back[cart], field_free) + loading
        rick_free = max(field_free + trip / 2, rick_free) + unloading
        back[cart] = rick_free + trip / 2
    return max(back)


@given(st.integers(1, 40), hours, hours, hours, st.integers(1, 6))
def test_carting_takes_as_long_as_carts_moved_one_by_one(
    n_loads, loading, unloading, trip, carts
):
    ours = carting_hours(n_loads, loading, unloading, trip, carts)
    assert ours == pytest.approx(
        carted_one_by_one(n_loads, loading, unloading, trip, carts)
    )


@given(st.integers(1, 40), hours, hours, hours, st.integers(1, 6))
def test_another_cart_never_makes_it_longer(n_loads, loading, unloading, trip, carts):
    fewer, more = (
        carting_hours(n_loads, loading, unloading, trip, n) for n in (carts, carts + 1)
    )
    assert more <= fewer + 1e-9


@given(st.integers(1, 100_000), st.integers(1, 2000))
def test_the_loads_hold_all_sheaves_and_no_load_is_empty(sheaves, a_load):
    n = loads(sheaves, a_load)
    assert (n - 1) * a_load < sheaves <= n * a_load


@given(st.floats(0.1, 100), st.floats(0.2, 3), st.integers(1, 20))
def test_hands_work_as_many_hours_however_many_they_are(area, area_a_day, hands):
    taken = hand_hours(area, area_a_day, 8)
    assert crew_days(taken, hands, 8) * hands == pytest.approx(area / area_a_day)


@given(st.floats(0.1, 10), st.floats(0, 500), st.integers(2, 20), st.integers(1, 2))
def test_more_hands_behind_a_machine_are_never_slower(days, hours, hands, on_it):
    fewer, more = (days_behind(days, hours, n, on_it, 8) for n in (hands, hands + 1))
    assert days <= more <= fewer
    if fewer > days:
        assert fewer * hands * 8 == pytest.approx(hours + days * on_it * 8)


@given(st.floats(0.1, 2), st.floats(2, 12), st.floats(0.2, 3))
def test_the_hands_that_keep_up_do_and_one_less_would_not(capacity, fit, area_a_day):
    hands = hands_to_keep_up(capacity, fit, area_a_day)
    cut = capacity * fit
    assert (hands - 1) * area_a_day < cut + 1e-9
    assert hands * area_a_day >= cut - 1e-9


def test_the_binder_does_about_the_acres_that_practice_tells_of():
    # 8 to 10 acres a day, from memory.
    binder = RATES.binder
    an_hour = field_capacity(binder.width, binder.speed, binder.efficiency)
    acres = an_hour * RATES.day.fit_hours / ACRE
    assert 8 <= acres <= 10.5
    assert an_hour / ACRE == pytest.approx(1.6958, abs=5e-5)
