"""Answers of lodging, yield, sowings and seasons, told to whoever reads them."""

import dataclasses
import datetime
import functools

import numpy as np
import pytest

from sheafwright.answers.expected_yield import (
    OwnHarvest,
    YieldQuestion,
    expected_yield,
)
from sheafwright.answers.lodging import LodgingQuestion, will_it_stand
from sheafwright.answers.lodging_working import change_named
from sheafwright.answers.replay import Sowing, replay
from sheafwright.answers.sowing_dates import sowings
from sheafwright.answers.sowing_dates_question import SowingsQuestion
from sheafwright.core.errors import NotEnoughWeather, OutOfRange
from sheafwright.feeds import decision
from sheafwright.feeds.forecast.read import parse
from sheafwright.feeds.holding import demo_holding
from sheafwright.feeds.lodging import Crop
from sheafwright.feeds.telling import Reader, Said, again, read_by, refusal, say
from sheafwright.feeds.weather import read
from told import FOREIGN, METRIC, in_brackets, loose

HOLDING = demo_holding()
RECORD = {"weather": HOLDING.weather, "columns": HOLDING.columns}
NAMES = {"Marl Hollow", "members.csv"}
IMPERIAL = Reader("imperial")
CROP = Crop(datetime.date(2025, 10, 1), 300, height_m=1.25, nitrogen_index=2)
YIELD = YieldQuestion((80, 100), 200, datetime.date(2025, 10, 10))
OWN = tuple(OwnHarvest(year, made=1.4) for year in (2023, 2024))
PLANTS = (100.0, 250.0)
REPLAYED = datetime.date(2009, 9, 1), datetime.date(2020, 12, 31)
AUTUMN, SPRING = ((10, 10), (10, 11), (2, 26)), ((3, 20), (3, 25))
FORECAST = parse(
    b"date,member,rain_mm\n2025-08-08,a,0\n2025-08-09,a,4\n", "members.csv"
)


LAY = "sown,lodged_pct\n2019-10-10,0\n2020-10-10,30\n"
SEASONS = "sown,flowered,cut\n2020-10-10,2021-06-15,2021-08-05\n"


def _stands(_look, _file):
    return will_it_stand(LodgingQuestion(crop=CROP, **RECORD))


def _stands_beside_own(_look, file):
    own = {"own_lodging": file(LAY), "reference": CROP, "soil": "heavy"}
    return will_it_stand(LodgingQuestion(crop=CROP, **own, **RECORD))


def _yields(_look, _file):
    return expected_yield(YIELD)


def _yields_as_own(_look, _file):
    rich = {"nitrogen": (120, 160), "combed": False, "own": OWN}
    return expected_yield(dataclasses.replace(YIELD, **rich))


def _autumn(_look, _file):
    return sowings(SowingsQuestion(sown=AUTUMN, plants=PLANTS, **RECORD))


def _spring(_look, _file):
    late = {"sown": SPRING, "variety_class": "end-january"}
    return sowings(SowingsQuestion(plants=PLANTS, **late, **RECORD))


def _replayed(_look, _file):
    """A few seasons of a few summers, which say as much as many."""
    full = decision.settings()
    futures = dataclasses.replace(full.futures, training_summers=50)
    few = dataclasses.replace(full, futures=futures)
    record = read(HOLDING.weather, HOLDING.columns).between(*REPLAYED)
    # A harvest that can't be learned from is told of, too.
    record.values["tmin"][record.dates == np.datetime64("2012-05-01")] = np.nan
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(decision, "settings", lambda: few)
        return replay(record, Sowing(10, 10), "modelled")


def _season(look, _file):
    return look()


def _season_seen(look, file):
    signs = {"grain": "milk"}
    return look(own_seasons=file(SEASONS), signs=signs, forecast=FORECAST)


ANSWERS = {
    "lodging": _stands,
    "lodging, own": _stands_beside_own,
    "yield": _yields,
    "yield, own": _yields_as_own,
    "sowings": _autumn,
    "sowings, late": _spring,
    "replay": _replayed,
    "season": _season,
    "season, seen": _season_seen,
}


@pytest.fixture(scope="module")
def answers(look, tmp_path_factory):
    """The answer of a name, worked out once."""

    def file(text):
        path = tmp_path_factory.mktemp("own") / "own.csv"
        path.write_text(text)
        return str(path)

    return functools.cache(lambda name: ANSWERS[name](look, file))


every_answer = pytest.mark.parametrize("name", ANSWERS)


