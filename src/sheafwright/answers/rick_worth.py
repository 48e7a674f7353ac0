"""What is the rick worth, by what the drum usually gives and what that brings?"""

import dataclasses

from sheafwright.answers.perfect_crop import yields
from sheafwright.answers.working import step_from_rows
from sheafwright.core.constants import KG_PER_T
from sheafwright.feeds import outturns
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import measured, say


@dataclasses.dataclass(frozen=True)
class RickWorth:
    """The answer."""

    kg: float
    """In it. [kg]"""
    low: float
    """[GBP]"""
    high: float
    """[GBP]"""

    @property
    def sentence(self):
        """The answer in a sentence."""
        return say(
            "What is in it may bring £{low:,.0f} to £{high:,.0f}.",
            low=round(self.low, -2),
            high=round(self.high, -2),
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return tuple(self._steps())

    def _steps(self):
        rows, prices = outturns.usual_rows(combed=True), shipped("worth")
        each = prices["perfect_crop"]
        yield step_from_rows(
            say(
                "Of {sheaves} of sheaves the drum usually gives {least:.0%} to "
                "{most:.0%} of reed and {few:.0%} to {much:.0%} of grain.",
                sheaves=measured(self.kg / KG_PER_T, "t", ".1f"),
                **dict(zip(("least", "most"), rows["reed"].value, strict=True)),
                **dict(zip(("few", "much"), rows["grain"].value, strict=True)),
            ),
            rows["reed"],
            rows["grain"],
        )
        yield step_from_rows(
            say(
                "A tonne of reed is taken to bring £{reed:.0f}, and one of grain "
                "£{grain:.0f}.",
                reed=each["reed_gbp_per_t"].value,
                grain=each["grain_gbp_per_t"].value,
            ),
            each["reed_gbp_per_t"],
            each["grain_gbp_per_t"],
        )


def rick_worth(kg):
    """The `RickWorth` of so many kilograms of sheaves that are fit to comb."""
    rows, price = outturns.usual_rows(combed=True), yields()
    ends = (
        kg / KG_PER_T * (reed * price.reed_gbp_per_t + grain * price.grain_gbp_per_t)
        for reed, grain in zip(rows["reed"].value, rows["grain"].value, strict=True)
    )
    return RickWorth(kg, *ends)
