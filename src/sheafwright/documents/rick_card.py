"""The rick card: what to do when it heats, what is in it, and what it stands near."""

from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext_lazy as _

from sheafwright.documents.typst import pdf

WORDS = {
    "title": _("{holding}: rick card, {rick}"),
    "foot": _("Made on {day}. Keep this card dry and by the rick."),
    "rick_card": _("Rick card"),
    "heats": _("If it heats"),
    "ring": _("ring, in order"),
    "facts": _("What it is worth, and what stands near it"),
    "holds": _("What is in it"),
    "field": _("Field"),
    "variety": _("Variety"),
    "carted": _("Carted"),
    "amount": _("Amount"),
    "temperatures": _("Temperatures"),
    "when": _("Day and hour"),
    "where": _("Where, how deep"),
    "heat": _("Heat, {unit}"),
    "smell": _("Smell, steam, damp"),
    "by": _("By"),
}


@dataclass(frozen=True)
class Load:
    """What was carted in from one field."""

    field: str
    variety: str
    carted: str
    amount: str


@dataclass(frozen=True)
class Reading:
    """One probe temperature."""

    when: str
    place: str
    temperature: str
    by: str


@dataclass(frozen=True)
class HeatStep:
    """From which temperature on, what is done."""

    heat: str
    action: str


@dataclass(frozen=True)
class Contact:
    """Whom to ring."""

    name: str
    number: str


@dataclass(frozen=True)
class Fact:
    """One thing that the insurer and the fire service ask of it."""

    what: str
    said: str
    """Blank where it is to be written in."""
    beside: str
    """What is usually advised, or how it was worked out; may be blank."""


@dataclass(frozen=True)
class RickCard:
    """One rick's card."""

    holding: str
    name: str
    about: str
    capacity: str
    made_on: date
    loads: tuple[Load, ...]
    readings: tuple[Reading, ...]
    heat_steps: tuple[HeatStep, ...]
    contacts: tuple[Contact, ...]
    facts: tuple[Fact, ...] = ()
    temperature_unit: str = "°C"
    blank_rows: int = 14


def rick_card_pdf(card):
    """The card to print: text already in the reader's units."""
    return pdf("rick_card", card, words=WORDS)