def words(said):
    """All that an answer says to be read."""
    yield said["sentence"]
    yield from (step["says"] for step in said["working"])
    yield from (each["says"] for each in said.get("changes", ()) if "says" in each)
    yield from (each["why"] for each in said.get("seasons_refused", ()))
    if "against_reference" in said:
        yield said["against_reference"]["called"]


@every_answer
def test_another_language_has_every_word(answers, name):
    with read_by(FOREIGN):
        said = answers(name).to_json()
    for each in words(said):
        assert isinstance(each, Said), each
        assert not list(loose(each, NAMES)), each
        assert "⟦" in again_to(FOREIGN, each)
        assert "⟦" not in again(each)


def again_to(reader, said):
    with read_by(reader):
        return again(said)


@every_answer
def test_who_reads_acres_reads_neither_hectares_nor_millimetres(answers, name):
    kept = answers(name).to_json()
    for each in words(again_to(IMPERIAL, kept)):
        assert not METRIC.search(each), each
        assert " a hectare" not in each


def test_a_harvest_not_learned_from_is_told_of(answers):
    with read_by(FOREIGN):
        (refused,) = answers("replay").to_json()["seasons_refused"]
    assert refused["year"] == 2012
    assert refused["why"].startswith("⟦")


def test_what_is_loose_would_be_found():
    assert list(loose(say("Nobody has marked this: {day}.", day="1 May")))
    assert list(loose(say("{day} {month}", day=1, month="May"))) == ["May"]
    assert not list(loose(say("{day} {month}", day=1, month=say("May"))))
    for text in ("of 4.2 mm.", "3 t/ha of", "18.2 m/s", "1.25 m tall", "30\u00a0kg/ha"):
        assert METRIC.search(text), text
    assert not METRIC.search("4.1 ft tall, 300 plants/m², 30 MPa, ears of 10 cm²")


def test_the_field_is_told_in_feet_and_its_yield_in_tons(answers):
    with read_by(IMPERIAL):
        stands, yields = (
            answers(name).sentence.replace("\u00a0", " ")
            for name in ("lodging", "yield")
        )
    assert "a usual field (3.9 ft tall, 250 plants/m²" in stands
    assert yields.startswith(
        "Expect about 1.57 tons/acre of straw, of which 0.85 tons/acre reed, and 1.07 "
        "tons/acre of grain."
    )


def test_money_is_told_by_the_acre(answers):
    metric = answers("sowings").sentence
    with read_by(IMPERIAL):
        imperial = answers("sowings").sentence
    a_hectare, an_acre = (
        int(said.split("£")[1].split()[0].replace(",", ""))
        for said in (metric, imperial)
    )
    assert a_hectare * 0.4047 == pytest.approx(an_acre, abs=8)
    assert f"£{an_acre:,} an acre" in imperial


def test_a_change_is_told_in_the_readers_units():
    change = {"change": "shorter_variety", "crop": {"height_m": 1.1}}
    assert change_named(change) == "a variety of 1.10 m"
    with read_by(IMPERIAL):
        assert change_named(change) == "a variety of 3.6\u00a0ft"


def _refused(**changes):
    return lambda: expected_yield(dataclasses.replace(YIELD, **changes))


REFUSED = {
    "one class": _refused(height_class="dwarf"),
    "one first": _refused(nitrogen=(100, 80)),
    "one weighed": _refused(own=(OwnHarvest(2024, made=0),)),
    "nothing weighed": _refused(own=(OwnHarvest(2024),)),
    "no day": lambda: SowingsQuestion(sown=((7, 1),), **RECORD),
    "no stand": lambda: SowingsQuestion(plants=(5.0,), **RECORD),
    "too many": lambda: SowingsQuestion(plants=tuple(range(100, 126)), **RECORD),
    "the south": lambda: sowings(SowingsQuestion(latitude=-35.0, **RECORD)),
    "too short": lambda: will_it_stand(
        LodgingQuestion(crop=CROP, as_of=datetime.date(2000, 12, 1), **RECORD)
    ),
}


@pytest.mark.parametrize("ask", REFUSED.values(), ids=REFUSED)
def test_a_refusal_is_told_in_another_language(ask):
    with pytest.raises((OutOfRange, NotEnoughWeather)) as raised, read_by(FOREIGN):
        ask()
    said = again_to(FOREIGN, refusal(raised.value))
    chosen = {"dwarf", "old_tall", "tall", "middling", "short"}
    assert not list(loose(said, NAMES | chosen)), said
    assert said.startswith(in_brackets("")[0])
