"""Every sentence that the page of money says besides the budget's own."""

from django.utils.translation import gettext as _


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


def what_the_book_knows():
    return _(
        "The book holds sales with a price, and hours with a rate. Seed, hire, fuel "
        "and other bills are not in it, so they stand in the budget alone."
    )


def nothing_against():
    return _("Nothing of this harvest has a price or a rate in the book yet.")


def go_together():
    return _(
        "1 or −1 is all together or all against; of things that go together each tells "
        "of the others too. A share is of the uncertainty, were each by itself."
    )


def machines_aside():
    return _(
        "What machines lose of their value is paid on no day, so it is not in here."
    )
