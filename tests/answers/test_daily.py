"""A record's days, made ready: which sources they rest on, and what outsiders say."""

import datetime
from pathlib import Path

import numpy as np
import pytest

from sheafwright.answers.daily import daily_weather
from sheafwright.answers.working import step_from_rows
from sheafwright.core.errors import NotEnoughWeather, OutOfRange
from sheafwright.core.weather.humidity import saturation_slope
from sheafwright.feeds.tables import Row
from sheafwright.feeds.weather.record import WeatherRecord

REAL = Path(__file__).parents[3] / "shared" / "data" / "weather"
UCCLE = {"latitude": 50.8, "altitude": 100}
LYON = {"latitude": 45 + 43 / 60, "altitude": 200}


def record(first=datetime.date(2025, 7, 6), **values):
    """A few days at Long Meadow, all like one July day but for what is given."""
    days = max(np.size(each) for each in values.values())
    usual = {"tmin": 12.3, "tmax": 21.5, "rain": 0.0} | values
    return WeatherRecord(
        station="Long Meadow",
        layout="test",
        first=first,
        values={n: np.broadcast_to(v, days).astype(float) for n, v in usual.items()},
    )


def says(weather):
    return " ".join(step.says for step in weather.steps)


def test_uccle_in_july_gives_the_handbooks_evapotranspiration():
    full = record(
        humidity_min=[0.63], humidity_max=[0.84], sunshine=[9.25], wind=[10 / 3.6]
    )
    weather = daily_weather(full, **UCCLE)
    assert weather.evapotranspiration == pytest.approx([3.88], abs=0.005)


def test_lyon_with_temperatures_alone_gives_the_handbooks_evapotranspiration():
    bare = record(datetime.date(2025, 7, 15), tmin=[14.8], tmax=[26.6])
    weather = daily_weather(bare, **LYON)
    assert weather.evapotranspiration == pytest.approx([4.56], abs=0.005)


def test_the_working_names_every_substitute_with_its_standing():
    bare = daily_weather(record(rain=[0.0, 2.0]), **UCCLE)
    humidity, radiation, wind, equation = bare.steps
    assert "dewpoint is taken as the night's lowest" in humidity.says
    assert "range of temperature with 0.16" in radiation.says
    assert radiation.standing == "assumed"
    assert "2 m/s taken at 2 m, on every day" in wind.says
    assert "eq. 6" in equation.source


@pytest.mark.parametrize(
    ("known", "taken"),
    [
        ({"dewpoint": [11.0], "humidity": [0.8]}, "Humidity from the dewpoint"),
        (
            {"humidity": [0.8], "humidity_min": [0.6], "humidity_max": [0.9]},
            "Humidity from its extremes",
        ),
        ({"humidity": [0.8]}, "Humidity from its daily mean"),
        ({"radiation": [20.0], "sunshine": [9.0]}, "Radiation as the station gives"),
        ({"sunshine": [9.0]}, "from sunshine"),
        ({"wind": [3.0]}, "Wind brought from 10 m"),
    ],
)
def test_the_surest_source_is_taken(known, taken):
    assert taken in says(daily_weather(record(**known), **UCCLE))


def test_each_day_takes_the_surest_source_that_it_has():
    nan = np.nan
    mixed = record(radiation=[22.0, nan, nan], sunshine=[nan, 9.25, nan])
    weather = daily_weather(mixed, **UCCLE)
    assert says(weather).count("on 1 of 3 days") == 3
    assert np.isfinite(weather.evapotranspiration).all()


def test_a_day_without_its_temperature_gives_nan_that_day_alone():
    weather = daily_weather(record(tmax=[21.5, np.nan, 21.5]), **UCCLE)
    np.testing.assert_array_equal(
        np.isnan(weather.evapotranspiration), [False, True, False]
    )


def test_a_night_above_its_day_dries_next_to_nothing():
    crossed = daily_weather(record(tmin=[14.0], tmax=[12.0]), **UCCLE)
    assert 0 <= crossed.evapotranspiration[0] < 0.5


