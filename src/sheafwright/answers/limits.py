"""Numbers that a grower gives, and between what they may lie."""

from typing import NamedTuple

from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.telling import mark, measured, say

SLACK = 1e-9
"""So that what equals a limit is not beyond it."""


class Limit(NamedTuple):
    """Least and most of a number, and how they are said."""

    called: str
    """Such as ``A run of {measure}``, or with a ``{value}`` and no unit of its own."""
    least: float
    most: float
    unit: str
    """That the limits are said in."""
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
                least=self._said(self.least),
                most=self._said(self.most),
            )

    def _said(self, value):
        if self.unit == "%":
            return f"{value * self.spoken:,.9g}%"
        return measured(value * self.spoken, say(self.unit), ",.9g")


SHEAVES = Limit(mark("{value:,g} sheaves"), 1, 1_000_000, "sheaves")
STUBBLE = Limit(mark("A stubble of {measure}"), 2, 40, "cm")
MOISTURES = {"grain": (0.05, 0.60), "straw": (0.03, 0.85)}
"""Least and most that a meter can find. [0–1]"""


def check_moisture(what, where, moisture):
    """Refuse what no meter can find in grain or straw.

    Parameters
    ----------
    what : str
        One of ``MOISTURES``.
    where : str
        Such as ``in the barn rick``.
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
