"""What upsets a day's plan."""

from sheafwright.records.models import Breakdown, Shower
from sheafwright.records.services.checks import not_ahead
from sheafwright.records.services.entry import entry_add


def breakdown_record(*, holding, date, **said):
    """From a half-day on a machine is broken, or runs again."""
    not_ahead(holding, date)
    return entry_add(Breakdown, holding=holding, date=date, **said)


def shower_record(*, holding, date, **said):
    """A shower stopped work in a half-day."""
    not_ahead(holding, date)
    return entry_add(Shower, holding=holding, date=date, **said)
