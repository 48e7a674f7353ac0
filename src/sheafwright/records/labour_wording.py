"""Every sentence that the pages say of the labour book."""

from decimal import Decimal

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from sheafwright.feeds.units import in_unit
from sheafwright.records.models.work import Task


def hours(number):
    """Hours in a table."""
    return f"{number:,.1f}" if number < 100 else f"{number:,.0f}"


def pounds(money):
    return "–" if money is None else f"£{money:,.0f}"


def task(name):
    return Task(name).label if name else _("not said")


def headline(book):
    if not book.hours:
        return _("No hours are written down yet.")
    return _("Harvest of %(year)d: %(hours)s hours, %(cost)s.") % {
        "year": book.harvest_year,
        "hours": hours(book.hours),
        "cost": pounds(book.cost) if not book.without_rate else _cost_so_far(book),
    }


def _cost_so_far(book):
    if book.without_rate >= book.hours:
        return _("no rates")
    return _("%(cost)s and %(hours)s hours without a rate") % {
        "cost": pounds(book.cost),
        "hours": hours(book.without_rate),
    }


def per(book, units):
    """Hours and cost a tonne of straw, and an area."""
    says = (_("%(hours)s hours a tonne of straw"), _("%(hours)s hours a hectare"))
    if units == "imperial":
        says = (_("%(hours)s hours a ton of straw"), _("%(hours)s hours an acre"))
    amounts = _tonnes(book, units), _ground(book, units)
    said = [
        says % {"hours": hours(book.hours / amount)}
        for says, amount in zip(says, amounts, strict=True)
        if amount and book.hours
    ]
    return _("%(said)s.") % {"said": ", ".join(said)} if said else ""


def measures(book, units):
    """Label and amount of what hours are told by, where it is known."""
    labels = _("Hours a tonne of straw"), _("Hours a hectare")
    if units == "imperial":
        labels = _("Hours a ton of straw"), _("Hours an acre")
    amounts = _tonnes(book, units), _ground(book, units)
    return tuple(each for each in zip(labels, amounts, strict=True) if each[1])


def _tonnes(book, units):
    unit = "ton" if units == "imperial" else "t"
    return in_unit(book.straw_kg, "mass", unit)


def _ground(book, units):
    unit = "acre" if units == "imperial" else "ha"
    return in_unit(book.area_ha, "area", unit)


def hours_table(book):
    """Name, title, headings, columns of numbers, and rows of every entry."""
    headings = (
        _("Day"),
        _("Who"),
        _("Task"),
        _("At what"),
        _("Hours"),
        _("£ an hour"),
        _("Cost, £"),
        _("Field"),
        _("Lots"),
    )
    rows = tuple(_line(each) for each in book.worked)
    return "hours", _("Hours worked"), headings, (4, 5, 6), rows


def _line(worked):
    entry = worked.entry
    cost = worked.cost
    return (
        entry.date,
        " ".join(entry.who.split()),
        str(task(entry.task)),
        entry.job,
        Decimal(str(entry.hours)),
        worked.rate,
        None if cost is None else Decimal(f"{cost:.2f}"),
        str(entry.sowing.field) if entry.sowing else "",
        ", ".join(sorted(worked.lots)),
    )


def only_what_is_written():
    return _(
        "It holds what was written down, and no more: an hour that nobody wrote is not "
        "in it."
    )


def elsewhere(number):
    return _("Besides, %(hours)s hours were worked for neighbours.") % {
        "hours": hours(number)
    }


def shared_by_weight():
    return _(
        "Hours of threshing are shared among what the drum gave that day, by weight."
    )


def weeks(begins, ends):
    """The days of one week or of several alike; the last day included."""
    return _("%(begins)s to %(ends)s") % {
        "begins": date_format(begins, "j M"),
        "ends": date_format(ends, "j M Y"),
    }


def no_need():
    return _("Nothing is sown or planned for the next harvest yet.")


def no_rates():
    return _("No rates are written down.")


def rate_of(rate):
    """Whose, and at what."""
    who = rate.who or _("everybody")
    return _("%(who)s, %(task)s") % {
        "who": who,
        "task": rate.get_task_display() if rate.task else _("any task"),
    }
