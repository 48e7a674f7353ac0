"""Answers of the plan, the ground and its rain, told to whoever reads them."""

import dataclasses
import datetime
import functools
from importlib import resources

import pytest

from sheafwright.answers import prices, soil_wording
from sheafwright.answers.cropping import cropping
from sheafwright.answers.cropping_again import kept_answer
from sheafwright.answers.cropping_problem import problem_of
from sheafwright.answers.known_days import known_days, known_weather
from sheafwright.answers.perfect_crop import perfect_crop
from sheafwright.answers.question import STAGES, Question
from sheafwright.answers.season_past import CLASSES, variety
from sheafwright.answers.soil_supply import SWARDS as KNOWN_SWARDS
from sheafwright.answers.soil_supply import Ley, SoilSupplyQuestion, soil_supply
from sheafwright.answers.usual_rain import usual_rain
from sheafwright.answers.wording import STAGE_NAMES
from sheafwright.answers.working import steps_to_json
from sheafwright.core.errors import SheafwrightError
from sheafwright.core.inputs.cropping import Buyer, Increase, Pin, Wanted
from sheafwright.feeds import cropping as feed
from sheafwright.feeds import nitrogen
from sheafwright.feeds.crop import variety_classes
from sheafwright.feeds.cropping import (
    Busy,
    CroppingQuestion,
    FieldAsked,
    read_question,
)
from sheafwright.feeds.holding import demo_holding
from sheafwright.feeds.telling import (
    Reader,
    Said,
    again,
    packed,
    read_by,
    refusal,
)
from sheafwright.feeds.units import from_unit
from told import FOREIGN, METRIC, catalogue, loose

HOLDING = demo_holding()
DEMO = read_question(resources.files("sheafwright") / "data/demo/cropping.toml")
IMPERIAL = Reader("imperial")
READ = {"sentence", "reason", "why", "says"}
"""What of an answer's JSON is read as it stands."""
FIELDS = ("Long Meadow", "Mill Piece", "Kiln Ground", "Marl", "Hollow", "Ridge")
NAMES = {*FIELDS, *(each.name for each in DEMO.fields), "Marl Hollow", "Old Red"}
WHEATS, LEY = ("ley", "ley", *2 * ("autumn_wheat",)), ("ley", "ley")
LATELY = datetime.date(2025, 3, 1)


def fields(*histories, **said):
    return tuple(
        FieldAsked(name, 2.0, history, **said)
        for name, history in zip(FIELDS, histories, strict=False)
    )


def asked(*fields, years=1, **said):
    said = {"hours_a_week": 500.0} | said
    return CroppingQuestion(first_year=2027, years=years, fields=fields, **said)


def _demo():
    short = {"years": 2, "increase": None, "wanted": DEMO.wanted[:1]}
    return cropping(dataclasses.replace(DEMO, **short), None, 2)


def _of_all_sorts():
    """A plan with young and old leys, unknown ground and what is not yet organic."""
    histories = (5 * ("ley",), ("ley",), WHEATS, ("oats",), 6 * ("oats",), LEY)
    question = asked(
        *fields(*histories, conversion_from=LATELY),
        years=2,
        buyers=(Buyer(3.0, 700.0), Buyer(2.0, 300.0)),
        busy=(Busy(30, 32, 400.0),),
        values={"oats": {"cost_gbp_per_ha": 500.0}},
    )
    return cropping(question, None, 2)


def _with_scarce_seed():
    growing_on = Increase("Old Red", 5.0, 0.5, 2029)
    return cropping(asked(*fields(LEY, LEY), years=3, increase=growing_on))


def _supply(soil, rain, *given, **more):
    return lambda: soil_supply(SoilSupplyQuestion(soil, rain, *given, **more))


ANSWERS = {
    "plan": _demo,
    "plan of all sorts": _of_all_sorts,
    "plan of scarce seed": _with_scarce_seed,
    "sound ground": _supply("medium", 650, "oilseed_rape"),
    "poor ground": _supply("light", 750, "vegetables_low"),
    "manured": _supply("deep_silt", 650, "beans", manure=20),
    "rich ground": _supply("deep_clay", 550, ley=Ley(4, "clover", "grazed")),
    "rich and manured": _supply("deep_clay", 550, ley=Ley(4, use="grazed"), manure=5),
    "an old ley": _supply("medium", 650, "cereals", Ley(1, "lucerne", "cut", 4)),
    "usual rain": lambda: usual_rain(HOLDING.weather, HOLDING.columns),
}


