"""Which entries still hold."""

from sheafwright.records.models import Movement


def not_undone(entries):
    """Of cuts, threshings, sales or losses: those whose movement was not reversed."""
    # Asked of the few that reverse, not of all that may have been reversed.
    reverses = Movement.objects.filter(reverses__isnull=False, subject__isnull=False)
    return entries.exclude(pk__in=reverses.values("subject"))
