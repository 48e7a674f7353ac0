"""Usual outturns leave room for one another, and say that they are assumed."""

import pytest

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds import outturns, tables


@pytest.mark.parametrize("combed", [True, False])
def test_a_whole_run_can_lie_within_every_range_at_once(combed):
    low, high = zip(*outturns.usual_shares(combed).values(), strict=True)
    assert sum(low) < 1 < sum(high)


def test_every_section_is_read_and_every_row_is_assumed():
    read = [outturns.usual_rows(combed) for combed in (True, False)]
    assert read == list(tables.shipped("outturns").values())
    assert {row.standing for rows in read for row in rows.values()} == {"assumed"}


def test_a_range_the_wrong_way_round_is_refused(monkeypatch):
    table = tables.parse("[combed]\nreed = [0.5, 0.4]", "ann.toml")
    monkeypatch.setattr(outturns, "shipped", lambda name: table)
    with pytest.raises(UnreadableInput, match="the lower first"):
        outturns.usual_shares(combed=True)
