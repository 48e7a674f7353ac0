"""What is said once may be told to each reader in their language and units."""

import copy
import json

import numpy as np
import pytest

from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.telling import (
    JOINTS,
    SHOWN_AS,
    Reader,
    Said,
    Telling,
    again,
    capital,
    clause,
    first_sentence,
    joined,
    listed,
    measured,
    packed,
    read_by,
    refusal,
    say,
    say_n,
    told,
)
from sheafwright.feeds.units import QUANTITIES

GERMAN = {
    "Rain of {depth} on {day}.": "Am {day} fielen {depth}.",
    "7 August": "7. August",
    "Cart.": "Einfahren.",
    "wet straw": "nasses Stroh",
    "{most} and {last}": "{most} und {last}",
    "Never.": "Nie.",
    "{what} of {much:g} is odd.": "{what} {much:g} ist seltsam.",
    "Rain": "Regen",
}


def _several(one, many, number):
    return {"{n} days": "{n} Tage", "{n} day": "{n} Tag"}[one if number == 1 else many]


@pytest.fixture
def in_german():
    return Reader("imperial", lambda words: GERMAN.get(words, words), _several)


def _rain():
    return say(
        "Rain of {depth} on {day}.",
        depth=measured(np.float64(25.4), "mm", ".1f"),
        day=say("7 August"),
    )


def test_said_is_plain_english_and_metric():
    assert _rain() == "Rain of 25.4 mm on 7 August."
    assert json.dumps([_rain()]) == '["Rain of 25.4 mm on 7 August."]'


def test_kept_it_is_told_again_to_another(in_german):
    kept = json.dumps(packed({"sentence": joined(_rain(), say("Cart."))}))
    with read_by(in_german):
        read = json.loads(kept, cls=Telling)["sentence"]
        assert read == "Am 7. August fielen 1.00\u00a0in. Einfahren."
        # A full stop within a date parts no sentence.
        assert first_sentence(read)[1] == "Einfahren."
    assert again(read) == "Rain of 25.4 mm on 7 August. Cart."
    assert json.loads(kept, cls=Telling)["sentence"] == again(read)


def test_nobody_is_told_in_the_language_of_another(in_german):
    with pytest.raises(ZeroDivisionError), read_by(in_german):
        assert say("Cart.") == "Einfahren."
        raise ZeroDivisionError
    assert say("Cart.") == "Cart."


def test_an_answer_that_says_nothing_is_kept_as_it_is():
    plain = {
        "days": [1, 2.5, None, True],
        "of": {"said_as": "x"},
        "name": "Long Meadow",
    }
    assert packed(plain) == plain
    assert json.loads(json.dumps(plain), cls=Telling) == plain


def test_a_copy_remembers(in_german):
    kept = copy.deepcopy(_rain())
    with read_by(in_german):
        assert again(kept).startswith("Am 7. August")


def test_lists_and_capitals(in_german):
    parts = [say("wet straw"), "a", "b"]
    assert listed(parts) == "wet straw, a and b"
    assert listed(parts, "or") == "wet straw, a or b"
    assert listed(parts[:1]) == "wet straw"
    assert capital(listed(parts)) == "Wet straw, a and b"
    with read_by(in_german):
        assert again(capital(listed(parts))) == "Nasses Stroh, a und b"
    assert set(JOINTS) == {"and", "or", "then"}


def test_a_sentence_may_stand_within_another(in_german):
    within = say("Never: {why}", why=clause(say("Cart.")))
    assert within == "Never: Cart"
    with read_by(in_german):
        assert again(within) == "Never: Einfahren"


@pytest.mark.parametrize(
    ("n", "english", "german"),
    [(1, "1 day", "1 Tag"), (2, "2 days", "2 Tage"), (0, "0 days", "0 Tage")],
)
def test_by_number(n, english, german, in_german):
    said = say_n("{n} day", "{n} days", n)
    assert said == english
    with read_by(in_german):
        assert again(said) == german


def test_joined_leaves_out_what_is_not_said():
    assert joined(say("Cart."), "", None, False) == "Cart."


def test_first_sentences():
    assert first_sentence("Cut today. It is dry. Go.") == (
        "Cut today.",
        "It is dry. Go.",
    )
    assert first_sentence(say("Cart.")) == ("Cart.", "")
    nested = joined(joined(say("Cart."), say("Never.")), say("Cart."))
    assert first_sentence(nested) == ("Cart.", "Never. Cart.")
    assert isinstance(first_sentence(nested)[1], Said)


@pytest.mark.parametrize("unit", SHOWN_AS)
def test_every_measure_has_both_families(unit):
    assert measured(3, unit) == f"3 {unit}"
    with read_by(Reader("imperial")):
        said = str(measured(3, unit))
    written = {
        each.written or each.unit for each in QUANTITIES[SHOWN_AS[unit][0]].imperial
    }
    assert said.split("\u00a0")[1] in written


def test_a_known_measure():
    with read_by(Reader("imperial")):
        assert measured(1.609344, "km") == "1.0\u00a0miles"
        assert measured(0.3048, "m") == "1.0\u00a0ft"
        assert measured(28.316846592, "m³") == "1,000\u00a0cu ft"
        assert measured(0.45359237, "kg") == "1.0\u00a0lb"
        assert measured(2.5108, "t/ha") == "1.00\u00a0tons/acre"
    assert measured(188.3, "kg/ha", ".0f") == "188 kg/ha"


def test_what_both_families_share_keeps_its_unit():
    with read_by(Reader("imperial")):
        assert measured(54, "°C") == "54 °C"


def test_a_refusal_is_told_to_its_reader(in_german):
    error = OutOfRange("{what} of {much:g} is odd.", what=say("Rain"), much=900)
    assert str(error) == "Rain of 900 is odd."
    with read_by(in_german):
        # The words of the error follow; what was said in it before is told again.
        assert refusal(error) == "Regen 900 ist seltsam."
        assert refusal(OutOfRange("Never.")) == "Nie."


def test_braces_of_a_person_break_nothing():
    assert refusal(OutOfRange("{field} is odd.", field="{Long} Meadow")) == (
        "{Long} Meadow is odd."
    )
    assert refusal(OutOfRange("A field called {Long} is odd.")) == (
        "A field called {Long} is odd."
    )


def test_marked_words_are_told(in_german):
    with read_by(in_german):
        assert told("Cart.") == "Einfahren."
        assert told(_rain()) == again(_rain())
