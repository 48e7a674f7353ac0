"""Which rick goes to the drum next, why, and is it to be combed?

Danger and damp come before orders, orders before vermin and space. A sound rick sweats
first. What the probe says of a hot rick is the rick's own answer, and comes first.
"""

import dataclasses
import datetime
import math

from sheafwright.answers import wording
from sheafwright.answers.limits import check_moisture
from sheafwright.answers.rick_heat import STEADY
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows, steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds import ricks, yields
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import joined, listed, mark, measured, say
from sheafwright.feeds.threshing import threshing

BARRED, NOW, NOT_YET = "barred", "now", "not_yet"
PROBE = "probe"
"""As `NOW`, of a rick that must be probed first; only sentences know it."""
FAR = datetime.date.max
CAUTION = mark(
    "A rick is opened from the top, with a ladder that is tied and nobody alone on it: "
    "sheaves slump. Local codes and trained people first."
)
HEATS = "warm"
"""The step of heat from which a rick is taken first; above it, it is barred."""
SAID = {
    BARRED: mark(
        "{name} is not opened before the fire service has been rung and agrees."
    ),
    NOW: mark("{name}: {how}."),
    PROBE: mark("{name}: {how}, once it has been probed and is not hot."),
    NOT_YET: mark("{name}: not before {day}, {how}."),
}
COMB, LONG = mark("comb it"), mark("long straw")
ORDER = mark(
    "The order: what heats or is damp, then what was ordered, by its day, where rats "
    "are, what stands open, and then the oldest."
)
NO_ORDER = mark("No order is written down.")
CRAFT = mark("Ours, from what growers tell; no rule was found written down")


@dataclasses.dataclass(frozen=True)
class RickAsked:
    """A rick that stands, as the book has it; None for what nobody wrote down."""

    name: str
    carted: datetime.date
    """The day of its last load."""
    kg: float
    """Left in it. [kg]"""
    fit_to_comb: bool = True
    """As its grower says."""
    level: str = "not_probed"
    """Of heat: one of ``feeds.ricks.STEPS``, or ``not_probed``."""
    heat: float = math.nan
    """Hottest lately. [°C]"""
    rise: float = math.nan
    """[°C d⁻¹]"""
    probe_due: bool = True
    """Whether it should have been probed by now."""
    grain: float | None = None
    """Moisture as it was carted, wet basis. [0–1]"""
    straw: float | None = None
    """[0–1]"""
    keeps_until: datetime.date | None = None
    """The day on which half its grain's time is spent."""
    vermin: datetime.date | None = None
    """When rats or mice were last found in it."""
    is_open: bool = False
    """Without roof or thatch."""
    height: float | None = None
    """Of the shortest crop in it, as it stood. [m]"""
    lodged: float | None = None
    """Share of that crop that lay. [0–1]"""
    ordered_for: datetime.date | None = None
    """The day of the first order that it is to fill."""

    def __post_init__(self):
        where = say("in {name}", name=self.name)
        check_moisture("grain", where, self.grain)
        check_moisture("straw", where, self.straw)
        # Written so that NaN is refused too.
        if not 0 <= self.kg < math.inf:
            raise OutOfRange(
                "{name} holds {mass}; it should be nothing or more.",
                name=self.name,
                mass=measured(self.kg, "kg"),
            )


@dataclasses.dataclass(frozen=True)
class RickTurn:
    """One rick's turn."""

    asked: RickAsked
    verdict: str
    """``barred``, ``now`` or ``not_yet``."""
    from_day: datetime.date
    """From which it may be opened."""
    combed: bool
    rank: tuple
    """By which the ricks go, lowest first."""
    why: tuple[str, ...]
    """Why it has this turn."""
    why_so: tuple[str, ...]
    """Why it is combed, or not."""

    @property
    def probe_first(self):
        """Whether it may be opened but for a probing that is due."""
        return self.verdict == NOW and self.asked.probe_due

    @property
    def sentence(self):
        """Its turn in a sentence."""
        return say(
            SAID[PROBE if self.probe_first else self.verdict],
            name=self.asked.name,
            how=say(COMB if self.combed else LONG),
            day=wording.near_date(self.from_day),
        )

    def to_json(self):
        """As it leaves Python."""
        return {
            "sentence": self.sentence,
            "name": self.asked.name,
            "verdict": self.verdict,
            "from": self.from_day.isoformat(),
            "probe_first": self.probe_first,
            "combed": self.combed,
            "sheaves_kg": round(self.asked.kg, 1),
            "ordered_for": self.asked.ordered_for
            and self.asked.ordered_for.isoformat(),
            "why": list(self.why),
            "why_combed_or_not": list(self.why_so),
        }


