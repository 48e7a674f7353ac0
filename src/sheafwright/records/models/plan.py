"""What the cropping plan is to keep to; of two words on the same, the later counts."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import Entry, between
from sheafwright.records.models.ground import Field

HARVEST = between(1800, 2200)


class PlanCrop(models.TextChoices):
    """What a field of the plan may bear."""

    AUTUMN_WHEAT = "autumn_wheat", _("autumn wheat")
    LATE_WHEAT = "late_wheat", _("February wheat")
    OATS = "oats", _("oats")
    ROOTS = "roots", _("roots")
    LEY = "ley", _("ley")


class PlanFixed(Entry):
    """What one field shall bear in one year; with no crop, it is free again."""

    field = models.ForeignKey(Field, models.PROTECT, related_name="fixed")
    harvest_year = models.PositiveSmallIntegerField(_("harvest"), validators=HARVEST)
    crop = models.CharField(_("crop"), max_length=14, choices=PlanCrop, blank=True)

    class Meta:
        ordering = ("made_at",)


class AreaWanted(Entry):
    """How much of a crop there shall be in one year."""

    harvest_year = models.PositiveSmallIntegerField(_("harvest"), validators=HARVEST)
    crop = models.CharField(_("crop"), max_length=14, choices=PlanCrop)
    least_ha = models.FloatField(
        _("at least"), null=True, blank=True, validators=between(0, 10_000)
    )
    most_ha = models.FloatField(
        _("at most"), null=True, blank=True, validators=between(0, 10_000)
    )

    class Meta:
        ordering = ("made_at",)
