"""The demo's bills; all of them invented, and some of a year's never written down."""

import datetime
from decimal import Decimal

from sheafwright.records.models import Purchase
from sheafwright.records.services.money import purchase_record, purchase_strike

Line = Purchase.Line
BILLS = (
    (-1, 9, 24, Line.CONTRACTOR, "ploughing and drilling", "Combe Tillage", 640, 128),
    (0, 1, 15, Line.CERTIFICATION, "the certificate", "Invented Organic", 650, 0),
    (0, 1, 20, Line.INSURANCE, "liability", "Invented Mutual", "412.50", 0),
    (0, 5, 12, Line.FUEL, "red diesel", "Withy Fuels", "214.60", "10.73"),
    (0, 7, 15, Line.TWINE, "twine, ten spools", "Combe Stores", "86.40", "17.28"),
    (0, 7, 18, Line.REPAIRS, "canvas slats and knife sections", "The Forge", 118, 24),
    (0, 11, 20, Line.HIRE, "drum and comb, two days", "Blackthorn", 700, 140),
)
"""Years from the harvest, month and day; what for, what, from whom; net and VAT. [£]"""


def spent_story(book, year):
    """Bills for a harvest; the twine's is written twice, and struck out once."""
    for years, month, day, line, what, supplier, net, vat in BILLS:
        on = datetime.date(year + years, month, day)
        yield on
        said = {
            "date": on,
            "line": line,
            "what": what,
            "supplier": supplier,
            "net": Decimal(net),
            "vat": Decimal(vat),
            "vat_back": True,
        }
        book.write(purchase_record, f"{what} {year}", **said)
        if line == Line.TWINE:
            _twice(book, year, said)


def _twice(book, year, said):
    twice = book.write(purchase_record, f"twine again {year}", **said)
    book.write(
        purchase_strike,
        f"twine struck out {year}",
        purchase=twice,
        date=said["date"],
        why="written twice",
    )
