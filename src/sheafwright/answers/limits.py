"""Numbers that a grower gives, and between what they may lie."""

from typing import NamedTuple

from sheafwright.core.errors import OutOfRange

SLACK = 1e-9
"""So that what equals a limit is not beyond it."""


class Limit(NamedTuple):
    """Least and most of a number, and how they are said."""

    called: str
    """Such as ``A run of {:g} m``."""
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
            least, most = (
                f"{end * self.spoken:,.9g}" for end in (self.least, self.most)
            )
            unit = self.unit if self.unit == "%" else f" {self.unit}"
            raise OutOfRange(
                f"{self.called.format(value * self.spoken)} can't be right; it should "
                f"be from {least} to {most}{unit}."
            )


SHEAVES = Limit("{:,g} sheaves", 1, 1_000_000, "sheaves")
STUBBLE = Limit("A stubble of {:g} cm", 2, 40, "cm")
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
            f"The {what} {where} can't hold {100 * moisture:g}% of water; it should be "
            f"from {100 * least:g} to {100 * most:g}%."
        )
