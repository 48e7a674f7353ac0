"""The germination table is whole, and every row of it is read."""

import pytest

from sheafwright.feeds import seed, tables


@pytest.mark.parametrize("trays", [2, 4])
def test_a_table_of_trays_runs_from_the_best_mean_down_to_one_half(trays):
    found = seed.tray_range(trays)
    assert len(found.lowest_mean) == len(found.widest)
    assert list(found.lowest_mean) == sorted(set(found.lowest_mean), reverse=True)
    assert found.lowest_mean[-1] == 51


def test_three_trays_have_no_table():
    assert seed.tray_range(3) is None


def test_every_section_of_the_table_is_read():
    read = {"test", "law"}
    for name in seed.TRAYS.values():
        read |= {name, f"{name}_lower"}
    assert read == set(tables.shipped("germination"))


def test_the_law_asks_for_85_in_100_and_says_it_is_remembered():
    assert seed.germination_rules().least == 0.85
    assert tables.shipped("germination")["law"]["least"].standing == "from memory"
