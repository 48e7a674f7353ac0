"""The harvest-day sheet: what is cut, by whom, and where sheaves are counted."""

from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext_lazy as _

from sheafwright.answers.wording import CAUTION
from sheafwright.documents.typst import pdf

LIFTING = _(
    "Lift with bent knees and a straight back, two to a wet or heavy sheaf; gloves and "
    "long sleeves against the straw."
)
HEAT = _(
    "In heat: water within reach, shade and a rest every hour. Someone confused, faint "
    "or no longer sweating is cooled at once and an ambulance called."
)
ALONE = _("Nobody works out of sight and call of the others.")
CAUTIONS = (_(CAUTION), LIFTING, HEAT, ALONE)
WORDS = {
    "title": _("{holding}: harvest day, {day}"),
    "foot": _("Made on {day}. Enter the counts in the book the same evening."),
    "harvest_day": _("Harvest day"),
    "before": _("Before anything runs"),
    "who": _("Who"),
    "look_for": _("Look for"),
    "part": _("Part of field"),
    "begun": _("Begun"),
    "ended": _("Ended"),
    "tallied": _("Sheaves, tallied"),
    "sheaves": _("Sheaves"),
    "stooks": _("Stooks"),
    "moisture": _("Moisture, %"),
    "by": _("By"),
}


@dataclass(frozen=True)
class FieldToCut:
    """One field of the day."""

    name: str
    about: str
    advice: str
    hands: tuple[str, ...]
    signs: tuple[str, ...]


@dataclass(frozen=True)
class HarvestDay:
    """A day's cutting on a holding."""

    holding: str
    day: str
    made_on: date
    fields: tuple[FieldToCut, ...]
    cautions: tuple[str, ...] = CAUTIONS
    blank_rows: int = 6


def harvest_day_pdf(day):
    """The harvest-day sheet to print: text already in the reader's units."""
    return pdf("harvest_day", day, words=WORDS)
