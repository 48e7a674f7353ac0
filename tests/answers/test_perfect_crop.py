import pytest

from sheafwright.answers.perfect_crop import perfect_crop


def test_a_perfect_crop_is_its_reed_and_its_grain_at_their_prices():
    crop = perfect_crop(2.0)
    assert (crop.reed_t, crop.grain_t) == (6.0, 5.0)
    assert crop.gbp == pytest.approx(6.0 * 800 + 5.0 * 250)


def test_its_working_names_the_weakest_standing():
    assert perfect_crop(2.0).step.standing == "assumed"