@dataclasses.dataclass(frozen=True)
class ThreshingOrder:
    """The answer."""

    as_of: datetime.date
    turns: tuple[RickTurn, ...]
    """In the order that they go."""

    @property
    def next(self):
        """The rick that may be opened first; None if none may."""
        return next((each for each in self.turns if each.verdict == NOW), None)

    @property
    def sentence(self):
        """The answer in a few sentences."""
        if not self.turns:
            return say("No rick stands to be threshed.")
        barred = [each for each in self.turns if each.verdict == BARRED]
        return joined(*(each.sentence for each in barred), self._next())

    def _next(self):
        first = self.next
        if first is None:
            waits = [each for each in self.turns if each.verdict == NOT_YET]
            return waits and joined(waits[0].sentence, *waits[0].why[:1])
        name, how = first.asked.name, say(COMB if first.combed else LONG)
        return joined(
            say(
                "{name} goes to the drum next, once it has been probed and is not "
                "hot: {how}.",
                name=name,
                how=how,
            )
            if first.probe_first
            else say("{name} goes to the drum next: {how}.", name=name, how=how),
            *first.why[:1],
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        rows, told = shipped("threshing")["comb_straw"], threshing().comb_straw
        yield Step(ORDER, CRAFT, "common practice")
        says = say("A rick sweats {days:.0f} days first.", days=told.sweat_days)
        yield step_from_rows(says, rows["sweat_days"])
        says = say(
            "Rats or mice found in the last {days:.0f} days count against it.",
            days=told.vermin_days,
        )
        yield step_from_rows(says, rows["vermin_days"])
        stubble = yields.part_rows("cutting")["stubble"]
        says = say(
            "Straw is combed from {length} above a stubble of {stubble} and below an "
            "ear of {ear}, if no more than {lodged:.0%} of it lay.",
            length=measured(told.least_length, "m"),
            stubble=measured(stubble.value, "cm"),
            ear=measured(told.ear, "m"),
            lodged=told.most_lodged,
        )
        length = (rows[name] for name in ("least_length", "ear", "most_lodged"))
        yield step_from_rows(says, stubble, *length)
        damp = shipped("storage")["keeping"]["straw_short"]
        says = say("Straw above {most:.0%} of water is called damp.", most=damp.value)
        yield step_from_rows(says, damp)
        if not any(each.asked.ordered_for for each in self.turns):
            yield Step(NO_ORDER, YOU, GIVEN)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "caution": say(CAUTION),
            "as_of": self.as_of.isoformat(),
            "next": self.next and self.next.asked.name,
            "ricks": [each.to_json() for each in self.turns],
            "working": steps_to_json(self.working),
        }


def threshing_order(asked, as_of):
    """The `ThreshingOrder` of ricks that stand.

    Parameters
    ----------
    asked : iterable of RickAsked
    as_of : datetime.date
    """
    turns = (_turn(each, as_of) for each in asked)
    return ThreshingOrder(as_of, tuple(sorted(turns, key=lambda each: each.rank)))


def _turn(asked, as_of):
    danger = _danger(asked)
    sweats = asked.carted + datetime.timedelta(threshing().comb_straw.sweat_days)
    presses = _presses(asked, as_of)
    from_day = max(as_of, as_of if presses else sweats)
    verdict = BARRED if danger else NOW if from_day <= as_of else NOT_YET
    combed, why_so = _combed(asked)
    why = tuple(_why(asked, as_of, sweats, verdict, presses))
    rank = _rank(asked, verdict, presses, as_of, from_day)
    return RickTurn(asked, verdict, from_day, combed, rank, why, why_so)


def _danger(asked):
    """Whether the fire service is rung before anybody opens it."""
    steps = ricks.STEPS
    return asked.level in steps and steps.index(asked.level) > steps.index(HEATS)


