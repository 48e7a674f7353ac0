"""A number that a grower gives, and between what it may lie."""

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
            least, most = (f"{end * self.spoken:,g}" for end in (self.least, self.most))
            raise OutOfRange(
                f"{self.called.format(value * self.spoken)} can't be right; it should "
                f"be from {least} to {most} {self.unit}."
            )
