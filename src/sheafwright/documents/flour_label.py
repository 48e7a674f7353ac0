"""Labels for bags of flour: eight on an A4 sheet, what food law asks for on each."""

from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext_lazy as _

from sheafwright.documents.labels import qr_svg
from sheafwright.documents.typst import pdf

WORDS = {
    "title": _("{holding}: flour labels"),
    "code": _("QR code of {url}"),
    "walk_back": _("back to its field"),
    "ingredients": _("Ingredients:"),
    "contains": _("Contains"),
    "gluten": _("(gluten)"),
    "best_before": _("Best before"),
    "milled": _("Milled"),
    "lot": _("Lot"),
}


@dataclass(frozen=True)
class FlourLabel:
    """What a buyer reads on one bag; empty lines are left out."""

    name: str
    variety: str
    weight: str
    ingredients: tuple[tuple[str, bool], ...]
    """Parts of the list, and whether each is an allergen, in bold."""
    allergen: str
    """In bold after "Contains"; nothing of what is no food of wheat."""
    lot: str
    milled: date | None
    best_before: date
    advice: tuple[str, ...]
    """How it is kept, and that it is raw."""
    organic: tuple[str, ...]
    """Code of the control body, and where it was grown; nothing if it isn't organic."""
    address: str
    walk_back_url: str


@dataclass(frozen=True)
class FlourLabels:
    """So many of one label."""

    holding: str
    made_on: date
    label: FlourLabel
    count: int


def flour_labels_pdf(sheet):
    """The labels to print: 99.1 mm wide, 67.7 mm high, two by four."""
    return pdf(
        "flour_label", sheet, codes=qr_svg(sheet.label.walk_back_url), words=WORDS
    )
