"""Cold enough in time, or a crop that stays in leaf or heads by fits and starts."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.crop.development import develop
from sheafwright.core.crop.progress import first_day, sum_since
from sheafwright.core.crop.vernalisation import (
    STATUSES,
    status,
    status_chances,
    uneven_heading,
    vernal_days,
    vernal_factor,
)
from sheafwright.core.errors import OutOfRange
from sheafwright.core.weather.thermal_time import thermal_time
from sheafwright.feeds import crop

PHASES = crop.phases("end-january")
COLD = PHASES.vernal_temperatures
RULE = crop.vernalisation_rule()
FILLING = crop.grain_filling_forms()[0]


def by_the_end_of_may(season, since):
    return vernal_days(season.tmin, season.tmax, since, COLD)[season.day("31 May")]


def emerged(season, sown):
    return develop(*season, season.day(sown), PHASES, FILLING).emergence


def germinated(season, sown):
    warmth = thermal_time(season.tmin, season.tmax, PHASES.base_temperature)
    return first_day(sum_since(warmth, season.day(sown) - 1) >= 40)


# Vernal days by 31 May at 0, 1 and 2 °C above the mean climate: worked apart.
AVAILABLE = [
    (emerged, "31 Jan", 66, 68, 68),
    (emerged, "15 Feb", 58, 58, 56),
    (emerged, "28 Feb", 50, 49, 47),
    (emerged, "10 Mar", 43, 43, 39),
    (emerged, "24 Mar", 33, 32, 29),
    (emerged, "07 Apr", 24, 22, 20),
    (germinated, "31 Jan", 92, 91, 88),
    (germinated, "15 Feb", 80, 77, 73),
    (germinated, "28 Feb", 70, 66, 61),
    (germinated, "10 Mar", 61, 57, 52),
    (germinated, "24 Mar", 48, 44, 40),
    (germinated, "07 Apr", 36, 33, 29),
]


@pytest.mark.parametrize("row", AVAILABLE, ids=lambda r: f"{r[0].__name__} {r[1]}")
def test_the_cold_to_be_had_from_each_sowing(season, row):
    since, sown, *expected = row
    years = [season.warmer(by) for by in (0, 1, 2)]
    got = [by_the_end_of_may(year, since(year, sown)) for year in years]
    # Whole days are printed; when germination falls is known to a day, no better.
    atol = 0.6 if since is emerged else 1
    np.testing.assert_allclose(got, expected, rtol=0, atol=atol)


@pytest.mark.parametrize(
    "variety_class, sown",
    [("end-january", "31 Jan"), ("mid-february", "15 Feb"), ("end-february", "28 Feb")],
)
def test_the_last_safe_sowing_of_a_class_is_just_about_safe(
    season, variety_class, sown
):
    full = crop.phases(variety_class).vernal_days_full
    gathered = by_the_end_of_may(season, emerged(season, sown))
    assert gathered / full == pytest.approx(RULE.safe_margin, abs=0.02)


def test_an_unknown_old_wheat_is_at_risk_when_sown_in_march(season):
    gathered = by_the_end_of_may(season, emerged(season, "10 Mar"))
    found = status(gathered, PHASES.vernal_days_full, RULE.safe_margin)
    assert STATUSES[int(found)] == "at_risk"


def test_a_spring_wheat_needs_no_cold():
    spring = crop.phases("spring")
    need = spring.vernal_days_base, spring.vernal_days_full
    assert vernal_factor(0.0, *need) == 1
    assert STATUSES[int(status(0.0, need[1], RULE.safe_margin))] == "safe"


def test_a_draw_without_weather_leaves_the_chance_unknown():
    chances = status_chances([[60.0, np.nan], [60.0, 60.0]], 38, 1.3)
    assert np.isnan(chances[0]).all()
    assert chances[1].tolist() == [0, 0, 1]


def heads_unevenly(season, sown, spring="01 Mar"):
    tmean = (season.tmin + season.tmax) / 2
    gathered = vernal_days(season.tmin, season.tmax, emerged(season, sown), COLD)
    need = PHASES.vernal_days_base, PHASES.vernal_days_full
    return uneven_heading(
        vernal_factor(gathered, *need),
        tmean,
        season.day(spring),
        RULE.warm_days,
        RULE.warm_mean,
    )


def test_warmth_overtakes_a_crop_sown_too_late(season):
    assert heads_unevenly(season, "24 Mar") == 1


def test_an_autumn_crop_heads_evenly_though_its_autumn_was_warm(season):
    warm_autumn = season.warmer(6)
    assert heads_unevenly(warm_autumn, "10 Oct") == 0
    assert heads_unevenly(warm_autumn, "10 Oct", spring="10 Oct") == 1


def test_without_weather_no_one_can_say_how_it_heads(season):
    tmin = season.tmin.copy()
    tmin[season.day("01 Jan")] = np.nan
    assert np.isnan(heads_unevenly(season._replace(tmin=tmin), "10 Oct"))


@given(st.floats(0, 200), st.floats(0, 20), st.floats(1, 80))
def test_the_vernal_factor_stays_between_nought_and_one(gathered, base, more):
    assert 0 <= vernal_factor(gathered, base, base + more) <= 1


def test_an_unknown_class_is_refused_with_the_choices():
    with pytest.raises(OutOfRange, match="one of end-january, mid-february"):
        crop.phases("old")


def test_no_winter_wheat_is_called_safe_after_february():
    winter = [c for c in crop.variety_classes() if c != "spring"]
    assert max(crop.latest_sowing(each) for each in winter) == 31 + 28
