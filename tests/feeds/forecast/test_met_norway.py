import datetime
import json

import numpy as np
import pytest

from sheafwright.core.errors import NotEnoughWeather, OutOfRange, UnreadableInput
from sheafwright.feeds.forecast.met_norway import parse


def parsed(document, **more):
    return parse(json.dumps(document).encode(), "sample.json", **more)


def at(document, time):
    series = document["properties"]["timeseries"]
    return next(entry for entry in series if entry["time"] == f"2026-08-{time}:00:00Z")


def details(document, time, part):
    return at(document, time)["data"][part]["details"]


def declare(document, **units):
    document["properties"]["meta"]["units"].update(units)


def test_whole_days_begin_on_the_day_after_issue(sample):
    forecast = parsed(sample)
    assert forecast.issued == datetime.date(2026, 8, 5)
    assert forecast.first == datetime.date(2026, 8, 6)
    assert forecast.last == datetime.date(2026, 8, 7)


def test_hourly_and_six_hourly_rain_is_counted_once(sample):
    # 6 August: six hours of 0, 0.2, 0.4, 0, 0, 0.4, then six-hourly 2, 0 and 0.5.
    np.testing.assert_allclose(parsed(sample).rain, [[3.5, 1.2]])


def test_temperatures_are_the_extremes_of_the_day(sample):
    forecast = parsed(sample)
    np.testing.assert_allclose(forecast.tmin, [[9.6, 11.5]])
    np.testing.assert_allclose(forecast.tmax, [[18.4, 19.2]])


def test_extremes_within_six_hours_are_used_where_given(sample):
    warm = details(sample, "07T12", "next_6_hours")
    warm.update(air_temperature_min=16.0, air_temperature_max=21.7)
    forecast = parsed(sample)
    np.testing.assert_allclose(forecast.tmax, [[18.4, 21.7]])
    np.testing.assert_allclose(forecast.tmin, [[9.6, 11.5]])


def test_the_source_names_the_service_and_the_run(sample):
    assert parsed(sample).source == (
        "data from MET Norway, made 2026-08-05 19:12 UTC, sample.json"
    )


def test_days_run_from_local_midnight(sample):
    forecast = parsed(sample, utc_offset_hours=1)
    # 23 UTC is the first local hour, and the step across midnight is shared 5 to 1.
    expected = [0.3 + 1.0 + 2.0 + 0.5 * 5 / 6, 0.5 / 6 + 1.2]
    np.testing.assert_allclose(forecast.rain, [expected])


def test_a_day_that_is_not_wholly_covered_is_left_out(sample):
    del sample["properties"]["timeseries"][-2:]
    forecast = parsed(sample)
    assert forecast.rain.shape == (1, 1)
    assert forecast.last == datetime.date(2026, 8, 6)


def test_a_gap_ends_the_forecast(sample):
    sample["properties"]["timeseries"].remove(at(sample, "07T06"))
    assert parsed(sample).last == datetime.date(2026, 8, 6)


def test_a_gap_in_the_first_day_leaves_nothing_to_use(sample):
    sample["properties"]["timeseries"].remove(at(sample, "06T03"))
    with pytest.raises(NotEnoughWeather, match="neither the whole of the day"):
        parsed(sample)


def test_a_series_cut_on_the_day_after_the_run_is_issued_on_that_day(sample):
    late = sample["properties"]["timeseries"][6:]
    sample["properties"]["timeseries"] = late
    forecast = parsed(sample)
    assert forecast.issued == datetime.date(2026, 8, 6)
    assert forecast.first == datetime.date(2026, 8, 7)


def test_a_series_from_midnight_holds_the_day_of_issue(sample):
    sample["properties"]["timeseries"] = sample["properties"]["timeseries"][4:]
    forecast = parsed(sample)
    assert forecast.issued == forecast.first == datetime.date(2026, 8, 6)


def test_days_before_the_run_are_left_out(sample):
    sample["properties"]["meta"]["updated_at"] = "2026-08-07T05:00:00Z"
    forecast = parsed(sample)
    assert forecast.issued == forecast.first == datetime.date(2026, 8, 7)
    np.testing.assert_allclose(forecast.rain, [[1.2]])


