"""Lot labels: eight on an A4 sheet, each with a way back to its field."""

from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext_lazy as _

from sheafwright.documents.typst import pdf

WORDS = {
    "title": _("{holding}: lot labels"),
    "code": _("QR code of {url}"),
    "walk_back": _("walk it back to its field"),
    "lot": _("Lot"),
    "grade": _("Grade"),
    "field": _("Field"),
    "variety": _("Variety"),
    "harvest": _("Harvest"),
    "organic": _("Organic"),
    "from": _("From"),
}


@dataclass(frozen=True)
class Label:
    """What a buyer reads on one bundle, bale or sack; empty lines are left out."""

    lot: str
    material: str
    grade: str
    field: str
    variety: str
    harvest_year: str
    organic: str
    walk_back_url: str


@dataclass(frozen=True)
class LabelSheet:
    """Labels to print, in order; one that is wanted twice is given twice."""

    holding: str
    made_on: date
    labels: tuple[Label, ...]


def labels_pdf(sheet):
    """The labels to print: 99.1 mm wide, 67.7 mm high, two by four."""
    urls = {label.walk_back_url for label in sheet.labels}
    codes = {url: qr_svg(url) for url in sorted(urls)}
    return pdf("labels", sheet, codes=codes, words=WORDS)


def qr_svg(url):
    """A QR code of a URL, a quarter of which may be smudged or torn."""
    import segno

    return segno.make(url, error="q", micro=False).svg_inline(omitsize=True)
