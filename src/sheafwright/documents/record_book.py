"""The record book that an inspector reads: every table of a period."""

import dataclasses
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from sheafwright.documents.typst import pdf


def column(heading, unit=None):
    """A column: its heading, and which of the book's units its numbers have."""
    return field(metadata={"heading": heading, "unit": unit})


@dataclass(frozen=True)
class FieldLine:
    """One field and its organic standing."""

    name: str = column("Field")
    area: Decimal = column("Area", "area")
    status: str = column("Status")
    conversion_began: date | None = column("Conversion began")
    organic_from: date | None = column("Organic for crops sown from")
    before: str = column("Crop or ley before")


@dataclass(frozen=True)
class SowingLine:
    """One sowing, and where its seed came from."""

    sown_on: date = column("Sown")
    field: str = column("Field")
    variety: str = column("Variety")
    area: Decimal = column("Area", "area")
    seed: Decimal = column("Seed", "weight")
    seed_lot: str = column("Seed lot")
    seed_from: str = column("Seed from")
    seed_status: str = column("Seed’s status")


@dataclass(frozen=True)
class DerogationLine:
    """Leave to sow seed that is not organic."""

    given_on: date = column("Given")
    seed_lot: str = column("Seed lot")
    reference: str = column("Reference")
    reason: str = column("Reason")


@dataclass(frozen=True)
class InputLine:
    """Something put on a field, and why it may be."""

    applied_on: date = column("Applied")
    field: str = column("Field")
    product: str = column("Product")
    amount: str = column("Amount")
    supplier: str = column("Supplier")
    evidence: str = column("Evidence that it is permitted")


@dataclass(frozen=True)
class MovementLine:
    """What moved from one place of the material book to another."""

    moved_on: date = column("Day")
    entry: str = column("Entry")
    material: str = column("Material")
    lot: str = column("Lot")
    taken_from: str = column("Taken from")
    given_to: str = column("Given to")
    weight: Decimal = column("Weight", "weight")
    moisture: Decimal | None = column("Moisture", "moisture")


@dataclass(frozen=True)
class BalanceLine:
    """One material over the period; what comes in is there, used, lost or gone."""

    material: str = column("Material")
    at_start: Decimal = column("At start", "weight")
    grown: Decimal = column("Grown", "weight")
    bought: Decimal = column("Bought in", "weight")
    made: Decimal = column("Threshed out", "weight")
    threshed: Decimal = column("Gone to drum", "weight")
    sold: Decimal = column("Sold", "weight")
    used: Decimal = column("Seed, fed, milled", "weight")
    lost: Decimal = column("Lost, by name", "weight")
    unexplained: Decimal = column("Unexplained", "weight")
    at_end: Decimal = column("At end", "weight")


@dataclass(frozen=True)
class LossLine:
    """One named loss over the period."""

    name: str = column("Loss")
    weight: Decimal = column("Weight", "weight")


@dataclass(frozen=True)
class CleaningLine:
    """One cleaning of a machine or store."""

    done_on: date = column("Day")
    what: str = column("What was cleaned")
    how: str = column("How")
    by: str = column("By")


@dataclass(frozen=True)
class ComplaintLine:
    """One complaint, and what was done."""

    received_on: date = column("Received")
    sender: str = column("From")
    about: str = column("About")
    done: str = column("What was done")


@dataclass(frozen=True)
class VerminLine:
    """One measure against vermin, or a round of looking."""

    done_on: date = column("Day")
    place: str = column("Place")
    found: str = column("Found")
    done: str = column("What was done")


@dataclass(frozen=True)
class ContractorLine:
    """Somebody else who worked on the crop, and their certificate."""

    name: str = column("Contractor")
    work: str = column("Work")
    certificate: str = column("Certificate")
    expires_on: date | None = column("Runs out")


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
    certificate: Certificate
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
}


def tables(book):
    """The tables of a record book, in the order an inspector reads them."""
    return tuple(_table(book, name, *shape) for name, shape in TABLES.items())


def record_book_pdf(book):
    """The record book to print."""
    shown = [dataclasses.asdict(table) for table in tables(book)]
    return pdf("record_book", book, tables=shown)


def _table(book, name, title, line):
    columns = dataclasses.fields(line)
    return Table(
        name=name,
        title=title,
        headings=tuple(_heading(each.metadata, book.units) for each in columns),
        numbers=tuple(n for n, each in enumerate(columns) if each.metadata["unit"]),
        rows=tuple(
            tuple(getattr(row, each.name) for each in columns)
            for row in _rows(book, name)
        ),
    )


def _rows(book, name):
    if name == "losses":
        # A line of its own, at nought too: silence would look like nothing to hide.
        return (*book.losses, LossLine("Unexplained", book.unexplained))
    return getattr(book, name)


def _heading(metadata, units):
    heading, unit = metadata["heading"], metadata["unit"]
    return f"{heading}, {getattr(units, unit)}" if unit else heading
