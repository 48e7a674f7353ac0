"""Numbers that a grower gives, and between what they may lie."""

from typing import NamedTuple

from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.telling import SHOWN_AS, mark, measured, say

SLACK = 1e-9
"""So that what equals a limit is not beyond it."""


class Limit(NamedTuple):
    """Least and most of a number, and how they are said."""

    called: str
    """Such as ``A run of {measure}``, or with a ``{value}`` and no unit of its own."""
    least: float
    most: float
    unit: str
    """That the limits are said in; a word, if it has no sign."""
    spoken: float = 1
    """What a number is multiplied by to be said: 100 for a share in per cent."""

    def check(self, value):
        """Refuse a value beyond the limits in one sentence."""
        # Written so that NaN is refused too.
        if not self.least - SLACK <= value <= self.most + SLACK:
            called = say(
                self.called, value=value * self.spoken, measure=self._said(value)
            )
            raise OutOfRange(
                "{called} can't be right; it should be from {least} to {most}.",
                called=called,
                least=self._least(),
                most=self._said(self.most),
            )

    def _least(self):
        # "From 15 to 90 g": only what another family shows in other units has its own.
        if self.unit in SHOWN_AS:
            return self._said(self.least)
        return f"{self.least * self.spoken:,.9g}"

    def _said(self, value):
        spoken = value * self.spoken
        if self.unit == "%":
            return f"{spoken:,.9g}%"
        if self.unit in SHOWN_AS:
            return measured(spoken, self.unit, ",.9g")
        return say("{value:,.9g} {unit}", value=spoken, unit=say(self.unit))


SHEAVES = Limit(mark("{value:,g} sheaves"), 1, 1_000_000, mark("sheaves"))
STUBBLE = Limit(mark("A stubble of {measure}"), 2, 40, "cm")
MOISTURES = {"grain": (0.05, 0.60), "straw": (0.03, 0.85)}
"""Least and most that a meter can find. [0–1]"""


def check_given(question, limits):
    """Refuse what is given of a question and lies beyond its limits.

    Parameters
    ----------
    question : object
    limits : mapping of str to Limit
        By the question's own names; what is None there was not given.
    """
    for name, limit in limits.items():
        if getattr(question, name) is not None:
            limit.check(getattr(question, name))


def check_moisture(what, where, moisture):
    """Refuse what no meter can find in grain or straw.

    Parameters
    ----------
    what : str
        One of ``MOISTURES``.
    where : str
        Said, such as ``in the barn rick``.
    moisture : float or None
        Wet basis; None where nobody measured it. [0–1]
    """
    least, most = MOISTURES[what]
    if moisture is not None and not least <= moisture <= most:
        raise OutOfRange(
            "The {what} {where} can't hold {moisture:g}% of water; it should be from "
            "{least:g} to {most:g}%.",
            what=say(what),
            where=where,
            moisture=100 * moisture,
            least=100 * least,
            most=100 * most,
        )
