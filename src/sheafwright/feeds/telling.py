"""Sentences in the language and the units of whoever reads them.

`say` is to the engine what gettext is to the pages. What it gives is plain text, told
to whoever reads now, and remembers the words and values that it was made of: an answer
kept by the worker is told `again` to each of its readers.
"""

import contextlib
import dataclasses
import datetime
import json
from collections.abc import Callable
from contextvars import ContextVar

from sheafwright.feeds import units

WAY, OF = "said_as", "said_of"
"""The keys of what was said, in a kept answer."""


def _untranslated(words):
    return words


def _in_english(one, many, number):
    return one if number == 1 else many


@dataclasses.dataclass(frozen=True)
class Reader:
    """Who reads: plain English and metric, if nobody says otherwise."""

    family: str = "metric"
    """Of units; one of ``units.FAMILIES``."""
    gettext: Callable = _untranslated
    ngettext: Callable = _in_english


ANYBODY = Reader()
_reader = ContextVar("reader", default=ANYBODY)


@contextlib.contextmanager
def read_by(reader):
    """Tell everything that is said meanwhile to this `Reader`."""
    before = _reader.set(reader)
    try:
        yield
    finally:
        _reader.reset(before)


def family():
    """Of units of whoever reads now."""
    return _reader.get().family


class Said(str):
    """Text as its reader has it, and what it was made of."""

    way: str
    """One of ``WAYS``."""
    of: list
    """What that way is given."""


def mark(words):
    """The words themselves: in the catalogue, and said later."""
    return words


def say(words, /, **values):
    """Words with ``{values}`` in them, which may be `Said` themselves.

    Without values the words may hold any braces.
    """
    return _tell("say", words, values)


def say_n(one, many, number, /, **values):
    """As `say`, by a number, which the words have as ``{n}``."""
    return _tell("say_n", one, many, number, values)


def joined(*parts, by=" "):
    """Sentences one after another; those that are empty are left out."""
    return _tell("joined", [part for part in parts if part], by)


def listed(parts, joint="and"):
    """This, that and the other; ``joint`` is one of ``JOINTS``."""
    *most, last = parts
    if not most:
        return joined(last)
    return say(JOINTS[joint], most=joined(*most, by=", "), last=last)


def dated(words, day):
    """A day, by words with any of ``{weekday} {day} {month} {year}`` in them.

    Parameters
    ----------
    words : str
    day : datetime.date
    """
    return _tell("dated", words, day.isoformat()[:10])


def capital(said):
    """With its first letter a capital."""
    return _tell("capital", said)


def clause(said):
    """Without its full stop, to stand within a sentence."""
    return _tell("clause", said)


def measured(value, unit, spec="g"):
    """A value with its unit, such as ``4.2 mm``; in the other family as `units.show`.

    Parameters
    ----------
    unit : str
        The metric one. If it is not in ``SHOWN_AS`` both families have it.
    spec : str
        How the metric value is written.
    """
    return _tell("measured", value, unit, spec)


def shown(value, quantity):
    """A value in our inside unit of one of ``units.QUANTITIES``, as `units.show`."""
    return _tell("shown", value, quantity)


def by_family(metric, imperial):
    """One of two sayings, by the units of whoever reads."""
    return _tell("by_family", metric, imperial)


def again(said):
    """The same, told to whoever reads now; what we didn't say is left as it is."""
    if isinstance(said, Said):
        return _tell(said.way, *again(said.of))
    return _within(again, said)


def told(words):
    """Marked words that may be kept for anybody, told to whoever reads now."""
    return again(words) if isinstance(words, Said) else say(words)


def refusal(error):
    """What an error of ours says, to whoever reads now."""
    if not error.values:
        return told(error.words)
    return say(error.words, **again(error.values))


def first_sentence(said):
    """The first sentence, and all that follow.

    What was said is parted where it was `joined`; in other languages a full stop may
    stand within a date.
    """
    if not isinstance(said, Said):
        first, _dot, rest = said.partition(". ")
        return f"{first.rstrip('.')}.", rest
    if said.way != "joined":
        return said, ""
    first, *others = said.of[0]
    first, rest = first_sentence(first)
    return first, joined(rest, *others, by=said.of[1])


