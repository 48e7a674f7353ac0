"""Invoices and credit notes as a CSV, a line of theirs a row."""

import csv
import io

from sheafwright.documents.record_book_csv import cell

HEADINGS = (
    *("number", "date", "due", "corrects", "buyer", "currency", "what", "lot"),
    *("kg", "price_per_t", "vat_pct", "net", "bill_net", "bill_vat", "bill_gross"),
)


def bills_csv(bills):
    """All of their lines, in UTF-8 with the mark by which spreadsheets know that.

    Parameters
    ----------
    bills : iterable of sheafwright.documents.ubl.Bill

    Returns
    -------
    bytes
    """
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(HEADINGS)
    for bill in bills:
        sign = -1 if bill.corrects else 1
        for line in bill.lines:
            row = (
                *(bill.code, bill.date, bill.due),
                *(bill.corrects and bill.corrects[0], bill.customer.name),
                *(bill.currency, line.name, line.lot, line.kg, line.price_per_t),
                *(line.vat_pct, sign * line.net),
                *(sign * amount for amount in (bill.net, bill.vat, bill.gross)),
            )
            writer.writerow([cell(value) for value in row])
    return text.getvalue().encode("utf-8-sig", errors="replace")