@pytest.fixture(scope="module")
def answers():
    """The answer of a name, worked out once and for anybody."""
    return functools.cache(lambda name: ANSWERS[name]())


every_answer = pytest.mark.parametrize("name", ANSWERS)


def read_in(said):
    """All that is read in an answer's JSON."""
    for key, each in said.items() if isinstance(said, dict) else enumerate(said):
        if key in READ:
            yield each
        elif isinstance(each, dict | list):
            yield from read_in(each)


@every_answer
def test_another_language_has_every_word(answers, name):
    with read_by(FOREIGN):
        told = list(read_in(answers(name).to_json()))
    assert len(told) > 1
    for each in told:
        assert isinstance(each, Said), each
        assert not list(loose(each, NAMES)), each
        assert each.startswith("⟦"), each
        assert "⟦" not in again(each)


@every_answer
def test_who_thinks_in_acres_reads_nothing_metric(answers, name):
    with read_by(IMPERIAL):
        told = list(read_in(answers(name).to_json()))
    for each in told:
        assert not METRIC.search(each), each
        assert not any(word in each for word in ("/ha", "hectare", "tonne")), each


@every_answer
def test_who_thinks_in_hectares_reads_nothing_imperial(answers, name):
    for each in read_in(answers(name).to_json()):
        assert not any(word in each for word in ("acre", "cwt", " lb", " ton ")), each


def test_acres_and_tons_are_read_in_their_stead(answers):
    with read_by(IMPERIAL):
        plan, rain = answers("plan"), answers("usual rain").to_json()
        ground = answers("sound ground").sentence
        working = " ".join(step["says"] for step in plan.to_json()["working"])
    assert "An acre of oats costs £154 and 4.05 hours" in working
    assert "of 1.19\u00a0tons of grain" in working
    assert "A new ley costs £73/acre" in working
    assert ground.startswith("Index 2: about 64 units/acre to 80 units/acre")
    assert rain["sentence"].endswith("\u00a0in of rain fall in a usual year.")


def test_acre_ton_and_unit_are_what_the_tool_takes_them_for():
    assert pytest.approx(from_unit(1, "area", "acre")) == prices.ACRE
    assert pytest.approx(from_unit(1, "mass", "ton") / 1000) == prices.TON
    unit = from_unit(1, "rate", "units/acre")
    assert pytest.approx(unit) == soil_wording.UNIT


def test_a_plan_told_to_another_is_gone_on_from():
    question = asked(*fields(LEY, WHEATS, ("oats",)), years=2)
    made = cropping(question, compared_years=0)
    with read_by(FOREIGN):
        said = packed(made.to_json())
        begun = kept_answer(question, said)
    assert begun.plan.grown == made.plan.grown


PIN = Pin("Long Meadow", 2027, "autumn_wheat")
YOUNG = datetime.date(2026, 3, 1)
REFUSED = {
    "more than there is": asked(*fields(LEY), wanted=(Wanted(2027, "ley", 60.0),)),
    "more than may be": asked(
        *fields(WHEATS, WHEATS, LEY), wanted=(Wanted(2027, "wheat", 6.0),)
    ),
    "organic": asked(
        *fields(LEY, conversion_from=YOUNG),
        wanted=(Wanted(2027, "wheat", 1.0, organic=True),),
    ),
    "no more than": asked(
        *fields(LEY), wanted=(Wanted(2027, "wheat", 0.0, 0.5),), pins=(PIN,)
    ),
    "against the rules": asked(*fields(WHEATS), pins=(PIN,)),
    "without hands": asked(*fields(LEY), pins=(PIN,), hours_a_week=1.0),
    "without seed": asked(
        *fields(LEY), years=2, increase=Increase("Old Red", 0.1, 2.0, 2028)
    ),
}


def refused(ask):
    """What is said to somebody else of what was refused."""
    with pytest.raises(SheafwrightError) as error:
        ask()
    with read_by(FOREIGN):
        return refusal(error.value)


@pytest.mark.parametrize("question", REFUSED.values(), ids=REFUSED)
def test_why_there_is_no_plan_is_told_in_every_language(question):
    said = refused(lambda: cropping(question))
    assert said.startswith("⟦")
    assert not list(loose(said, NAMES))
    with read_by(IMPERIAL):
        assert not METRIC.search(again(said))


