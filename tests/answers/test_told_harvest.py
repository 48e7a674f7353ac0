"""Answers of weather, stooks, ricks and harvest work, told to whoever reads them."""

import dataclasses
import datetime
import functools
import gzip
import re

import numpy as np
import pytest

from sheafwright.answers.cutting import cut
from sheafwright.answers.daily import daily_weather
from sheafwright.answers.rick_heat import MEANS, rick_heat, step_means
from sheafwright.answers.rick_keeping import rick_keeping
from sheafwright.answers.rick_size import Bay, Oblong, Round, rick_size
from sheafwright.answers.stooks import Reading, StooksQuestion, stooks
from sheafwright.answers.weather import CALLED, FITNESS, weather_report
from sheafwright.answers.work_day import WorkQuestion, work_day
from sheafwright.answers.working import steps_to_json
from sheafwright.core.errors import NotEnoughWeather, OutOfRange
from sheafwright.feeds.holding import demo_holding
from sheafwright.feeds.telling import Reader, Said, again, read_by, refusal
from sheafwright.feeds.weather.record import WeatherRecord
from told import FOREIGN, METRIC, loose

HOLDING = demo_holding()
RICK, FIELD = "The barn rick", "Long Acre"
NAMES = {RICK, FIELD, "Long Meadow", "Marl Hollow", "short", "weather"}
IMPERIAL = Reader("imperial")
OURS = re.compile(rf"{METRIC.pattern}|\d[\s\u00a0](?:m³|kg/m³|km/h)")
BUILT = datetime.date(2026, 8, 20)
NOW = datetime.datetime(2026, 9, 2, 9, 0, tzinfo=datetime.UTC)
CUT, TODAY = datetime.date(2025, 8, 1), datetime.date(2025, 8, 7)


def _heat(*readings, settled=False):
    """By the probe so many hours ago; long after building, if it has settled."""
    now = NOW + datetime.timedelta(60) if settled else NOW
    read = [(now - datetime.timedelta(hours=ago), heat) for ago, heat in readings]
    return lambda: rick_heat(RICK, BUILT, read, now)


def _keeping(grain, straw=None, days=31, heat=14):
    as_of = BUILT + datetime.timedelta(days)
    return lambda: rick_keeping(RICK, BUILT, [(BUILT, heat)], as_of, grain, straw)


def _size(shape, sheaves, **given):
    return lambda: rick_size(shape, sheaves, **given)


def _work(area, hands, **given):
    return lambda: work_day(WorkQuestion(area, hands, 1, **given))


STOOKS = StooksQuestion(
    HOLDING.weather, CUT, FIELD, HOLDING.columns, as_of=TODAY, summers=100
)


def _stooks(**changes):
    return lambda: stooks(dataclasses.replace(STOOKS, **changes))


@functools.cache
def _short():
    """Path of a record of half a year, with an impossible value and a gap."""
    with gzip.open(HOLDING.weather, "rt") as file:
        heading, *lines = file.read().splitlines()
    kept = [line for line in lines if "2001" <= line[:10] < "2001-06"]
    cells = kept[20].split(",")
    cells[heading.split(",").index("rain_mm")] = "-3"
    return "\n".join([heading, *kept[:20], ",".join(cells), *kept[25:]])


