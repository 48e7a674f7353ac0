"""What do the stooks want after rain: to be set up, opened, moved, looked at?"""

import dataclasses
import datetime

from sheafwright.answers import wording
from sheafwright.answers.working import step_from_rows
from sheafwright.feeds import stooks
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import joined, measured, say, say_n

SET_UP, OPEN_UP, MOVE, SPROUTS = "set_up", "open_up", "move", "sprouts"


@dataclasses.dataclass(frozen=True)
class AfterRain:
    """The answer, of one set of stooks."""

    fell: float
    """Of late. [mm]"""
    wants: tuple[str, ...]
    """What to do, the first thing first."""
    stood: int
    """Since they were cut. [d]"""
    dry_day: datetime.date | None
    """The first on which they may be opened; None where none is dry enough."""
    grain: float | None
    """[0–1]"""

    @property
    def sentence(self):
        """What to do in a few sentences; nothing where nothing wants doing."""
        return joined(*(getattr(self, f"_{want}")() for want in self.wants))

    def _set_up(self):
        days = stooks.after_rain().looks_back
        return say_n(
            "Go round and set up what has fallen: {rain} fell in {n} day.",
            "Go round and set up what has fallen: {rain} fell in {n} days.",
            days,
            rain=measured(self.fell, "mm", ".0f"),
        )

    def _open_up(self):
        if self.dry_day is None:
            return say(
                "Open and turn them on the first dry day, once their outsides are dry."
            )
        return say(
            "Open and turn them on {day}, once their outsides are dry.",
            day=wording.weekday(self.dry_day),
        )

    def _move(self):
        return say_n(
            "Set them on fresh ground as you do: they have stood for {n} day.",
            "Set them on fresh ground as you do: they have stood for {n} days.",
            self.stood,
        )

    def _sprouts(self):
        return say(
            "Look into the ears for sprouts: the grain is at about {grain:.0%}.",
            grain=self.grain,
        )

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "rain_of_late_mm": round(self.fell, 1),
            "wants": list(self.wants),
            "dry_day": self.dry_day and self.dry_day.isoformat(),
        }


def after_rain(stook_set, as_of, is_carted_now):
    """What a set of stooks wants, `AfterRain`.

    Parameters
    ----------
    stook_set : sheafwright.answers.carting_question.StookSet
    as_of : datetime.date
    is_carted_now : bool
        Whether they go to the rick this very day; they want nothing else then.
    """
    rules = stooks.after_rain()
    fell = sum(stook_set.rain[-rules.looks_back :])
    stood, grain = (as_of - stook_set.cut).days, stook_set.grain
    wet = fell >= rules.set_up and not is_carted_now
    wants = {
        SET_UP: wet,
        OPEN_UP: wet and fell >= rules.open_up,
        MOVE: wet and stood >= rules.move,
        SPROUTS: wet and grain is not None and grain >= rules.sprouts,
    }
    return AfterRain(
        fell=fell,
        wants=tuple(want for want, is_so in wants.items() if is_so),
        stood=stood,
        dry_day=_dry_day(stook_set.rain_ahead, as_of, rules.dry_chance),
        grain=grain,
    )


def after_rain_steps():
    """By what rules, each a `Step`."""
    rows, rules = shipped("stooks")["after_rain"], stooks.after_rain()
    says = {
        "set_up": say(
            "From {rain} in {days} days on, what has fallen is set up.",
            rain=measured(rules.set_up, "mm"),
            days=rules.looks_back,
        ),
        "open_up": say(
            "From {rain} on, stooks are opened and turned.",
            rain=measured(rules.open_up, "mm"),
        ),
        "dry_chance": say(
            "They are opened on the first day with at most {odds} of rain.",
            odds=wording.odds(rules.dry_chance),
        ),
        "move": say(
            "Stooks that got so wet are moved once they have stood for {days} days.",
            days=rules.move,
        ),
        "sprouts": say("Grain at {grain:.0%} or more may sprout.", grain=rules.sprouts),
    }
    return tuple(step_from_rows(said, rows[name]) for name, said in says.items())


def _dry_day(rain_ahead, as_of, at_most):
    dry = (n for n, chance in enumerate(rain_ahead) if chance <= at_most)
    first = next(dry, None)
    return None if first is None else as_of + datetime.timedelta(first)
