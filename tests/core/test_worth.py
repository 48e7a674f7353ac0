"""What a cutting day is worth by the ripeness of the crop."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.season.worth import (
    can_cut,
    cutting_worth,
    days_over,
    ripeness_worth,
)
from sheafwright.feeds.decision import losses

LOSSES = losses()
TABLE = LOSSES.ripeness


@pytest.fixture(scope="module")
def ripening():
    return np.linspace(0.7, 1.4, 36)


def worth_by_day(ripeness):
    return ripeness_worth(ripeness, days_over(ripeness, TABLE.full_to), TABLE)


def test_worth_rises_to_full_ripeness_stays_and_falls_ever_faster(ripening):
    worth = worth_by_day(ripening)
    full = (ripening >= TABLE.full_from) & (ripening < TABLE.full_to)
    assert (np.diff(worth[ripening < TABLE.full_from]) > 0).all()
    assert (worth[full] == 1).all()
    late = worth[ripening >= TABLE.full_to]
    assert (np.diff(late) < 0).all()
    assert (np.diff(late, n=2) < 1e-12).all()


@given(today=st.integers(0, 34))
def test_days_over_are_the_same_whenever_the_counting_begins(today, ripening):
    whole = days_over(ripening, TABLE.full_to)
    passed = (ripening[:today] >= TABLE.full_to).sum()
    from_today = days_over(ripening[today:], TABLE.full_to, before=passed - 1)
    assert from_today.tolist() == whole[today:].tolist()


def test_each_summer_counts_from_its_own_day_before():
    over = days_over(np.full((2, 3), 1.2), 1.03, before=[-1, 4])
    assert over.tolist() == [[0, 1, 2], [5, 6, 7]]


@given(st.floats(-1, 1), st.floats(0, 1))
def test_a_crop_cut_is_never_worth_less_than_the_floor(ripe, share):
    worth = cutting_worth(ripe, share, LOSSES.stook)
    assert worth == max(ripe * share, LOSSES.stook.floor)


def test_missing_ripeness_or_stooks_leave_the_worth_unknown():
    over = np.zeros(2)
    ripe = ripeness_worth([0.95, np.nan], over, TABLE)
    worth = cutting_worth(ripe, [np.nan, 0.9], LOSSES.stook)
    assert np.isnan(worth).all()


@pytest.mark.parametrize(("ripeness", "rain"), [(np.nan, 0.0), (1.0, np.nan)])
def test_a_day_that_is_not_known_cannot_be_cut_on(ripeness, rain):
    assert not can_cut([ripeness], [rain], TABLE)