def packed(answer):
    """An answer's JSON with everything said in it as its words and values."""
    if isinstance(answer, Said):
        return {WAY: answer.way, OF: packed(answer.of)}
    return _within(packed, answer)


class Telling(json.JSONDecoder):
    """Reads what `packed` gave, and tells it to whoever reads now."""

    def __init__(self, **options):
        super().__init__(object_hook=_told, **options)


def _told(kept):
    return _made(kept[WAY], kept[OF]) if WAY in kept and OF in kept else kept


MONTHS = (
    mark("January"),
    mark("February"),
    mark("March"),
    mark("April"),
    mark("May"),
    mark("June"),
    mark("July"),
    mark("August"),
    mark("September"),
    mark("October"),
    mark("November"),
    mark("December"),
)
WEEKDAYS = (
    mark("Monday"),
    mark("Tuesday"),
    mark("Wednesday"),
    mark("Thursday"),
    mark("Friday"),
    mark("Saturday"),
    mark("Sunday"),
)
JOINTS = {
    "and": mark("{most} and {last}"),
    "or": mark("{most} or {last}"),
    "then": mark("{most} then {last}"),
}
SHOWN_AS = {
    "mm": ("depth", "mm"),
    "cm": ("height", "cm"),
    "m": ("distance", "m"),
    "km": ("way", "km"),
    "ha": ("area", "ha"),
    "m²": ("floor", "sqm"),
    "m³": ("volume", "cum"),
    "kg": ("mass", "kg"),
    "t": ("mass", "t"),
    "kg/ha": ("rate", "kg/ha"),
    "t/ha": ("yield", "t/ha"),
    "m/s": ("speed", "m/s"),
    "km/h": ("speed", "km/h"),
    "kg/m³": ("density", "kg/cum"),
}
"""Metric unit to its quantity, and to its name there."""


def _say(words, values):
    words = _reader.get().gettext(words)
    return words.format(**values) if values else words


def _say_n(one, many, number, values):
    words = _reader.get().ngettext(one, many, number)
    return words.format(n=number, **values)


def _joined(parts, by):
    return by.join(parts)


def _dated(words, day):
    gettext, day = _reader.get().gettext, datetime.date.fromisoformat(day)
    return gettext(words).format(
        weekday=gettext(WEEKDAYS[day.weekday()]),
        day=day.day,
        month=gettext(MONTHS[day.month - 1]),
        year=day.year,
    )


def _capital(said):
    return said[:1].upper() + said[1:]


def _clause(said):
    return said.rstrip(".。")


def _measured(value, unit, spec):
    family = _reader.get().family
    if family == "metric" or unit not in SHOWN_AS:
        return f"{value:{spec}} {unit}"
    quantity, name = SHOWN_AS[unit]
    return units.show(units.from_unit(value, quantity, name), quantity, family)


def _shown(value, quantity):
    return units.show(value, quantity, _reader.get().family)


def _by_family(metric, imperial):
    return metric if _reader.get().family == "metric" else imperial


WAYS = {
    "say": _say,
    "say_n": _say_n,
    "joined": _joined,
    "dated": _dated,
    "capital": _capital,
    "clause": _clause,
    "measured": _measured,
    "shown": _shown,
    "by_family": _by_family,
}


def _tell(way, *of):
    return _made(way, _plain(of))


def _made(way, of):
    said = Said(WAYS[way](*of))
    said.way, said.of = way, of
    return said


def _plain(values):
    """With numbers of Python's own where NumPy has one: JSON knows no others."""
    if hasattr(values, "item"):
        return values.item()
    return _within(_plain, values)


def _within(change, whole):
    if isinstance(whole, dict):
        return {key: change(part) for key, part in whole.items()}
    if isinstance(whole, list | tuple):
        return [change(part) for part in whole]
    return whole
