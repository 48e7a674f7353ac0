"""The drum's sheet for a day: who, which rick, what it should give, what can hurt."""

from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext_lazy as _

from sheafwright.documents.typst import pdf

WORDS = {
    "title": _("{holding}: at the drum, {day}"),
    "foot": _("Made on {day}. Enter what was weighed in the book the same evening."),
    "drum_day": _("Day at the drum"),
    "before": _("Before anything runs"),
    "who": _("Who"),
    "rick": _("Rick"),
    "order": _("Order"),
    "target": _("Should give"),
    "stop": _("If not"),
    "then": _("After it"),
    "weights": _("What was weighed"),
    "what": _("Reed, straw, grain, tail or waste"),
    "lot": _("Lot"),
    "bundles": _("Bundles"),
    "weight": _("Weight"),
    "moisture": _("Moisture, %"),
    "by": _("By"),
    "signed": _("Guards looked over, everybody told how it is stopped. Signed:"),
}


@dataclass(frozen=True)
class DrumDay:
    """A day at the drum; text already in the reader's units."""

    holding: str
    day: str
    made_on: date
    hands: tuple[str, ...]
    """Blank lines to fill where nobody is known."""
    rick: str
    """Name and what is done with it; dots to fill where none may be opened."""
    why: tuple[str, ...]
    order: str
    target: tuple[str, ...]
    stop: str
    then: tuple[str, ...]
    """The ricks after it."""
    cautions: tuple[str, ...]
    blank_rows: int = 7


def drum_day_pdf(day):
    """The sheet to print, on one page."""
    return pdf("drum_day", day, words=WORDS)