ANSWERS = {
    "not probed": _heat(),
    "not probed, settled": _heat(settled=True),
    "cool": _heat((1, 38)),
    "cool, settled": _heat((1, 38), settled=True),
    "warming": _heat((25, 40), (1, 46)),
    "warm, rising, late": _heat((50, 50), (26, 57)),
    "hot": _heat((1, 62)),
    "dangerous": _heat((1, 66.5)),
    "fire": _heat((1, 72)),
    "keeps": _keeping(0.16, 0.15),
    "keeps for long": _keeping(0.12, 0.17, heat=6),
    "half its time": _keeping(0.17, 0.19, days=45),
    "its time is over": _keeping(0.17, days=100),
    "too damp": _keeping(0.241, days=0),
    "too warm": _keeping(0.15, heat=55),
    "fits": _size(Bay(6, 5, 4), 1000),
    "one sheaf fits": _size(Round(3, 3.1, 2), 1),
    "may fit": _size(Bay(6, 5, 4), 1400, kg_per_sheaf=9),
    "fits as it sinks": _size(Bay(6, 5, 4), 1130),
    "does not fit": _size(Oblong(10, 5, 3, 3, hipped=True), 5000),
    "fits as it sinks, sheeted": _size(Oblong(10, 5, 3, 3), 3600),
    "work": _work(4, 6),
    "work, own": _work(0.4, 6, carts=1, mis_ties=10.0, sheaves=400, cut_width=1.5),
    "stooks": _stooks(),
    "stooks, read": _stooks(field="", readings=(Reading(TODAY, 0.18, 0.2),)),
}
answer_of = functools.cache(lambda name: ANSWERS[name]())
every_answer = pytest.mark.parametrize("name", ANSWERS)


def words(said):
    """All that an answer says to be read."""
    yield said["sentence"]
    yield from (said[key] for key in ("caution",) if key in said)
    yield from (step["says"] for step in said["working"])


def told_to(reader, said):
    with read_by(reader):
        return again(said)


def assert_in_the_catalogue(said):
    assert isinstance(said, Said), said
    assert not list(loose(said, NAMES)), said
    assert "⟦" in told_to(FOREIGN, said)
    assert "⟦" not in again(said)


@every_answer
def test_another_language_has_every_word(name):
    with read_by(FOREIGN):
        said = answer_of(name).to_json()
    for each in words(said):
        assert_in_the_catalogue(each)


@every_answer
def test_who_reads_acres_reads_no_metric_unit(name):
    for each in words(told_to(IMPERIAL, answer_of(name).to_json())):
        assert not OURS.search(each), each
        assert not re.search("hectare|metre", each), each


def test_our_units_would_be_found():
    for text in (
        "of 120 m³.",
        "9 kg",
        "at 5 km/h",
        "4.2 mm of",
        "150\u00a0kg/m³",
        "2 ha",
    ):
        assert OURS.search(text), text
    assert not OURS.search("4,238 cu ft, 6.0 ft, 19.8 lb, 3.1 mph, 0.69 miles")


def test_a_cut_is_advised_in_another_language_and_in_inches(kiln_ground):
    said = cut(kiln_ground).to_json()
    assert_in_the_catalogue(said["sentence"])
    assert not any(OURS.search(each) for each in words(told_to(IMPERIAL, said)))


def test_a_season_is_looked_at_in_another_language(look):
    for changes in ({}, {"as_of": datetime.date(2025, 1, 10), "seen": {}}):
        assert_in_the_catalogue(look(**changes).sentence)


def test_a_rick_is_measured_in_feet():
    with read_by(IMPERIAL):
        assert answer_of("fits").sentence.replace("\u00a0", " ") == (
            "It fits: 1,000 sheaves need 2,717 cu ft to 3,924 cu ft of its 4,238 cu ft."
        )
        assert "sq ft of thatch or sheet" in (
            answer_of("does not fit").sentence.replace("\u00a0", " ")
        )


def test_a_harvest_is_worked_in_acres_and_miles():
    with read_by(IMPERIAL):
        said = answer_of("work").sentence.replace("\u00a0", " ")
        pace = [step.says for step in answer_of("work").working if "mph" in step.says]
    assert "With 6 hands, 9.88 acres are cut and stooked" in said
    assert "2.4 miles of twine, 1,296 ft an acre" in said
    assert pace[0].replace("\u00a0", " ").startswith("6.0 ft at 3.1 mph")


@pytest.mark.parametrize("level", MEANS)
def test_what_a_step_of_heat_means_can_be_told(level):
    for hours in (12, 4, float("nan")):
        assert_in_the_catalogue(step_means(level, hours))
    assert step_means("warm", 12) == "It is warm; probe it twice a day."
    assert step_means("fire", float("nan")).endswith("everyone keeps off.")


