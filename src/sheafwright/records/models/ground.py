"""Fields, what they grew before, their standing as organic, what was put on them."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import Entry, between


class Field(Entry):
    class SoilKind(models.TextChoices):
        """As nitrogen, anchorage and emergence tell soils apart."""

        LIGHT = "light", _("light sand")
        MEDIUM = "medium", _("medium or shallow")
        DEEP_CLAY = "deep_clay", _("deep clay")
        DEEP_SILT = "deep_silt", _("deep silt")

    name = models.CharField(_("name"), max_length=60)
    area_ha = models.FloatField(_("area"), validators=between(0.001, 10_000))
    outline = models.JSONField(_("outline"), null=True, blank=True)
    """GeoJSON geometry, longitude first."""
    soil = models.CharField(_("soil"), max_length=80, blank=True)
    soil_kind = models.CharField(
        _("kind of soil"), max_length=10, choices=SoilKind, blank=True
    )
    aspect = models.CharField(_("aspect"), max_length=40, blank=True)
    stays_grass = models.BooleanField(_("stays in grass"), default=False)
    to_rick_m = models.FloatField(
        _("way to the rick"), null=True, blank=True, validators=between(0, 100_000)
    )

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
    class Sward(models.TextChoices):
        CLOVER = "clover", _("much clover")
        GRASS = "grass", _("grass, little clover")
        FED_GRASS = "fed_grass", _("grass, well manured")
        LUCERNE = "lucerne", _("lucerne")

    class Use(models.TextChoices):
        CUT = "cut", _("cut twice a year or more")
        CUT_AND_GRAZED = "cut_and_grazed", _("cut once, then grazed")
        GRAZED = "grazed", _("grazed")

    field = models.ForeignKey(Field, models.PROTECT, related_name="leys")
    sown = models.DateField(_("sown"), null=True, blank=True)
    ploughed = models.DateField(_("ploughed"), null=True, blank=True)
    what = models.CharField(_("what grew"), max_length=120)
    sward = models.CharField(_("sward"), max_length=10, choices=Sward, blank=True)
    use = models.CharField(_("use"), max_length=14, choices=Use, blank=True)

    class Meta:
        ordering = ("sown",)


class PastCrop(Entry):
    """What a field bore that was not sown from this record, nor a ley."""

    class Crop(models.TextChoices):
        WHEAT = "wheat", _("wheat")
        OATS = "oats", _("oats or barley")
        BEANS = "beans", _("beans")
        PEAS = "peas", _("peas")
        ROOTS = "roots", _("beet or turnips")
        POTATOES = "potatoes", _("potatoes")
        FORAGE = "forage", _("forage, cut")
        RAPE = "rape", _("oilseed rape")
        FALLOW = "fallow", _("nothing, fallow")

    field = models.ForeignKey(Field, models.PROTECT, related_name="past_crops")
    harvest_year = models.PositiveSmallIntegerField(
        _("harvest"), validators=between(1800, 2200)
    )
    crop = models.CharField(_("crop"), max_length=10, choices=Crop)

    class Meta:
        ordering = ("harvest_year", "made_at")


class InputApplied(Entry):
    field = models.ForeignKey(Field, models.PROTECT, related_name="inputs")
    date = models.DateField(_("date"))
    product = models.CharField(_("what was put on"), max_length=120)
    quantity_kg = models.FloatField(_("how much"), validators=between(0, 1e6))
    supplier = models.CharField(_("from whom"), max_length=120, blank=True)
    evidence = models.CharField(_("why it is permitted"), max_length=300)

    class Meta:
        ordering = ("date",)
