"""How many plants to aim for, and what share of the seed makes one."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.stand.target import by_date, share_established, target_plants
from sheafwright.feeds import sowing

shares = st.floats(0.01, 0.99)


def test_later_sowing_never_aims_for_fewer_plants():
    days = np.arange(-46, 198)
    for table in (sowing.optimum_by_date(), sowing.thick_by_date("plants_most")):
        assert (np.diff(by_date(days, table)) >= 0).all()


def test_straw_is_thicker_than_grain_and_seed_thinner_on_every_day():
    days = np.arange(-46, 198)
    optimum = by_date(days, sowing.optimum_by_date())
    most = by_date(days, sowing.thick_by_date("plants_most"))
    straw, grain, seed = (
        target_plants(optimum, sowing.sowing_row("purpose", name).value, most)
        for name in ("straw", "grain", "seed")
    )
    assert (straw > grain).all()
    assert (grain > seed).all()
    assert (seed > sowing.count_rules().least).all()


@given(shares, st.lists(shares, max_size=4))
def test_the_share_that_establishes_is_a_share(usual, causes):
    assert 0 < share_established(usual, causes) < 1


@given(shares, st.tuples(shares, shares).map(sorted), shares)
def test_a_better_soil_never_establishes_less(usual, soils, after):
    worse, better = (share_established(usual, [soil, after]) for soil in soils)
    assert worse <= better


@given(shares, shares, shares)
def test_causes_may_come_in_any_order(usual, one, other):
    assert share_established(usual, [one, other]) == pytest.approx(
        share_established(usual, [other, one]), rel=1e-9
    )
