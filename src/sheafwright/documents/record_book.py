"""The record book that an inspector reads: every table of a period."""

import dataclasses
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, get_type_hints

from django.utils.translation import gettext_lazy as _

from sheafwright.documents.typst import pdf

WORDS = {
    "title": _("{holding}: record book, {begins} to {ends}"),
    "foot": _("{holding}. Made on {day}."),
    "record_book": _("Record book"),
    "period": _("{begins} to {ends}"),
    "uncertified": _("No certificate of its own is written down for these days."),
    "certified": _("Certified by {body} ({code}), until {day}."),
    "certified_by_number": _(
        "Certified by {body} ({code}), certificate {number}, until {day}."
    ),
    "scope": _("In scope: {scope}."),
    "straw_in": _("Straw is in the certificate’s scope."),
    "straw_out": _(
        "Straw is not in the certificate’s scope: it may not be sold as organic."
    ),
    "nothing": _("Nothing was recorded in this period."),
}

# A line's type says its columns: each heading, then which of the book's units its
# numbers have.


@dataclass(frozen=True)
class FieldLine:
    """One field and its organic standing."""

    name: Annotated[str, _("Field")]
    area: Annotated[Decimal, _("Area"), "area"]
    status: Annotated[str, _("Status")]
    conversion_began: Annotated[date | None, _("Conversion began")]
    organic_from: Annotated[date | None, _("Organic for crops sown from")]
    before: Annotated[str, _("Crop or ley before")]


@dataclass(frozen=True)
class SowingLine:
    """One sowing, and where its seed came from."""

    sown_on: Annotated[date, _("Sown")]
    field: Annotated[str, _("Field")]
    variety: Annotated[str, _("Variety")]
    area: Annotated[Decimal, _("Area"), "area"]
    seed: Annotated[Decimal | None, _("Seed"), "weight"]
    seed_lot: Annotated[str, _("Seed lot")]
    seed_from: Annotated[str, _("Seed from")]
    seed_status: Annotated[str, _("Seed’s status")]


@dataclass(frozen=True)
class DerogationLine:
    """Leave to sow seed that is not organic."""

    given_on: Annotated[date, _("Given")]
    variety: Annotated[str, _("Variety")]
    reference: Annotated[str, _("Reference")]
    reason: Annotated[str, _("Reason")]


@dataclass(frozen=True)
class InputLine:
    """Something put on a field, and why it may be."""

    applied_on: Annotated[date, _("Applied")]
    field: Annotated[str, _("Field")]
    product: Annotated[str, _("Product")]
    amount: Annotated[str, _("Amount")]
    supplier: Annotated[str, _("Supplier")]
    evidence: Annotated[str, _("Evidence that it is permitted")]


@dataclass(frozen=True)
class MovementLine:
    """What moved from one place of the material book to another."""

    moved_on: Annotated[date, _("Day")]
    entry: Annotated[str, _("Entry")]
    material: Annotated[str, _("Material")]
    lot: Annotated[str, _("Lot")]
    taken_from: Annotated[str, _("Taken from")]
    given_to: Annotated[str, _("Given to")]
    weight: Annotated[Decimal, _("Weight"), "weight"]
    moisture: Annotated[Decimal | None, _("Moisture"), "moisture"]


@dataclass(frozen=True)
class BalanceLine:
    """One material over the period; what comes in is there, used, lost or gone.

    ``put_right`` is more, or less, than was guessed before it was weighed.
    """

    material: Annotated[str, _("Material")]
    at_start: Annotated[Decimal, _("At start"), "weight"]
    grown: Annotated[Decimal, _("Grown"), "weight"]
    bought: Annotated[Decimal, _("Bought in"), "weight"]
    made: Annotated[Decimal, _("Threshed or milled out"), "weight"]
    put_right: Annotated[Decimal, _("Put right"), "weight"]
    threshed: Annotated[Decimal, _("Gone to drum"), "weight"]
    sold: Annotated[Decimal, _("Sold"), "weight"]
    used: Annotated[Decimal, _("Seed, fed, milled"), "weight"]
    lost: Annotated[Decimal, _("Lost, by name"), "weight"]
    unexplained: Annotated[Decimal, _("Unexplained"), "weight"]
    at_end: Annotated[Decimal, _("At end"), "weight"]


@dataclass(frozen=True)
class LossLine:
    """One named loss over the period."""

    name: Annotated[str, _("Loss")]
    weight: Annotated[Decimal, _("Weight"), "weight"]


@dataclass(frozen=True)
class CleaningLine:
    """One cleaning of a machine or store."""

    done_on: Annotated[date, _("Day")]
    what: Annotated[str, _("What was cleaned")]
    how: Annotated[str, _("How")]
    by: Annotated[str, _("By")]


@dataclass(frozen=True)
class ComplaintLine:
    """One complaint, and what was done."""

    received_on: Annotated[date, _("Received")]
    sender: Annotated[str, _("From")]
    about: Annotated[str, _("About")]
    done: Annotated[str, _("What was done")]


@dataclass(frozen=True)
class VerminLine:
    """One measure against vermin, or a round of looking."""

    done_on: Annotated[date, _("Day")]
    place: Annotated[str, _("Place")]
    found: Annotated[str, _("Found")]
    done: Annotated[str, _("What was done")]


