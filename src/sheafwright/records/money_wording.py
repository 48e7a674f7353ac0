"""Every sentence that the page of money says besides the budget's own."""

from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _lazy
from django.utils.translation import ngettext

from sheafwright.answers.budget_lines import COSTS, INCOME
from sheafwright.core.money.pence import pounds_of
from sheafwright.feeds.telling import capital, say
from sheafwright.records.models import Purchase
from sheafwright.records.selectors.posted import WORK_ELSE


def by_the_book(money):
    """Whence its fields and prices are."""
    said = [_fields(money), *_prices(money.prices), *_hours(money)]
    return " ".join(said)


def _fields(money):
    if not money.fields:
        return _(
            "No wheat is sown or planned for the harvest of %(year)d: this is of one "
            "hectare, made up."
        ) % {"year": money.harvest_year}
    return _("Harvest of %(year)d: %(fields)s.") % {
        "year": money.harvest_year,
        "fields": ", ".join(money.fields),
    }


def _prices(prices):
    known = {_("reed"): prices.reed, _("grain"): prices.grain}
    told = [name for name, price in known.items() if price]
    if told:
        yield _("The price of %(what)s is that of your last sales.") % {
            "what": _(" and of ").join(told)
        }


def _hours(money):
    if any(money.own_hours.values()):
        yield _("Hours are those of your own book where it has some.")


ELSE = {
    WORK_ELSE: _lazy("hours: machines, buildings and what else"),
    Purchase.Line.RENT: Purchase.Line.RENT.label,
    Purchase.Line.MACHINE: Purchase.Line.MACHINE.label,
    Purchase.Line.OTHER: Purchase.Line.OTHER.label,
}
"""Lines that no budget of a crop has."""


def line_name(line):
    """As a table calls it."""
    if line in ELSE:
        return capfirst(str(ELSE[line]))
    return capital(say((INCOME | COSTS)[line]))


def written_so_far(against):
    """What the book has of the harvest, and of how much it has nothing."""
    got, spent = against.got, against.spent
    if got is None and spent is None:
        return _("No money of this harvest is written down yet.")
    if got is None:
        words = _("The book has £%(spent)s spent so far, and no sale with a price.")
    elif spent is None:
        words = _("The book has £%(got)s brought in so far, and nothing spent.")
    else:
        words = _("The book has £%(got)s brought in and £%(spent)s spent so far.")
    said = words % {"got": _pounds(got or 0), "spent": _pounds(spent or 0)}
    return f"{said} {_unwritten(against)}".strip()


def _unwritten(against):
    n = len(against.unwritten)
    if not n:
        return ""
    return ngettext(
        "Of %(n)d line of the budget nothing is written: that is not the same as "
        "nothing spent.",
        "Of %(n)d lines of the budget nothing is written: that is not the same as "
        "nothing spent.",
        n,
    ) % {"n": n}


def _pounds(pence):
    return f"{pounds_of(pence):,}"


def how_shared():
    return _(
        "Money that names no field is shared by the area sown; that of a lot, by the "
        "fields its sheaves came from. A certificate, insurance or rent that names no "
        "field is whole in the book, though other crops bear their part of it: the "
        "budget has this crop's part alone."
    )


def not_counted(book):
    """What no line counts."""
    yield _("What our machines tie up and lose is on nobody's bill, so in neither.")
    hours = sum(book.unpriced.values())
    if hours:
        yield ngettext(
            "%(n)s hour of hands has no rate and is not in it.",
            "%(n)s hours of hands have no rate and are not in it.",
            round(hours),
        ) % {"n": f"{hours:,.0f}"}
    if book.elsewhere:
        yield ngettext(
            "%(n)d sale in another currency is not in it.",
            "%(n)d sales in another currency are not in it.",
            book.elsewhere,
        ) % {"n": book.elsewhere}


def nothing_written():
    return _("nothing written")


def not_in_budget():
    return _("not in it")


def bills_table(bills):
    """Name, title, headings, columns of numbers, and rows of every bill."""
    headings = (
        _("Day"),
        _("For"),
        _("What"),
        _("From"),
        _("£ without VAT"),
        _("VAT on it, £"),
        _("VAT claimed back"),
        _("Cost, £"),
        _("Belongs to"),
        _("Note"),
    )
    return "bills", _("Money spent"), headings, (4, 5, 7), tuple(map(_bill, bills))


def _bill(each):
    return (
        each.date,
        str(each.get_line_display()),
        each.what,
        each.supplier,
        each.net,
        each.vat,
        _("yes") if each.vat_back else _("no"),
        each.cost,
        belongs_to(each),
        each.note,
    )


def belongs_to(purchase):
    """The field or lot that money was spent on; else the holding."""
    for what in (purchase.sowing, purchase.lot):
        if what:
            return str(what.field) if what == purchase.sowing else str(what)
    return _("the holding")


def go_together():
    return _(
        "1 or −1 is all together or all against; of things that go together each tells "
        "of the others too. A share is of the uncertainty, were each by itself."
    )


def machines_aside():
    return _(
        "What machines lose of their value is paid on no day, so it is not in here."
    )
