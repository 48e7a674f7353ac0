"""Which entries still hold."""

from sheafwright.records.models import Movement


def not_undone(entries):
    """Of cuts, threshings, sales or losses: those whose movement was not reversed."""
    undone = Movement.objects.filter(
        reversed_by__isnull=False, subject__isnull=False
    ).values("subject")
    return entries.exclude(pk__in=undone)
