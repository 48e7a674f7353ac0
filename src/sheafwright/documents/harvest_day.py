"""The harvest-day sheet: what is cut, by whom, and where sheaves are counted."""

from dataclasses import dataclass
from datetime import date

from sheafwright.answers.wording import CAUTION
from sheafwright.documents.typst import pdf

LIFTING = (
    "Lift with bent knees and a straight back, two to a wet or heavy sheaf; gloves and "
    "long sleeves against the straw."
)
HEAT = (
    "In heat: water within reach, shade and a rest every hour. Someone confused, faint "
    "or no longer sweating is cooled at once and an ambulance called."
)
ALONE = "Nobody works out of sight and call of the others."
CAUTIONS = (CAUTION, LIFTING, HEAT, ALONE)


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
    return pdf("harvest_day", day)
