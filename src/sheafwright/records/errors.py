"""What the record refuses, and what the person is told.

SheafwrightError
  TooLittleThere   more is taken than is in the place: which, how much there is
  SaidOtherwise    an entry came twice and the two differ: which
  NotOurs          an entry speaks of something of another holding
"""

from sheafwright.core.errors import SheafwrightError


class TooLittleThere(SheafwrightError):
    """More is taken than is there."""


class SaidOtherwise(SheafwrightError):
    """One entry, sent twice, says two things."""


class NotOurs(SheafwrightError):
    """A thing of another holding."""
