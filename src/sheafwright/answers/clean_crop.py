"""Will the sheaves be clean, and what is to be done about weeds and clover now?"""

import dataclasses
import datetime

from sheafwright.answers import wording
from sheafwright.answers.limits import STUBBLE, Limit, check_given
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows, steps_to_json
from sheafwright.feeds import weeds, yields
from sheafwright.feeds.telling import joined, mark, measured, say

LIMITS = {
    "clover": Limit(mark("Clover of {measure}"), 0, 150, "cm"),
    "stubble": STUBBLE,
}
NOW = {
    "harrowing": mark(
        "Harrow while the ground is dry, from three leaves to the first node, by "
        "{last}."
    ),
    "rogueing": mark(
        "Pull docks, thistles and odd plants by {last}: at the drum they are in the "
        "reed and in the seed."
    ),
}
DONE = {
    "harrowing": mark("Harrowing is done from {first} to {last}."),
    "rogueing": mark("Rogueing is done from {first} to {last}."),
}
UNDER = mark("The clover, {clover} high, stays under a stubble of {stubble}.")
IN_BUTTS = mark(
    "The clover, {clover} high, comes into the butts at a stubble of {stubble}."
)
GREEN_BUTTS = mark(
    "Green butts dry slowly and heat: cut at {cut}, or leave the sheaves out longer "
    "and probe their rick for {days:g} days more."
)


@dataclasses.dataclass(frozen=True)
class CleanQuestion:
    """One crop on one day."""

    on: datetime.date
    clover: float | None = None
    """Its height as last seen; None where nobody looked, or none was sown. [cm]"""
    stubble: float | None = None
    """That will be left; as is usual if not given. [cm]"""
    rogued: bool = False
    """Whether odd plants were pulled this year."""

    def __post_init__(self):
        check_given(self, LIMITS)


@dataclasses.dataclass(frozen=True)
class CleanCrop:
    """The answer."""

    question: CleanQuestion
    job: str | None
    """Of ``feeds.weeds.JOBS``, the one whose days these are."""
    stubble: float
    """[cm]"""

    @property
    def clean_cut(self):
        """Lowest cut above the clover, as it may grow on; None without clover. [cm]"""
        if self.question.clover is None:
            return None
        return self.question.clover + weeds.clover().clear

    @property
    def green_butts(self):
        """Whether clover will be bound in with the straw."""
        return self.clean_cut is not None and self.clean_cut > self.stubble

    @property
    def sentence(self):
        """The answer in a few sentences; nothing where there is nothing to say."""
        return joined(self._clover(), self._now())

    def _clover(self):
        if self.clean_cut is None:
            return ""
        heights = {
            "clover": measured(self.question.clover, "cm"),
            "stubble": measured(self.stubble, "cm"),
        }
        if not self.green_butts:
            return say(UNDER, **heights)
        days, cut = weeds.clover().more_watch, measured(self.clean_cut, "cm")
        return joined(say(IN_BUTTS, **heights), say(GREEN_BUTTS, cut=cut, days=days))

    def _now(self):
        if self.job is None:
            return ""
        last = _day(self.question.on.year, weeds.spell(self.job).last)
        return say(NOW[self.job], last=wording.near_date(last))

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        if self.clean_cut is not None:
            yield from self._steps_of_clover()
        for job in weeds.JOBS:
            rows = weeds.job_rows(job)
            ends = {
                end: wording.month_day(rows[end].value) for end in ("first", "last")
            }
            yield step_from_rows(say(DONE[job], **ends), *rows.values())

    def _steps_of_clover(self):
        high = measured(self.question.clover, "cm")
        yield Step(say("Clover {height} high.", height=high), YOU, GIVEN)
        if self.question.stubble is None:
            row = yields.part_rows("cutting")["stubble"]
            usual = measured(row.value, "cm")
            yield step_from_rows(
                say("The usual stubble is {height}.", height=usual), row
            )
        clear, watch = (weeds.clover_rows()[n] for n in ("clear", "more_watch"))
        below = measured(clear.value, "cm")
        yield step_from_rows(
            say("It should stay {depth} below the cut.", depth=below), clear
        )
        yield step_from_rows(
            say("Green butts want {days:g} days more of probing.", days=watch.value),
            watch,
        )

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "on": self.question.on.isoformat(),
            "clover_cm": self.question.clover,
            "stubble_cm": self.stubble,
            "clean_cut_cm": self.clean_cut,
            "green_butts": self.green_butts,
            "more_watch_days": weeds.clover().more_watch if self.green_butts else 0,
            "job": self.job,
            "working": steps_to_json(self.working),
        }


def clean_crop(question):
    """The `CleanCrop` of a `CleanQuestion`."""
    usual = yields.part("cutting").stubble
    return CleanCrop(
        question=question,
        job=next((job for job in weeds.JOBS if _is_due(job, question)), None),
        stubble=usual if question.stubble is None else question.stubble,
    )


def _is_due(job, question):
    if job == "rogueing" and question.rogued:
        return False
    spell, year = weeds.spell(job), question.on.year
    return _day(year, spell.first) <= question.on <= _day(year, spell.last)


def _day(year, month_and_day):
    return datetime.date(year, *month_and_day)
