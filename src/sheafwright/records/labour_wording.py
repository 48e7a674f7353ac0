"""Every sentence that the pages say of the labour book."""

from django.utils.translation import gettext as _

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


def per(book, tonne, acre):
    """Hours and cost by a tonne of straw and by an area, which bear their units."""
    said = []
    if book.reed_kg and book.hours:
        said.append(_("%(hours)s hours a %(tonne)s of reed and long straw.") % tonne)
    if book.area_ha and book.hours:
        said.append(_("%(hours)s hours an %(acre)s.") % acre)
    return " ".join(said)


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
