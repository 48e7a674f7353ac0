"""What stooks may be expected to bring home: a line, fitted year by year."""

import numpy as np
import pytest

from sheafwright.core.decide.expect import line, yearly_sums


@pytest.fixture
def harvests():
    """Twelve years of forty days: what was known, the share, the year, the days cut."""
    rng = np.random.default_rng(21)
    known = np.column_stack([np.ones(480), rng.normal(size=(480, 2))])
    share = known @ [0.8, 0.1, -0.2] + rng.normal(0, 0.05, 480)
    return known, share, np.repeat(np.arange(2001, 2013), 40), rng.random(480) < 0.7


def test_the_line_is_that_of_ridge_regression_over_the_days_counted(harvests):
    known, share, _, counted = harvests
    sums = yearly_sums(*harvests)
    every_year = np.ones(12, bool)
    rows = np.vstack([known[counted], np.sqrt(30.0) * np.eye(3)])
    expected = np.linalg.lstsq(rows, np.append(share[counted], np.zeros(3)))[0]
    np.testing.assert_allclose(line(sums, every_year, 30.0), expected, atol=1e-12)


def test_a_little_pull_finds_the_line_that_made_the_shares(harvests):
    found = line(yearly_sums(*harvests), np.ones(12, bool), 0.01)
    np.testing.assert_allclose(found, [0.8, 0.1, -0.2], rtol=0, atol=0.02)


def test_a_year_left_out_is_as_if_it_had_never_been(harvests):
    known, share, year, counted = harvests
    sums = yearly_sums(known, share, year, counted)
    rest = year != 2005
    without = yearly_sums(known[rest], share[rest], year[rest], counted[rest])
    np.testing.assert_allclose(
        line(sums, sums.years != 2005, 5.0), line(without, np.ones(11, bool), 5.0)
    )


def test_days_not_counted_may_be_unknown(harvests):
    known, share, year, counted = harvests
    gaps = np.where(counted, share, np.nan)
    np.testing.assert_array_equal(
        yearly_sums(known, gaps, year, counted).moments,
        yearly_sums(known, share, year, counted).moments,
    )


def test_with_no_year_kept_nothing_is_expected(harvests):
    assert not line(yearly_sums(*harvests), np.zeros(12, bool), 30.0).any()
