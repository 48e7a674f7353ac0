"""The lodging tables are whole, and a grower's own lodging is read as written."""

import datetime

import pytest

from sheafwright.core.errors import OutOfRange, UnreadableInput
from sheafwright.core.inputs.lodging import Doubt, Mechanics, Patches
from sheafwright.feeds import lodging, tables


@pytest.mark.parametrize("soil", lodging.SOILS)
def test_every_soil_completes_the_mechanics(soil):
    assert lodging.mechanics(soil).wet_strength > 0


def test_heavier_soil_is_firmer_and_holds_more_rain():
    light, medium, heavy = map(lodging.mechanics, lodging.SOILS)
    for name in ("wet_strength", "available_water"):
        rising = [getattr(each, name) for each in (light, medium, heavy)]
        assert rising == sorted(set(rising))


def test_an_unknown_soil_is_refused():
    with pytest.raises(OutOfRange, match="'peat' is not a kind of soil"):
        lodging.mechanics("peat")


@pytest.mark.parametrize("kind", [Doubt, Patches])
def test_only_what_the_mechanics_have_is_doubted(kind):
    assert set(kind.__annotations__) < set(Mechanics.__annotations__)


def test_what_patches_differ_in_leaves_the_days_alone():
    # Wind and the soil's loss of strength are alike in all patches of a field.
    alike = {
        "mast_gust_factor",
        "turbulence",
        "peak_factor",
        "blending_height",
        "dry_over_wet",
        "rooting_depth",
        "available_water",
    }
    assert not alike & set(Patches.__annotations__)


def test_no_assumed_number_is_called_published():
    table = tables.shipped("lodging")
    published = {
        row.name
        for rows in table.values()
        for row in rows.values()
        if row.standing == "published"
    }
    assert published == {
        "stem_score_per_index",
        "root_score_per_index",
        "score_per_week_later",
        "gust_per_score",
    }


def test_the_usual_reference_field_was_sown_the_autumn_before():
    crop = lodging.reference_crop(2026)
    assert crop.sown == datetime.date(2025, 10, 10)
    assert (crop.height_m, crop.plants_per_m2, crop.nitrogen_index) == (1.2, 250, 1)


def test_blank_cells_are_those_of_the_reference_field(tmp_path):
    path = tmp_path / "lodged.csv"
    path.write_text(
        "sown,lodged_pct,height_cm,nitrogen_index\n"
        "2019-10-02,35,,2\n2020-10-12,0,110,\n"
    )
    first, second = lodging.own_lodging(path, lodging.reference_crop(2026))
    assert first.share == 0.35
    assert first.crop == lodging.Crop(datetime.date(2019, 10, 2), 250, 1.2, 2)
    assert second.crop == lodging.Crop(datetime.date(2020, 10, 12), 250, 1.1, 1)


def test_a_file_without_its_columns_is_refused_by_name(tmp_path):
    path = tmp_path / "lodged.csv"
    path.write_text("year,share\n2019,35\n")
    with pytest.raises(UnreadableInput, match="should be sown, lodged_pct"):
        lodging.own_lodging(path, lodging.reference_crop(2026))
