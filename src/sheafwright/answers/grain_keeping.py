"""Will grain keep in its store, as somebody found it there?"""

import dataclasses

from sheafwright.answers.limits import Limit, check_moisture
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows
from sheafwright.core.rick.storage import safe_days
from sheafwright.feeds import grain, ricks
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import joined, mark, say, say_n

TOO_WARM, TOO_DAMP, SOON, SOUND = "too_warm", "too_damp", "soon", "sound"
SOON_D = 60
"""Fewer days than this are pressing. [d]"""
LONG_D = 365
TEMPERATURE = Limit(mark("{measure} in the grain"), -20, 80, mark("°C"))
CAUTION = mark(
    "Never step onto grain in a bin, nor go in alone: it buries a person in seconds. "
    "Wear a mask against the dust. Local codes and trained people first."
)


@dataclasses.dataclass(frozen=True)
class GrainKeeping:
    """The answer."""

    moisture: float
    """Wet basis. [0–1]"""
    temperature: float
    """[°C]"""
    days: float
    """Until one seed in twenty has died; NaN outside of the equations. [d]"""

    @property
    def level(self):
        """How it keeps."""
        if self.temperature > ricks.keeping().warmest:
            return TOO_WARM
        if self.moisture > ricks.grain_life().dampest:
            return TOO_DAMP
        return SOON if self.days < SOON_D else SOUND

    @property
    def insects_breed(self):
        """Whether it is warm enough for them."""
        return self.temperature > grain.store().insects_breed

    @property
    def sentence(self):
        """The answer in a few sentences."""
        warm = self.insects_breed and self.level != TOO_WARM
        return joined(self._keeps(), warm and self._warm())

    def _keeps(self):
        found = {"moisture": self.moisture, "heat": self.temperature}
        if self.level == TOO_WARM:
            return say("At {heat:.0f} °C it heats: move it and cool it now.", **found)
        if self.level == TOO_DAMP:
            return say("At {moisture:.1%} it is too damp to keep: dry it now.", **found)
        if self.days > LONG_D:
            return say(
                "At {moisture:.1%} and {heat:.0f} °C it keeps for more than a year.",
                **found,
            )
        return say_n(
            "At {moisture:.1%} and {heat:.0f} °C one seed in twenty is dead after "
            "{n} day: dry or cool it before half of that is over.",
            "At {moisture:.1%} and {heat:.0f} °C one seed in twenty is dead after "
            "{n} days: dry or cool it before half of that is over.",
            round(self.days),
            **found,
        )

    def _warm(self):
        return say(
            "Insects breed in it above {heat:g} °C: blow cool night air through it.",
            heat=grain.store().insects_breed,
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        rows = shipped("storage")
        wheat, keeping, store = rows["wheat"], rows["keeping"], rows["store"]
        says = say(
            "The grain held {moisture:.1%} of water at {heat:.1f} °C.",
            moisture=self.moisture,
            heat=self.temperature,
        )
        warmest, coolest = keeping["warmest"], keeping["coolest"]
        limits = say(
            "Above {warmest:g} °C nothing tells how it keeps; below {coolest:g} °C it "
            "is taken to be as warm as that, and drier than {driest:.0%} as damp as "
            "that.",
            warmest=warmest.value,
            coolest=coolest.value,
            driest=wheat["driest"].value,
        )
        breed = store["insects_breed"]
        return (
            Step(says, YOU, GIVEN),
            step_from_rows(limits, *wheat.values(), warmest, coolest),
            step_from_rows(
                say("Insects breed above {heat:g} °C.", heat=breed.value), breed
            ),
        )


def grain_keeping(moisture, temperature):
    """The `GrainKeeping` of grain in store.

    Parameters
    ----------
    moisture : float
        Wet basis. [0–1]
    temperature : float
        [°C]
    """
    check_moisture("grain", say("in store"), moisture)
    TEMPERATURE.check(temperature)
    life, coolest = ricks.grain_life(), ricks.keeping().coolest
    # Neither is held against anything below; drier and cooler can only keep longer.
    at = max(moisture, life.driest), max(temperature, coolest)
    return GrainKeeping(moisture, temperature, float(safe_days(*at, life)))
