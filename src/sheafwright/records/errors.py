"""What the record refuses, and what the person is told.

SheafwrightError
  TooLittleThere   more is taken than is in the place: which, how much there is
  SaidOtherwise    an entry came twice and the two differ: which
  NotOurs          an entry speaks of something of another holding
  SetApart         a lot that is kept back would leave: which, and how to clear it
  StillNeeded      an undone entry's material has gone on, or it is undone already
  NothingChanges   a weight is what the book says already
  NotTested        seed whose weight or germination nobody wrote down: which
"""

from sheafwright.core.errors import SheafwrightError


class TooLittleThere(SheafwrightError):
    """More is taken than is there."""


class SaidOtherwise(SheafwrightError):
    """One entry, sent twice, says two things."""


class NotOurs(SheafwrightError):
    """A thing of another holding."""


class SetApart(SheafwrightError):
    """A lot that is kept back."""


class StillNeeded(SheafwrightError):
    """An entry that cannot be undone now."""


class NothingChanges(SheafwrightError):
    """A weight that the book has already."""


class NotTested(SheafwrightError):
    """Seed of which too little is known."""
