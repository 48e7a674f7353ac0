"""The season almanac: a page a field."""

from dataclasses import dataclass
from datetime import date

from sheafwright.documents.typst import pdf


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
    return pdf("almanac", almanac)
