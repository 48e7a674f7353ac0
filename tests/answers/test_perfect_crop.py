import pytest

from sheafwright.answers import wording
from sheafwright.answers.perfect_crop import perfect_crop


def test_a_perfect_crop_is_its_reed_and_its_grain_at_their_prices():
    crop = perfect_crop(2.0)
    assert (crop.reed_t, crop.grain_t) == (6.0, 5.0)
    assert crop.gbp == pytest.approx(6.0 * 800 + 5.0 * 250)


def test_its_working_names_the_weakest_standing():
    assert perfect_crop(2.0).step.standing == "assumed"


def test_with_its_area_a_crop_is_weighed_in_money_and_tonnes():
    # 2 ha are £6,050 of 6.0 t and 5.0 t.
    assert wording.weighed(0.5, 0.6, 0.7, perfect_crop(2.0)) == (
        "Cut now it may bring £3,020, as 3.0 t of sound reed and 2.5 t of grain do, "
        "and with waiting £3,630; 7 chances in 10 that waiting brings more."
    )


def test_what_comes_to_the_same_is_said_once():
    said = wording.weighed(0.501, 0.5012, 0.5, perfect_crop(2.0))
    assert said.startswith("Now or later it may bring £3,030, as 3.0 t")
    assert "with waiting" not in said
