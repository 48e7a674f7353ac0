"""The stook card: how a stook is built here, for whoever builds their first."""

from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext_lazy as _

from sheafwright.documents.typst import pdf

WORDS = {
    "title": _("{holding}: how to build a stook"),
    "foot": _(
        "Made on {day}. Where the holding does it otherwise, its way comes first."
    ),
    "stook_card": _("Stook card"),
    "name": _("How to build a stook"),
    "before": _("Before you begin"),
    "end": _("Seen from its end"),
    "above": _("Seen from above"),
    "north": _("N"),
    "ears": _("ears"),
    "butts": _("butts"),
    "wind": _("wind"),
}


@dataclass(frozen=True)
class Rule:
    """One thing to do, and how far it is to be trusted."""

    does: str
    standing: str


@dataclass(frozen=True)
class StookCard:
    holding: str
    made_on: date
    rules: tuple[Rule, ...]
    cautions: tuple[str, ...]
    pairs: int
    """Of sheaves, as they are drawn."""


def stook_card_pdf(card):
    """The card to print, on one page."""
    return pdf("stook_card", card, words=WORDS)
