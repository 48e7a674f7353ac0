"""Damper, warmer or longer never keeps better, and the two clocks can be compared."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.rick.storage import (
    carbon_dioxide,
    damage_factor,
    dry_matter_lost,
    equal_hours,
    life_used,
    moisture_factor,
    safe_days,
    temperature_factor,
)
from sheafwright.feeds import ricks

LIFE = ricks.grain_life()
moistures, temperatures = st.floats(0.12, 0.24), st.floats(5, 40)
weeks = st.lists(temperatures, min_size=1, max_size=60)


@given(moistures, moistures, temperatures)
def test_damper_grain_keeps_no_longer(one, other, temperature):
    drier, damper = sorted([one, other])
    of_drier, of_damper = safe_days([drier, damper], temperature, LIFE)
    assert of_damper <= of_drier
    assert moisture_factor(damper) <= moisture_factor(drier)


@given(moistures, temperatures, temperatures)
def test_warmer_grain_keeps_no_longer(moisture, one, other):
    cooler, warmer = sorted([one, other])
    of_cooler, of_warmer = safe_days(moisture, np.array([cooler, warmer]), LIFE)
    assert of_warmer <= of_cooler
    assert temperature_factor(warmer) <= temperature_factor(cooler) + 1e-12


@given(moistures, temperatures)
def test_a_life_is_used_up_in_the_days_that_it_lasts(moisture, temperature):
    days = float(safe_days(moisture, temperature, LIFE))
    used = life_used(moisture, np.full(int(np.ceil(days)), temperature), LIFE)
    assert used[-1] >= 1 - 1e-9
    assert len(used) < 2 or used[-2] < 1


@given(moistures, weeks)
def test_what_is_lost_only_grows(moisture, week):
    lost = dry_matter_lost(equal_hours(moisture, np.array(week), 0))
    assert lost[0] > 0
    assert (np.diff(lost) > 0).all()


@given(moistures, weeks)
def test_the_order_of_warm_and_cool_days_does_not_matter(moisture, week):
    there, back = (
        life_used(moisture, np.array(w), LIFE)[-1] for w in (week, week[::-1])
    )
    assert there == pytest.approx(back)


def test_the_loss_is_that_of_the_glucose_burnt():
    # C6H12O6 + 6 O2 -> 6 CO2 + 6 H2O: 6 x 44.01 over 180.16.
    hours = 230
    burnt = carbon_dioxide(hours) * 180.16 / (6 * 44.01) / 1000
    assert dry_matter_lost(hours) == pytest.approx(burnt, rel=0.003)


@given(st.floats(0.12, 0.24), st.floats(5, 25))
def test_seed_dies_before_half_a_per_cent_of_it_is_breathed_away(moisture, temperature):
    """The seed's clock is the stricter, so it is the one that is spoken of."""
    days = np.full(int(safe_days(moisture, temperature, LIFE)), temperature)
    assert (dry_matter_lost(equal_hours(moisture, days, 0)) < 0.005).all()


def test_broken_grain_breathes_faster():
    assert (np.diff(damage_factor(np.linspace(0, 1, 11))) < 0).all()