def test_a_record_is_told_of_in_another_language(tmp_path):
    path = tmp_path / "short.csv"
    path.write_text(_short())
    for report in (
        weather_report(path),
        weather_report(HOLDING.weather, HOLDING.columns),
    ):
        said = report.to_json()
        assert_in_the_catalogue(said["sentence"])
        for each in said["suspect"]:
            assert_in_the_catalogue(each["says"])
        for each in said["filled"].values():
            assert_in_the_catalogue(each["method"])
    assert FITNESS.keys() == CALLED.keys()


FULL = {
    "humidity_min": 0.63,
    "humidity_max": 0.84,
    "sunshine": 9.25,
    "wind": 2.8,
}


@pytest.mark.parametrize(
    "values",
    [
        {},
        FULL,
        {"dewpoint": 11.0, "radiation": 20.0},
        {"humidity": 0.8, "wind": np.array([3.0, np.nan])},
    ],
    ids=["bare", "full", "radiation", "half"],
)
def test_where_the_drying_power_comes_from_can_be_told(values):
    usual = {"tmin": 12.3, "tmax": 21.5, "rain": 0.0} | values
    record = WeatherRecord(
        station="Long Meadow",
        layout="test",
        first=datetime.date(2025, 7, 6),
        values={n: np.broadcast_to(v, 2).astype(float) for n, v in usual.items()},
    )
    for step in steps_to_json(daily_weather(record, 50.8, 100).steps):
        assert_in_the_catalogue(step["says"])
        assert not OURS.search(told_to(IMPERIAL, step["says"]))


def _shallow():
    return Oblong(4, 5, 2, 2)


REFUSED = {
    "longer side": _shallow,
    "eaves is nan m": lambda: rick_size(Bay(1, 1, float("nan")), 9),
    "width across is": lambda: rick_size(Round(0, 1, 1), 9),
    "Sheaves of": lambda: rick_size(Bay(1, 1, 1), 9, kg_per_sheaf=50),
    "No wheat grows": lambda: daily_weather(_nothing(), 50, 9000),
    "latitude of 80°": lambda: daily_weather(_nothing(), 80, 9),
    "has no lowest temperature, highest temperature or rain": lambda: daily_weather(
        _nothing(), 50, 9
    ),
    "to cut can't": lambda: work_day(WorkQuestion(0, 6, 1)),
    "km/h": lambda: work_day(WorkQuestion(4, 6, 1, binder_speed=90)),
    "as many as the binder wants": lambda: work_day(WorkQuestion(4, 1, 1)),
    "reads 1200": lambda: _heat((1, 1200))(),
    "to lie for -1 days": lambda: _keeping(0.15, days=-1)(),
    "can't hold 70%": lambda: _keeping(0.7)(),
    "can't hold 90%": lambda: Reading(TODAY, grain=0.9),
    "nothing stands in stooks": _stooks(cut=datetime.date(2025, 8, 9)),
    "long off the field": _stooks(cut=datetime.date(2025, 3, 1)),
    "the day of the question": _stooks(readings=(Reading(BUILT, 0.3),)),
    "or before": _stooks(
        cut=datetime.date(1994, 12, 20), as_of=datetime.date(1995, 1, 5)
    ),
}


def _nothing():
    return WeatherRecord("Long Meadow", "test", datetime.date(2025, 7, 6), {})


@pytest.mark.parametrize("part", REFUSED)
def test_a_refusal_is_told_in_the_readers_words_and_units(part):
    with pytest.raises((OutOfRange, NotEnoughWeather), match=re.escape(part)) as caught:
        REFUSED[part]()
    assert_in_the_catalogue(refusal(caught.value))
    with read_by(IMPERIAL):
        assert not OURS.search(refusal(caught.value)), refusal(caught.value)
