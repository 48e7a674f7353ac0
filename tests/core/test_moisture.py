"""Moisture's two bases, and the curves that tie it to the air."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.inputs.moisture import GrainCurves, StrawCurves
from sheafwright.core.moisture import equilibrium
from sheafwright.core.moisture.basis import dry_basis, wet_basis
from sheafwright.feeds.tables import build, shipped

GRAIN = build(GrainCurves, shipped("moisture")["grain"], "moisture.toml [grain]")
STRAW = build(StrawCurves, shipped("moisture")["straw"], "moisture.toml [straw]")
# No wheat constants are known for Halsey's form; these only exercise it.
HALSEY = {"halsey_trial": (5.0, -0.01, 2.5)}
CURVES = vars(GRAIN) | vars(STRAW) | HALSEY
HUMIDITIES = st.floats(0.2, 0.95)
TEMPERATURES = st.floats(0, 40)

FORMS = ("henderson", "chung_pfost", "oswin", "halsey")

every_curve = pytest.mark.parametrize("curve", CURVES)


def form(curve, suffix=""):
    name = next(name for name in FORMS if curve.startswith(name))
    return getattr(equilibrium, name + suffix)


@given(st.floats(0, 0.99))
def test_moisture_comes_back_from_dry_basis(moisture):
    assert wet_basis(dry_basis(moisture)) == pytest.approx(moisture, abs=1e-12)


@given(st.floats(0, 0.9))
def test_dry_basis_is_never_less_than_wet_basis(moisture):
    assert dry_basis(moisture) >= moisture


@every_curve
@given(low=HUMIDITIES, high=HUMIDITIES, temperature=TEMPERATURES)
def test_damper_air_leaves_damper_straw_and_grain(curve, low, high, temperature):
    air = np.sort([low, high])
    drier, damper = form(curve)(air, temperature, CURVES[curve])
    assert damper >= drier


@every_curve
@given(humidity=HUMIDITIES, cool=TEMPERATURES, warmer=st.floats(0, 20))
def test_warmer_air_of_one_humidity_leaves_no_more_water(curve, humidity, cool, warmer):
    at = np.array([cool, cool + warmer])
    before, after = form(curve)(humidity, at, CURVES[curve])
    assert after <= before + 1e-12


@every_curve
@given(humidity=HUMIDITIES, temperature=TEMPERATURES)
def test_each_curve_and_its_inverse_undo_each_other(curve, humidity, temperature):
    moisture = form(curve)(humidity, temperature, CURVES[curve])
    back = form(curve, "_humidity")(moisture, temperature, CURVES[curve])
    assert back == pytest.approx(humidity, abs=1e-9)


@every_curve
def test_a_day_without_data_gives_nan(curve):
    gaps = [np.nan, 0.7], [15.0, np.nan], CURVES[curve]
    assert np.isnan(form(curve)(*gaps)).all()
    assert np.isnan(form(curve, "_humidity")(*gaps)).all()


@pytest.mark.parametrize(
    ("curve", "e", "f"),
    [
        ("chung_pfost_hard", 0.35616, 0.056788),
        ("chung_pfost_soft", 0.27908, 0.042360),
        ("chung_pfost_durum", 0.37761, 0.055318),
    ],
)
def test_chung_pfost_constants_agree_with_their_second_printed_form(curve, e, f):
    a, b, _ = CURVES[curve]
    per_unit = 100 * b
    assert np.log(a) / per_unit == pytest.approx(e, abs=2e-5)
    assert 1 / per_unit == pytest.approx(f, abs=2e-6)


@pytest.mark.parametrize(("humidity", "apart"), [(0.5, 1.2), (0.7, 2.1), (0.9, 5.0)])
def test_the_grain_curves_lie_as_far_apart_as_their_page_says(humidity, apart):
    moistures = [
        form(curve)(humidity, 20.0, constants)
        for curve, constants in vars(GRAIN).items()
    ]
    assert 100 * np.ptp(moistures) == pytest.approx(apart, abs=0.05)


def test_the_straw_stand_ins_keep_their_order_below_a_humidity_of_0_88():
    air = np.linspace(0.3, 0.95, 66)
    low = equilibrium.oswin(air, 20.0, STRAW.oswin_low)
    high = equilibrium.oswin(air, 20.0, STRAW.oswin_high)
    np.testing.assert_array_equal(low < high, air < 0.88)
