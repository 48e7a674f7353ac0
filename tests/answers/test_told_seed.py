"""Answers of seed, stand, drum and conversion, told to whoever reads them."""

import datetime
import re

import pytest

from sheafwright.answers.clean_crop import CleanQuestion, clean_crop
from sheafwright.answers.drill import DrillQuestion, TrayTest, drill_calibration
from sheafwright.answers.germination import germination
from sheafwright.answers.organic import organic_status
from sheafwright.answers.outturn import outturn
from sheafwright.answers.plant_count import CountQuestion, plant_count
from sheafwright.answers.seed_increase import IncreaseQuestion, seed_increase
from sheafwright.answers.sowing import sowing
from sheafwright.answers.sowing_question import SowingQuestion
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.telling import Reader, Said, again, read_by, refusal

SOWN = datetime.date(2025, 10, 15)
LATE = datetime.date(2026, 2, 10)
JUNE = datetime.date(2026, 6, 15)
LOT = {
    "thousand_grain_weight": 48,
    "germination": 0.95,
    "row_spacing": 17.78,
    "soil": "loam",
}
PATCHES = (16, 2, 9, 15, 1, 11, 13, 2, 9, 3, 14, 2, 12, 3, 9)
METRIC = re.compile(r"\d[\s\u00a0](?:kg/ha|kg|ha|mm|cm|m|m²|t)\b(?!/)")
RAW = re.compile(r"[A-Za-z]{2,}")
"""A word, which nobody could tell in another language."""
CITED = {"Student, Biometrika 6, 1908"}


def _sown(**asked):
    return lambda: sowing(SowingQuestion(**LOT | asked))


def _drilled(wanted, *tests):
    tests = tuple(TrayTest(*test) for test in tests)
    return lambda: drill_calibration(DrillQuestion(wanted, 50, 3, tests))


def _counted(*spots, **asked):
    usual = {"area": 0.1, "target": 135, "on": datetime.date(2025, 12, 10)}
    return lambda: plant_count(CountQuestion(spots, **usual | asked))


def _grown(seed, area=4):
    lot = SowingQuestion(**LOT, sown=SOWN)
    asked = IncreaseQuestion(seed, area, lot, years=200)
    return lambda: seed_increase(asked)


ANSWERS = {
    "a drill set anew": _drilled(110, (40, (1.80, 1.86, 1.78, 1.83))),
    "a drill left": _drilled(121, (40, (1.80, 1.81, 1.82))),
    "a drill left for now": _drilled(121, (40, (1.80, 1.86, 1.78, 1.83))),
    "one catch": _drilled(110, (40, (1.8,)), (30, (0.9,))),
    "an uneven drill": _drilled(80, (40, (0.1, 2.0)), (30, (1.42, 1.43))),
    "a stand": _sown(plants=140, establishment=0.7),
    "a rate": _sown(rate=188.303, sown=SOWN, area=2.5),
    "straw": _sown(sown=SOWN, after="oats"),
    "so late": _sown(sown=LATE, tillering="shy"),
    "held": _sown(sown=datetime.date(2025, 11, 14), soil="clay", after="beans"),
    "too thin": _sown(plants=20, establishment=0.7, area=30),
    "enough plants": _counted(14, 12, 15, 13, 14, 14, 12, 15, 13, 14),
    "plants in patches": _counted(*PATCHES),
    "too few plants": _counted(1, 0, 2, 1, 0, 1, 0, 1, 1, 0),
    "too few, too late": _counted(1, 0, 2, 1, 0, 1, 0, 1, on=LATE),
    "no telling": _counted(3, 1, 4, 0, 2),
    "too many plants": _counted(44, 51, 47, 40),
    "a little seed": _grown(5),
    "a handful": _grown(0.05),
    "seed enough": _grown(900),
    "never enough": _grown(0.001, 1000),
    "trays": lambda: germination([92, 90, 94, 91]),
    "trays apart": lambda: germination([98, 95, 84, 92]),
    "a poor tray": lambda: germination([80]),
    "clover under the cut": lambda: clean_crop(CleanQuestion(JUNE, 6)),
    "clover in the butts": lambda: clean_crop(CleanQuestion(JUNE, 18)),
    "harrowing": lambda: clean_crop(CleanQuestion(datetime.date(2026, 4, 1), 6)),
    "a usual drum": lambda: outturn(2000, {"reed": 900, "grain": 600}),
    "an odd drum": lambda: outturn(2000, {"reed": 500, "grain": 600}),
    "long straw": lambda: outturn(2000, {"long_straw": 1200}, combed=False),
    "more than went in": lambda: outturn(1000, {"reed": 900, "grain": 600}),
    "organic": lambda: organic_status(datetime.date(2020, 1, 1), SOWN),
    "converting": lambda: organic_status(datetime.date(2024, 10, 1), SOWN, JUNE),
    "not yet": lambda: organic_status(datetime.date(2025, 9, 1), SOWN),
    "too soon": lambda: organic_status(datetime.date(2025, 9, 1), SOWN, JUNE),
    "not farmed so": lambda: organic_status(None, SOWN),
}
every_answer = pytest.mark.parametrize("answer", ANSWERS.values(), ids=ANSWERS)


