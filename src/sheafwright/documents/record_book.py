"""The record book that an inspector reads: every table of a period."""

import dataclasses
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, get_type_hints

from sheafwright.documents.typst import pdf

# A line's type says its columns: each heading, then which of the book's units its
# numbers have.


@dataclass(frozen=True)
class FieldLine:
    """One field and its organic standing."""

    name: Annotated[str, "Field"]
    area: Annotated[Decimal, "Area", "area"]
    status: Annotated[str, "Status"]
    conversion_began: Annotated[date | None, "Conversion began"]
    organic_from: Annotated[date | None, "Organic for crops sown from"]
    before: Annotated[str, "Crop or ley before"]


@dataclass(frozen=True)
class SowingLine:
    """One sowing, and where its seed came from."""

    sown_on: Annotated[date, "Sown"]
    field: Annotated[str, "Field"]
    variety: Annotated[str, "Variety"]
    area: Annotated[Decimal, "Area", "area"]
    seed: Annotated[Decimal | None, "Seed", "weight"]
    seed_lot: Annotated[str, "Seed lot"]
    seed_from: Annotated[str, "Seed from"]
    seed_status: Annotated[str, "Seed’s status"]


@dataclass(frozen=True)
class DerogationLine:
    """Leave to sow seed that is not organic."""

    given_on: Annotated[date, "Given"]
    variety: Annotated[str, "Variety"]
    reference: Annotated[str, "Reference"]
    reason: Annotated[str, "Reason"]


@dataclass(frozen=True)
class InputLine:
    """Something put on a field, and why it may be."""

    applied_on: Annotated[date, "Applied"]
    field: Annotated[str, "Field"]
    product: Annotated[str, "Product"]
    amount: Annotated[str, "Amount"]
    supplier: Annotated[str, "Supplier"]
    evidence: Annotated[str, "Evidence that it is permitted"]


@dataclass(frozen=True)
class MovementLine:
    """What moved from one place of the material book to another."""

    moved_on: Annotated[date, "Day"]
    entry: Annotated[str, "Entry"]
    material: Annotated[str, "Material"]
    lot: Annotated[str, "Lot"]
    taken_from: Annotated[str, "Taken from"]
    given_to: Annotated[str, "Given to"]
    weight: Annotated[Decimal, "Weight", "weight"]
    moisture: Annotated[Decimal | None, "Moisture", "moisture"]


@dataclass(frozen=True)
class BalanceLine:
    """One material over the period; what comes in is there, used, lost or gone.

    ``put_right`` is more, or less, than was guessed before it was weighed.
    """

    material: Annotated[str, "Material"]
    at_start: Annotated[Decimal, "At start", "weight"]
    grown: Annotated[Decimal, "Grown", "weight"]
    bought: Annotated[Decimal, "Bought in", "weight"]
    made: Annotated[Decimal, "Threshed or milled out", "weight"]
    put_right: Annotated[Decimal, "Put right", "weight"]
    threshed: Annotated[Decimal, "Gone to drum", "weight"]
    sold: Annotated[Decimal, "Sold", "weight"]
    used: Annotated[Decimal, "Seed, fed, milled", "weight"]
    lost: Annotated[Decimal, "Lost, by name", "weight"]
    unexplained: Annotated[Decimal, "Unexplained", "weight"]
    at_end: Annotated[Decimal, "At end", "weight"]


@dataclass(frozen=True)
class LossLine:
    """One named loss over the period."""

    name: Annotated[str, "Loss"]
    weight: Annotated[Decimal, "Weight", "weight"]


@dataclass(frozen=True)
class CleaningLine:
    """One cleaning of a machine or store."""

    done_on: Annotated[date, "Day"]
    what: Annotated[str, "What was cleaned"]
    how: Annotated[str, "How"]
    by: Annotated[str, "By"]


@dataclass(frozen=True)
class ComplaintLine:
    """One complaint, and what was done."""

    received_on: Annotated[date, "Received"]
    sender: Annotated[str, "From"]
    about: Annotated[str, "About"]
    done: Annotated[str, "What was done"]


@dataclass(frozen=True)
class VerminLine:
    """One measure against vermin, or a round of looking."""

    done_on: Annotated[date, "Day"]
    place: Annotated[str, "Place"]
    found: Annotated[str, "Found"]
    done: Annotated[str, "What was done"]


@dataclass(frozen=True)
class ContractorLine:
    """Somebody else who worked on the crop, and their certificate."""

    name: Annotated[str, "Contractor"]
    work: Annotated[str, "Work"]
    certificate: Annotated[str, "Certificate"]
    expires_on: Annotated[date | None, "Runs out"]


@dataclass(frozen=True)
class StandingLine:
    """One lot kept from sale, or let go again."""

    day: Annotated[date, "Day"]
    lot: Annotated[str, "Lot"]
    stands: Annotated[str, "Set apart or cleared"]
    why: Annotated[str, "Why"]
    by: Annotated[str, "By"]


@dataclass(frozen=True)
class CorrectionLine:
    """One fact put right."""

    day: Annotated[date, "Day"]
    thing: Annotated[str, "Of what"]
    fact: Annotated[str, "What"]
    was: Annotated[str, "Was"]
    now: Annotated[str, "Is"]
    why: Annotated[str, "Why"]
    by: Annotated[str, "By"]


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
    "fields": ("Fields", FieldLine),
    "sowings": ("Sowings and seed", SowingLine),
    "derogations": ("Leave to sow seed that is not organic", DerogationLine),
    "inputs": ("Inputs", InputLine),
    "balance": ("Mass balance", BalanceLine),
    "losses": ("Losses by name", LossLine),
    "movements": ("Movements", MovementLine),
    "cleaning": ("Cleaning", CleaningLine),
    "vermin": ("Vermin control", VerminLine),
    "complaints": ("Complaints", ComplaintLine),
    "contractors": ("Contractors and their certificates", ContractorLine),
    "standings": ("Lots set apart and cleared", StandingLine),
    "corrections": ("Facts put right", CorrectionLine),
}


def tables(book):
    """The tables of a record book, in the order an inspector reads them."""
    return tuple(_table(book, name, *shape) for name, shape in TABLES.items())


def record_book_pdf(book):
    """The record book to print."""
    shown = [dataclasses.asdict(table) for table in tables(book)]
    return pdf("record_book", book, tables=shown)


def _table(book, name, title, line):
    hints = get_type_hints(line, include_extras=True)
    columns = [hint.__metadata__ for hint in hints.values()]
    return Table(
        name=name,
        title=title,
        headings=tuple(_heading(book.units, *column) for column in columns),
        numbers=tuple(n for n, column in enumerate(columns) if len(column) > 1),
        rows=tuple(
            tuple(getattr(row, each) for each in hints) for row in _rows(book, name)
        ),
    )


def _rows(book, name):
    if name == "losses":
        # A line of its own, at nought too: silence would look like nothing to hide.
        return (*book.losses, LossLine("Unexplained", book.unexplained))
    return getattr(book, name)


def _heading(units, heading, unit=None):
    return f"{heading}, {getattr(units, unit)}" if unit else heading
