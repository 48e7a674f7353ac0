"""Fields, what they grew before, their standing as organic, what was put on them."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import Entry, between


class Field(Entry):
    name = models.CharField(_("name"), max_length=60)
    area_ha = models.FloatField(_("area"), validators=between(0.001, 10_000))
    outline = models.JSONField(_("outline"), null=True, blank=True)
    """GeoJSON geometry, longitude first."""
    soil = models.CharField(_("soil"), max_length=80, blank=True)
    aspect = models.CharField(_("aspect"), max_length=40, blank=True)

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("holding", "name"), name="one_field_of_a_name"
            ),
        )
        ordering = ("name",)

    def __str__(self):
        return self.name


class FieldStatus(Entry):
    """From when a field is farmed in which way; a later row overrides an earlier."""

    class Way(models.TextChoices):
        CONVENTIONAL = "conventional", _("not organic")
        CONVERTING = "converting", _("in conversion")
        ORGANIC = "organic", _("organic")

    field = models.ForeignKey(Field, models.PROTECT, related_name="statuses")
    way = models.CharField(_("farmed"), max_length=12, choices=Way)
    since = models.DateField(_("since"))

    class Meta:
        ordering = ("since",)


class Ley(Entry):
    field = models.ForeignKey(Field, models.PROTECT, related_name="leys")
    sown = models.DateField(_("sown"), null=True, blank=True)
    ploughed = models.DateField(_("ploughed"), null=True, blank=True)
    what = models.CharField(_("what grew"), max_length=120)

    class Meta:
        ordering = ("sown",)


class InputApplied(Entry):
    field = models.ForeignKey(Field, models.PROTECT, related_name="inputs")
    date = models.DateField(_("date"))
    product = models.CharField(_("what was put on"), max_length=120)
    quantity_kg = models.FloatField(_("how much"), validators=between(0, 1e6))
    supplier = models.CharField(_("from whom"), max_length=120, blank=True)
    evidence = models.CharField(_("why it is permitted"), max_length=300)

    class Meta:
        ordering = ("date",)
