"""What a run of the mill gave, beside what such flour usually gives."""

import dataclasses

from sheafwright.answers.grain_wording import FLOURS
from sheafwright.answers.working import step_from_rows
from sheafwright.feeds import grain
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import capital, say

SLACK = 0.03
"""Of the grain, either way, that is not spoken of. [1]"""
MUCH_LOST = 0.05
"""Of the grain: more than this at the stones is asked about. [1]"""


@dataclasses.dataclass(frozen=True)
class MillingYield:
    """The answer."""

    kind: str
    """One of ``feeds.grain.FLOURS``."""
    ground: float
    """[kg]"""
    flour: float
    """[kg]"""
    bran: float
    """Weighed. [kg]"""

    @property
    def extraction(self):
        """Flour, of the grain. [1]"""
        return self.flour / self.ground

    @property
    def expected(self):
        """Least and most flour that is usual, of the grain. [1]"""
        usual = grain.milling()
        return tuple((1 - usual.lost) * x for x in getattr(usual, self.kind))

    @property
    def lost(self):
        """Neither flour nor bran, of the grain. [1]"""
        return 1 - (self.flour + self.bran) / self.ground

    @property
    def level(self):
        """``less``, ``more`` or ``usual``."""
        least, most = self.expected
        if self.extraction < least - SLACK:
            return "less"
        return "more" if self.extraction > most + SLACK else "usual"

    @property
    def sentence(self):
        """The answer in a sentence."""
        least, most = self.expected
        said = {
            "less": say("less flour than is usual"),
            "more": say("more flour than is usual"),
            "usual": say("as is usual"),
        }[self.level]
        usually = say("{least:.0%} to {most:.0%}", least=least, most=most)
        if round(least, 2) == round(most, 2):
            usually = say("{share:.0%}", share=most)
        return say(
            "{kind}: {share:.0%} of the grain, {said} ({usually}).",
            kind=capital(say(FLOURS[self.kind])),
            share=self.extraction,
            said=said,
            usually=usually,
        )

    @property
    def much_is_lost(self):
        """More than stones, dust and sweepings take."""
        return self.lost > MUCH_LOST

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        rows = shipped("grain")["milling"]
        low, high = rows[self.kind].value
        says = say(
            "{kind}: {low:.0%} to {high:.0%} of what leaves the stones, {lost:.0%} "
            "being lost.",
            kind=capital(say(FLOURS[self.kind])),
            low=low,
            high=high,
            lost=rows["lost"].value,
        )
        return (step_from_rows(says, rows[self.kind], rows["lost"]),)


def milling_yield(kind, ground, flour, bran=0.0):
    """The `MillingYield` of a run of the mill."""
    return MillingYield(kind, ground, flour, bran)
