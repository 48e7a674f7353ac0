"""The remembered tables are whole, and ordered as soils and crops are."""

import numpy as np
import pytest

from sheafwright.feeds import nitrogen
from sheafwright.feeds.tables import shipped

BY_RAIN = [
    {crop: row.value for crop, row in nitrogen.after_crop_rows(rain).items()}
    for rain in nitrogen.RAINS
]
CROPS = nitrogen.last_crops()
LEY_SOILS = [(soil, rain) for soil in nitrogen.SOILS for rain in nitrogen.RAINS]


@pytest.mark.parametrize("crop", CROPS)
def test_each_crop_has_an_index_for_every_soil_and_rain(crop):
    cells = np.array([rows[crop] for rows in BY_RAIN])
    assert cells.shape == (len(nitrogen.RAINS), len(nitrogen.SOILS))
    assert set(cells.flat) <= set(range(7))


@pytest.mark.parametrize("crop", CROPS)
def test_more_rain_never_leaves_more(crop):
    low, moderate, high = np.array([rows[crop] for rows in BY_RAIN])
    assert (low >= moderate).all()
    assert (moderate >= high).all()


@pytest.mark.parametrize("crop", CROPS)
def test_heavier_soil_never_keeps_less(crop):
    assert (np.diff([rows[crop] for rows in BY_RAIN], axis=-1) >= 0).all()


@pytest.mark.parametrize("rows", BY_RAIN, ids=nitrogen.RAINS)
def test_beans_peas_and_rape_leave_no_less_than_cereals(rows):
    for crop in ("beans", "peas", "oilseed_rape", "potatoes"):
        assert (np.array(rows[crop]) >= rows["cereals"]).all()


@pytest.mark.parametrize(("soil", "rain"), LEY_SOILS)
def test_the_more_a_ley_leaves_the_higher_its_index_in_every_year(soil, rain):
    rows = nitrogen.after_ley_rows(soil, rain)
    cells = np.array([rows[name].value for name in nitrogen.LEAVES])
    assert cells.shape == (3, 3)
    assert (np.diff(cells, axis=0) >= 0).all()


@pytest.mark.parametrize(("soil", "rain"), LEY_SOILS)
def test_by_the_third_crop_a_ley_leaves_less_than_at_first_or_as_much(soil, rain):
    for row in nitrogen.after_ley_rows(soil, rain).values():
        first, second, third = row.value
        assert third <= max(first, second)


@pytest.mark.parametrize("lasting", [True, False])
@pytest.mark.parametrize("long", [True, False])
@pytest.mark.parametrize("rich", [True, False])
def test_grazing_leaves_no_less_than_cutting(lasting, long, rich):
    leaves = nitrogen.ley_leaves_row(lasting, long, rich).value
    assert len(leaves) == len(nitrogen.USES)
    assert list(leaves) == sorted(leaves)


def test_no_cell_is_called_published_and_dim_ones_are_called_assumed():
    rows = [row for section in shipped("nitrogen").values() for row in section.values()]
    assert {row.standing for row in rows} == {"from memory", "assumed"}
    dim = [row for row in rows if "dimly" in row.source]
    assert len(dim) == 7
    assert {row.standing for row in dim} == {"assumed"}
