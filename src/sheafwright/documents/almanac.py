"""The season almanac: a page a field."""

from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext_lazy as _

from sheafwright.documents.typst import pdf

WORDS = {
    "title": _("{holding}: almanac, {season}"),
    "foot": _("Made on {day}. Filled dots are dates known, open dots dates expected."),
    "year": _("The field’s year"),
    "date": _("Date"),
    "seen_on": _("Seen on"),
    "saw": _("What you saw"),
    "known": _("known"),
    "expected": _("expected"),
    "working": _("How this was worked out"),
    "notes": _("Notes"),
}


@dataclass(frozen=True)
class Milestone:
    """One point of the field's year."""

    name: str
    when: str
    known: bool


@dataclass(frozen=True)
class FieldPage:
    """What one field is about, and what is advised."""

    name: str
    about: str
    year: tuple[Milestone, ...]
    sentence: str
    advice: str
    working: tuple[str, ...]


@dataclass(frozen=True)
class Almanac:
    """A holding's season."""

    holding: str
    season: str
    made_on: date
    fields: tuple[FieldPage, ...]


def almanac_pdf(almanac):
    """The almanac to print: text already in the reader's units."""
    return pdf("almanac", almanac, words=WORDS)