def test_what_the_record_has_is_kept_and_what_it_lacks_is_absent():
    weather = daily_weather(record(pressure=[1013.0, 1009.0]), **UCCLE)
    np.testing.assert_array_equal(weather.pressure, [1013.0, 1009.0])
    np.testing.assert_array_equal(weather.day_of_year, [187, 188])
    assert weather.humidity is weather.sunshine is weather.wind is None


def test_a_record_without_rain_is_refused_by_name():
    without = record(tmin=[10.0])
    del without.values["rain"]
    with pytest.raises(NotEnoughWeather, match="Long Meadow has no rain"):
        daily_weather(without, **UCCLE)


@pytest.mark.parametrize("latitude", [78.0, -90.0, float("nan")])
def test_a_place_where_the_sun_does_not_set_every_day_is_refused(latitude):
    with pytest.raises(OutOfRange, match="between -66 and 66"):
        daily_weather(record(rain=[0.0]), latitude, 100)


@pytest.mark.parametrize("altitude", [-1000, 9000, float("nan")])
def test_a_height_without_wheat_is_refused(altitude):
    with pytest.raises(OutOfRange, match="between -430 m and 5000 m"):
        daily_weather(record(rain=[0.0]), 50.8, altitude)


def test_a_step_is_as_sure_as_the_weakest_row_it_rests_on():
    sure = Row("t", "a", 1, "1", "published", "A paper")
    guessed = Row("t", "b", 2, "1", "assumed", "Ourselves")
    step = step_from_rows("Both", sure, guessed, sure)
    assert (step.standing, step.source) == ("assumed", "A paper; Ourselves")


def real(name):
    from sheafwright.feeds.weather import read

    path = REAL / name
    if not path.exists():
        pytest.skip(f"needs the real record ../shared/data/weather/{name}")
    return read(path)


def agreement(record, latitude, altitude, start=1, end=366):
    """Correlation, bias and root mean square difference from the service's own."""
    weather = daily_weather(record, latitude, altitude)
    theirs, ours = record.values["pe"], weather.evapotranspiration
    used = (weather.day_of_year >= start) & (weather.day_of_year <= end)
    used &= ~np.isnan(theirs) & ~np.isnan(ours)
    gap = ours[used] - theirs[used]
    r = np.corrcoef(ours[used], theirs[used])[0, 1]
    return r, gap.mean(), np.sqrt((gap**2).mean())


@pytest.mark.parametrize(
    ("name", "latitude", "altitude", "lowest_r", "summer_r", "highest_bias"),
    [
        # Dublin Airport: the service's own potential evapotranspiration.
        ("dly532.csv", 53.43, 71, 0.93, 0.91, 0.25),
        # De Bilt: Makkink's, which knows neither wind nor humidity.
        ("etmgeg_260.txt", 52.10, 2, 0.95, 0.94, 0.35),
    ],
)
def test_evapotranspiration_keeps_step_with_what_the_service_publishes(
    name, latitude, altitude, lowest_r, summer_r, highest_bias
):
    station = real(name)
    r, bias, _ = agreement(station, latitude, altitude)
    assert r > lowest_r
    assert 0 < bias < highest_bias
    assert agreement(station, latitude, altitude, start=152, end=258)[0] > summer_r


def test_evapotranspiration_keeps_step_with_an_independent_equation():
    # The twin of the real records: Makkink's equation on a made year of sun and warmth.
    day, rng = np.arange(365), np.random.default_rng(7)
    season = np.sin(2 * np.pi * (day - 80) / 365)
    sun = np.maximum(10 + 8 * season, 2) * rng.uniform(0.4, 1.6, 365)
    tmean = 10 + 7 * season + rng.normal(0, 2, 365)
    slope = saturation_slope(tmean)
    makkink = 0.65 * slope / (slope + 0.066) * sun / 2.45
    year = record(
        datetime.date(2025, 1, 1),
        tmin=tmean - 4,
        tmax=tmean + 4,
        radiation=sun,
        pe=makkink,
    )
    assert agreement(year, 53.4, 70)[0] > 0.9
