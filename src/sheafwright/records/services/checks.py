"""What an entry's days and things must be, beyond what its own numbers must be."""

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from sheafwright.records.clock import day_of, today


def not_ahead(holding, date, name="date"):
    """Nothing is written down before it happens."""
    last = today(holding)
    if date is not None and date > last:
        refuse(
            name,
            _("%(date)s is still to come; it should be no later than %(last)s.")
            % {"date": date, "last": last},
        )


def in_order(earlier, later, what, name="date"):
    """The later of two days, said of ``name``, is not before the earlier."""
    if earlier is not None and later is not None and later < earlier:
        refuse(
            name,
            _("%(later)s is before %(earlier)s, when %(what)s.")
            % {"later": later, "earlier": earlier, "what": what},
        )


def happened(holding, date, since, what, name="date"):
    """The day is neither before what it follows nor still to come."""
    not_ahead(holding, date, name)
    in_order(since, date, what, name)


def happened_at(holding, at, since, what):
    """As `happened`, of a moment."""
    happened(holding, day_of(holding, at), since, what, name="at")


def says_something(name, *said):
    if not any(value not in (None, "", {}) for value in said):
        refuse(name, _("This entry says nothing; fill in what was seen."))


def refuse(name, sentence):
    raise ValidationError({name: sentence})