def _presses(asked, as_of):
    """What would not wait, in words."""
    if asked.rise >= STEADY:
        return say(
            "It heats, {heat:.0f} °C and rising by {rise:.1f} °C a day: take it first, "
            "and probe it before it is opened.",
            heat=asked.heat,
            rise=asked.rise,
        )
    if asked.level == HEATS:
        return say("It is warm: take it first, and probe it before it is opened.")
    if asked.keeps_until and asked.keeps_until <= as_of:
        return say("Half the time that its grain keeps is spent.")
    if asked.straw is not None and asked.straw > ricks.keeping().straw_short:
        return say(
            "It was carted damp, its straw at {straw:.0%}: take it before it heats.",
            straw=asked.straw,
        )
    return None


def _rank(asked, verdict, presses, as_of, from_day):
    vermin = _vermin_lately(asked, as_of)
    return (
        (BARRED, NOW, NOT_YET).index(verdict),
        from_day if verdict == NOT_YET else as_of,
        not presses,
        asked.ordered_for or FAR,
        not vermin,
        not asked.is_open,
        asked.carted,
        asked.name,
    )


def _vermin_lately(asked, as_of):
    lately = datetime.timedelta(threshing().comb_straw.vermin_days)
    return asked.vermin is not None and as_of - asked.vermin <= lately


def _why(asked, as_of, sweats, verdict, presses):
    if verdict == BARRED:
        yield say("It is hot: what its probe says comes first.")
    if verdict == NOT_YET:
        yield say(
            "It was carted on {carted} and sweats until {sweats}.",
            carted=wording.near_date(asked.carted),
            sweats=wording.near_date(sweats),
        )
    if presses:
        yield presses
    yield from _besides(asked, as_of)
    if verdict == NOW:
        yield from _of_opening(asked, presses)


def _besides(asked, as_of):
    """Orders, vermin and rain."""
    if asked.ordered_for:
        day = wording.near_date(asked.ordered_for)
        yield say("It is to fill an order by {day}.", day=day)
    if _vermin_lately(asked, as_of):
        day = wording.near_date(asked.vermin)
        yield say("Rats or mice were in it on {day}.", day=day)
    if asked.is_open:
        yield say("It stands open.")


def _of_opening(asked, presses):
    if asked.probe_due:
        yield say(
            "Its probing is due: at {hot:g} °C or more nobody opens it, and the fire "
            "service is rung.",
            hot=shipped("ricks")["hot"]["from_temperature"].value,
        )
    if not presses:
        yield say("Its last load came on {day}.", day=wording.date(asked.carted))


def _combed(asked):
    """Whether it is combed, and why."""
    against = [each for each in _against_combing(asked) if each]
    if against:
        return False, tuple(against)
    return True, tuple(_for_combing(asked))


def _against_combing(asked):
    told = threshing().comb_straw
    if not asked.fit_to_comb:
        yield say("You wrote down that it is not fit to comb.")
    length = _length(asked)
    if length is not None and length < told.least_length:
        yield say(
            "Its straw is about {length}, shorter than {least}.",
            length=measured(length, "m", ".2f"),
            least=measured(told.least_length, "m"),
        )
    if asked.lodged is not None and asked.lodged > told.most_lodged:
        yield say(
            "{lodged:.0%} of the crop lay: straw that rose again is kinked.",
            lodged=asked.lodged,
        )


def _for_combing(asked):
    length = _length(asked)
    known = []
    if length is not None:
        known.append(
            say("about {length} of straw", length=measured(length, "m", ".2f"))
        )
    if asked.lodged is not None:
        known.append(say("{lodged:.0%} of it lay", lodged=asked.lodged))
    if known:
        yield say("It has {known}.", known=listed(known))
    if length is None:
        yield say("No height of its crop is written down: measure a few sheaves first.")
    if asked.straw is not None and asked.straw > ricks.keeping().straw_short:
        yield say("Try a few sheaves: damp straw wraps round the comb.")


def _length(asked):
    """Of its straw, from the height of its crop. [m]"""
    if asked.height is None:
        return None
    stubble = yields.part("cutting").stubble / 100
    return max(asked.height - stubble - threshing().comb_straw.ear, 0.0)
