"""What upsets a day's plan: a machine that breaks, and a shower."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import Entry
from sheafwright.records.models.hands import Half, Machine


class Breakdown(Entry):
    """From a half-day on a machine is broken, or runs again; the later word counts."""

    class State(models.TextChoices):
        BROKEN = "broken", _("broken")
        MENDED = "mended", _("mended")

    machine = models.ForeignKey(
        Machine, models.PROTECT, verbose_name=_("machine"), related_name="breakdowns"
    )
    date = models.DateField(_("date"))
    half = models.CharField(
        _("part of the day"), max_length=9, choices=Half, default=Half.MORNING
    )
    state = models.CharField(_("it is"), max_length=6, choices=State)

    class Meta:
        ordering = ("date", "made_at")


class Shower(Entry):
    """Rain enough to stop work in a half-day."""

    date = models.DateField(_("date"))
    half = models.CharField(_("part of the day"), max_length=9, choices=Half)

    class Meta:
        ordering = ("date", "made_at")