def _marked(words):
    return f"⟦{words}⟧"


def _several(one, many, number):
    return _marked(one if number == 1 else many)


FOREIGN = Reader("metric", _marked, _several)


def _words(said):
    """All that an answer says to be read."""
    yield from (said[name] for name in ("sentence", "caution") if name in said)
    yield from said.get("cautions", ())
    yield from said.get("rogueing", ())
    yield from (step["says"] for step in said["working"])


def _loose(said):
    """Words within that no translator could find."""
    if isinstance(said, Said):
        # Units and ways of writing a number are nobody's words.
        skipped = {"say": 1, "say_n": 2, "measured": 3, "shown": 2, "dated": 2}
        yield from _loose(said.of[skipped.get(said.way, 0) :])
    elif isinstance(said, dict):
        yield from _loose(list(said.values()))
    elif isinstance(said, list):
        for each in said:
            yield from _loose(each)
    elif isinstance(said, str) and RAW.search(said) and said not in CITED:
        yield said


@every_answer
def test_another_language_has_every_word(answer):
    with read_by(FOREIGN):
        said = answer().to_json()
    for words in _words(said):
        assert isinstance(words, Said), words
        assert not list(_loose(words)), words
        bare = re.sub(r"⟦|⟧", "", words)
        assert bare == again(words)


@every_answer
def test_who_reads_hundredweights_reads_no_kilograms(answer):
    kept = answer().to_json()
    with read_by(Reader("imperial")):
        said = again(kept)
    for words in _words(said):
        # Grams to the square metre over a hundred are kilograms to the hectare.
        if "÷ 100" not in words:
            assert not METRIC.search(words), words


def test_kilograms_would_be_found():
    for words in ("121\u00a0kg/ha.", "1,131 m² and", "5 cm below", "4.00\u00a0ha"):
        assert METRIC.search(words), words
    assert not METRIC.search("81 plants/m², 0.9 cwt/acre of 48 g")


IMPERIAL = {
    "a drill set anew": (
        "Set the drill to 36.3 for 0.88 cwt/acre, and catch again there. At 40 it gave "
        "0.97 cwt/acre, between 0.94 cwt/acre and 0.99 cwt/acre at 95 in 100. 3 more "
        "catches would narrow it to ±2%."
    ),
    "a stand": (
        "For 140 plants/m² sow 0.80 cwt/acre (6.4 st/acre): 211 seeds/m², 37 to a "
        "metre of row."
    ),
    "a handful": "50 g grown on thinly should be enough for 9.88 acres (10.3 cwt, ",
    "clover under the cut": (
        "The clover, 2.4 in high, stays under a stubble of 4.7 in. Pull docks, "
        "thistles and odd plants by 15 July"
    ),
    "more than went in": "More came out than the 19.7 cwt of sheaves that went in",
    "plants in patches": "81 plants/m² stand",
    "trays": "92 in 100 came up",
    "organic": "Organic: sown on 15 October 2025",
}


@pytest.mark.parametrize(("name", "says"), IMPERIAL.items(), ids=IMPERIAL)
def test_an_answer_is_read_in_imperial_units(name, says):
    with read_by(Reader("imperial")):
        sentence = ANSWERS[name]().sentence
    assert sentence.replace("\u00a0", " ").startswith(says)


def test_a_limit_is_told_in_the_readers_units():
    with pytest.raises(OutOfRange) as raised:
        SowingQuestion(**LOT | {"row_spacing": 1}, sown=SOWN)
    assert (
        str(raised.value)
        == "Rows 1 cm apart can't be right; it should be from 5 cm to 100 cm."
    )
    with read_by(Reader("imperial", _marked, _several)):
        assert refusal(raised.value) == (
            "⟦⟦Rows 0.4\u00a0in apart⟧ can't be right; it should be from 2.0\u00a0in "
            "to 39.4\u00a0in.⟧"
        )


def test_a_unit_that_both_families_share_is_told_once():
    with pytest.raises(OutOfRange, match="it should be from 15 to 90 g"):
        SowingQuestion(**LOT | {"thousand_grain_weight": 480}, sown=SOWN)