SEASON = Question(HOLDING.weather, datetime.date(2024, 10, 10), HOLDING.columns)
NOT_SO = {
    "too small a field": lambda: dataclasses.replace(SEASON, area=1e-6),
    "no stage": lambda: _seen({"tillering": LATELY}),
    "seen before it was sown": lambda: _seen({"milk": datetime.date(2020, 8, 1)}),
    "sown too soon": lambda: _known(sown=datetime.date(1900, 1, 1)),
    "sown too late": lambda: _known(sown=datetime.date(2099, 8, 30)),
    "long off": lambda: _known(sown=datetime.date(2022, 10, 1)),
    "too late to ask": lambda: _known(as_of=datetime.date(2090, 3, 1)),
    "so dry": _supply("light", 100, "cereals"),
    "so much manure": _supply("light", 700, "cereals", manure=500),
    "no such soil": _supply("peat", 700, "cereals"),
    "no such crop": _supply("light", 700, "hemp"),
    "no such sward": _supply("light", 700, ley=Ley(3, "chicory")),
    "no such use": _supply("light", 700, ley=Ley(3, "clover", "hay")),
    "no such ley": _supply("light", 700, ley=Ley(0)),
    "nothing before": _supply("light", 700),
    "a crop unknown": lambda: problem_of(asked(*fields(LEY, without=("rye",)))),
    "a field too large": lambda: problem_of(asked(FieldAsked("Marl", 1e9))),
}
TYPED = {
    *STAGES,
    *nitrogen.SOILS,
    *nitrogen.last_crops(),
    *nitrogen.USES,
    *KNOWN_SWARDS,
    *feed.CROPS,
    *("tillering", "peat", "hemp", "chicory", "hay", "rye"),
}
"""What stands in a file or on a command line as it is, in any language."""


def _seen(stages):
    dataclasses.replace(SEASON, seen=stages).seen_by(LATELY)


def _known(**changes):
    known_days(dataclasses.replace(SEASON, **changes))


@pytest.mark.parametrize("ask", NOT_SO.values(), ids=NOT_SO)
def test_what_is_refused_is_told_in_every_language(ask):
    said = refused(ask)
    assert said.startswith("⟦")
    left = " ".join(loose(said, NAMES)).replace(",", " ").split()
    assert set(left) <= TYPED
    with read_by(IMPERIAL):
        assert not METRIC.search(again(said))


def test_the_steps_that_answers_share_are_told_in_every_language(tmp_path):
    own = tmp_path / "own.csv"
    own.write_text("date,rain_mm,tmin_c,tmax_c\n2025-06-01,2,9,18\n")
    known = known_weather(dataclasses.replace(SEASON, own_readings=str(own)))
    sorts = [variety(name, 10, 10) for name in (None, *variety_classes())]
    steps = (*known.steps, perfect_crop(2.0).step, *(sort.step for sort in sorts))
    with read_by(FOREIGN):
        for step in steps_to_json(steps):
            assert not list(loose(step["says"], NAMES)), step
    with read_by(IMPERIAL):
        assert not any(METRIC.search(each["says"]) for each in steps_to_json(steps))


def test_a_place_that_differs_names_the_readings_it_was_learned_from(tmp_path):
    own = tmp_path / "Your own gauge and thermometer"
    own.write_text("date,rain_mm,tmin_c,tmax_c\n2025-06-01,2,9,18\n")
    known = known_weather(dataclasses.replace(SEASON, own_readings=str(own)))
    source = known.steps[-1].source
    kept = str(packed(source)).replace(f"{tmp_path}/", "")
    assert "'said_of': ['Your own gauge and thermometer', {}]" in kept
    assert "Your own gauge and thermometer" in catalogue()


def test_whatever_the_tables_name_has_its_words():
    crops, seasons = feed.crops({}), feed.tables({})["seasons"]
    assert {crop.says for crop in crops.values()} <= catalogue()
    assert set(seasons.names) <= catalogue()
    assert tuple(CLASSES) == tuple(variety_classes())
    assert STAGE_NAMES.keys() == STAGES.keys()
    assert tuple(soil_wording.CROPS) == nitrogen.last_crops()
    assert tuple(soil_wording.SOILS) == nitrogen.SOILS
    assert tuple(soil_wording.RAINS) == nitrogen.RAINS
    assert tuple(soil_wording.USES) == nitrogen.USES
    assert tuple(soil_wording.LEAVES) == nitrogen.LEAVES
    assert tuple(soil_wording.SWARDS) == tuple(KNOWN_SWARDS)
