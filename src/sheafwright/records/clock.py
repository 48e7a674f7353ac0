"""What day it is on a holding."""

import zoneinfo

from django.utils import timezone


def today(holding):
    """The day in the holding's zone; an invented holding stands still on its own."""
    return holding.looked_at_as_of or day_of(holding, timezone.now())


def day_of(holding, at):
    """The day on which a moment falls in the holding's zone."""
    return at.astimezone(zoneinfo.ZoneInfo(holding.time_zone)).date()
