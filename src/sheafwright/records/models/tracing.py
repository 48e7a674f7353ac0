"""Stems traced on photographs: a draft, until an eye has looked and accepts them."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from sheafwright.feeds.telling import Telling
from sheafwright.records.models.entry import Entry, between
from sheafwright.records.models.store import Lot


class Tracing(Entry):
    """What was measured in photographs of one lot's stems.

    It is accepted once a `StemSample` names it; until then it can be thrown away.
    """

    lot = models.ForeignKey(Lot, models.PROTECT, related_name="tracings")
    date = models.DateField(_("date"))
    bundle = models.PositiveIntegerField(
        _("number of the bundle that they are from"),
        null=True,
        blank=True,
        validators=between(1, 1_000_000),
    )
    sheets = models.PositiveSmallIntegerField(
        _("sheets of the board, if not as usual"), null=True, blank=True
    )
    bar_mm = models.FloatField(
        _("its printed bar by a ruler, if not as it says"), null=True, blank=True
    )
    said = models.JSONField(decoder=Telling)
    """The answer's own JSON, told to whoever reads."""

    class Meta:
        ordering = ("date", "made_at")


class Photograph(Entry):
    """One photograph of a tracing, drawn again: nothing but its pixels is kept."""

    tracing = models.ForeignKey(Tracing, models.PROTECT, related_name="photographs")
    number = models.PositiveSmallIntegerField()
    whole = models.FileField(_("photo"))
    small = models.FileField(_("photo"))
    """As pages show it."""
    lines = models.JSONField()
    """Where each stem lies in the small one; see `measure.drawn.traced`. [pixel]"""

    class Meta:
        ordering = ("tracing", "number")