def test_percentiles_of_rain_give_three_members(sample):
    declare(sample, precipitation_amount_min="mm", precipitation_amount_max="mm")
    wet = details(sample, "06T06", "next_6_hours")
    wet.update(precipitation_amount_min=0.5, precipitation_amount_max=6.0)
    np.testing.assert_allclose(
        parsed(sample).rain, [[2.0, 1.2], [3.5, 1.2], [7.5, 1.2]]
    )


def test_percentiles_of_temperature_move_both_extremes(sample):
    noon = details(sample, "06T12", "instant")
    noon.update(air_temperature_percentile_10=17.0, air_temperature_percentile_90=20.9)
    details(sample, "06T12", "next_6_hours")["air_temperature_max"] = 19.0
    forecast = parsed(sample)
    np.testing.assert_allclose(forecast.tmax[:, 0], [17.6, 19.0, 21.5])
    np.testing.assert_allclose(forecast.tmin[:, 0], [9.6, 9.6, 9.6])


def test_every_path_of_rain_goes_with_every_path_of_temperature(sample):
    details(sample, "06T06", "next_6_hours")["precipitation_amount_max"] = 6.0
    details(sample, "06T12", "instant")["air_temperature_percentile_90"] = 20.9
    forecast = parsed(sample)
    pairs = set(zip(forecast.rain[:, 0], forecast.tmax[:, 0], strict=True))
    assert forecast.rain.shape == (9, 2)
    assert len(pairs) == 4


@pytest.mark.parametrize(
    ("name", "unit"),
    [("air_temperature", "fahrenheit"), ("precipitation_amount_max", "cm")],
)
def test_another_unit_is_refused(sample, name, unit):
    declare(sample, **{name: unit})
    with pytest.raises(UnreadableInput, match=rf"properties.meta.units.{name} is"):
        parsed(sample)


def test_a_missing_part_is_named_by_its_path(sample):
    del at(sample, "06T05")["data"]["instant"]["details"]["air_temperature"]
    with pytest.raises(UnreadableInput) as refused:
        parsed(sample)
    assert str(refused.value) == (
        "sample.json: properties.timeseries[9].data.instant.details.air_temperature "
        "is missing."
    )


@pytest.mark.parametrize("value", [-0.1, 900, "2", None, False, [], 10**400])
def test_impossible_rain_is_refused(sample, value):
    details(sample, "06T05", "next_1_hours")["precipitation_amount"] = value
    with pytest.raises(UnreadableInput, match="a number from 0 to 500"):
        parsed(sample)


@pytest.mark.parametrize(
    "time",
    ["2026-08-06T05:30:00Z", "2026-08-06T04:00:00Z", "noon", "2026-08-06T05:00:00", 5],
)
def test_a_time_out_of_step_is_refused(sample, time):
    at(sample, "06T05")["time"] = time
    with pytest.raises(UnreadableInput, match=r"timeseries\[9\].time is"):
        parsed(sample)


def test_a_series_of_years_is_no_forecast(sample):
    sample["properties"]["timeseries"][-1]["time"] = "2036-08-08T00:00:00Z"
    with pytest.raises(UnreadableInput, match="within 60 days"):
        parsed(sample)


def test_an_empty_series_is_refused(sample):
    sample["properties"]["timeseries"] = []
    with pytest.raises(UnreadableInput, match="a list that is not empty"):
        parsed(sample)


def test_a_cut_document_says_where_it_ends(sample_bytes):
    with pytest.raises(UnreadableInput, match=r"line 13, column \d+: .* cut short"):
        parse(sample_bytes[:2500], "sample.json")


@pytest.mark.parametrize("content", [b"[" * 100_000, b"{\xff}", b'{"a": NaN}'])
def test_what_is_no_json_is_refused(content):
    with pytest.raises(UnreadableInput, match=r"JSON|NaN"):
        parse(content, "sample.json")


def test_an_offset_that_no_place_has_is_refused(sample):
    with pytest.raises(OutOfRange, match="offset from UTC is 15 h"):
        parsed(sample, utc_offset_hours=15)