@dataclass(frozen=True)
class ContractorLine:
    """Somebody else who worked on the crop, and their certificate."""

    name: Annotated[str, _("Contractor")]
    work: Annotated[str, _("Work")]
    certificate: Annotated[str, _("Certificate")]
    expires_on: Annotated[date | None, _("Runs out")]


@dataclass(frozen=True)
class PurchaseLine:
    """Something bought or paid for; what it cost is between the grower and the bank."""

    bought_on: Annotated[date, _("Day")]
    what: Annotated[str, _("What")]
    purpose: Annotated[str, _("What for")]
    supplier: Annotated[str, _("From")]
    belongs_to: Annotated[str, _("Belongs to")]
    struck: Annotated[str, _("Struck out")]


@dataclass(frozen=True)
class StandingLine:
    """One lot kept from sale, or let go again."""

    day: Annotated[date, _("Day")]
    lot: Annotated[str, _("Lot")]
    stands: Annotated[str, _("Set apart or cleared")]
    why: Annotated[str, _("Why")]
    by: Annotated[str, _("By")]


@dataclass(frozen=True)
class CorrectionLine:
    """One fact put right."""

    day: Annotated[date, _("Day")]
    thing: Annotated[str, _("Of what")]
    fact: Annotated[str, _("What")]
    was: Annotated[str, _("Was")]
    now: Annotated[str, _("Is")]
    why: Annotated[str, _("Why")]
    by: Annotated[str, _("By")]


@dataclass(frozen=True)
class Certificate:
    """What the holding is certified for."""

    body: str
    code: str
    number: str
    expires_on: date
    scope: tuple[str, ...]
    straw_in_scope: bool


@dataclass(frozen=True)
class Units:
    """The reader's units; every number of the book is already in them."""

    area: str = "ha"
    weight: str = "kg"
    moisture: str = "%, wet basis"


@dataclass(frozen=True)
class RecordBook:
    """A holding's record of one period."""

    holding: str
    begins: date
    ends: date
    made_on: date
    certificate: Certificate | None
    unexplained: Decimal
    fields: tuple[FieldLine, ...] = ()
    sowings: tuple[SowingLine, ...] = ()
    derogations: tuple[DerogationLine, ...] = ()
    inputs: tuple[InputLine, ...] = ()
    movements: tuple[MovementLine, ...] = ()
    balance: tuple[BalanceLine, ...] = ()
    losses: tuple[LossLine, ...] = ()
    cleaning: tuple[CleaningLine, ...] = ()
    complaints: tuple[ComplaintLine, ...] = ()
    vermin: tuple[VerminLine, ...] = ()
    contractors: tuple[ContractorLine, ...] = ()
    purchases: tuple[PurchaseLine, ...] = ()
    standings: tuple[StandingLine, ...] = ()
    corrections: tuple[CorrectionLine, ...] = ()
    units: Units = Units()


@dataclass(frozen=True)
class Table:
    """One table of the book, ready to be printed or saved."""

    name: str
    title: str
    headings: tuple[str, ...]
    numbers: tuple[int, ...]
    rows: tuple[tuple[str | date | Decimal | None, ...], ...]


TABLES = {
    "fields": (_("Fields"), FieldLine),
    "sowings": (_("Sowings and seed"), SowingLine),
    "derogations": (_("Leave to sow seed that is not organic"), DerogationLine),
    "inputs": (_("Inputs"), InputLine),
    "balance": (_("Mass balance"), BalanceLine),
    "losses": (_("Losses by name"), LossLine),
    "movements": (_("Movements"), MovementLine),
    "cleaning": (_("Cleaning"), CleaningLine),
    "vermin": (_("Vermin control"), VerminLine),
    "complaints": (_("Complaints"), ComplaintLine),
    "contractors": (_("Contractors and their certificates"), ContractorLine),
    "purchases": (_("Bought and paid for"), PurchaseLine),
    "standings": (_("Lots set apart and cleared"), StandingLine),
    "corrections": (_("Facts put right"), CorrectionLine),
}


def tables(book):
    """The tables of a record book, in the order an inspector reads them."""
    return tuple(_table(book, name, *shape) for name, shape in TABLES.items())


def record_book_pdf(book):
    """The record book to print."""
    shown = [dataclasses.asdict(table) for table in tables(book)]
    return pdf("record_book", book, tables=shown, words=WORDS)


def _table(book, name, title, line):
    hints = get_type_hints(line, include_extras=True)
    columns = [hint.__metadata__ for hint in hints.values()]
    return Table(
        name=name,
        title=str(title),
        headings=tuple(_heading(book.units, *column) for column in columns),
        numbers=tuple(n for n, column in enumerate(columns) if len(column) > 1),
        rows=tuple(
            tuple(getattr(row, each) for each in hints) for row in _rows(book, name)
        ),
    )


def _rows(book, name):
    if name == "losses":
        # A line of its own, at nought too: silence would look like nothing to hide.
        return (*book.losses, LossLine(str(_("Unexplained")), book.unexplained))
    return getattr(book, name)


def _heading(units, heading, unit=None):
    return f"{heading}, {getattr(units, unit)}" if unit else str(heading)
