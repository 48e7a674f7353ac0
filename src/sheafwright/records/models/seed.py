"""Seed: lots, germination and health."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import PERCENT, Entry, between


class SeedLot(Entry):
    class Came(models.TextChoices):
        OWN = "own", _("saved on this holding")
        BOUGHT = "bought", _("bought in")

    class Standing(models.TextChoices):
        ORGANIC = "organic", _("organic")
        IN_CONVERSION = "in_conversion", _("in conversion")
        UNTREATED = "untreated", _("not organic, untreated")

    name = models.CharField(_("name of the lot"), max_length=40)
    variety = models.CharField(_("variety"), max_length=60)
    came = models.CharField(_("where from"), max_length=8, choices=Came)
    supplier = models.CharField(_("supplier"), max_length=120, blank=True)
    grown_as = models.ForeignKey(
        "records.Lot", models.PROTECT, null=True, blank=True, related_name="seed_lots"
    )
    """The grain lot that own seed was kept from."""
    standing = models.CharField(_("standing"), max_length=14, choices=Standing)
    derogation = models.ForeignKey(
        "records.Derogation", models.PROTECT, null=True, blank=True, related_name="+"
    )
    thousand_grain_weight_g = models.FloatField(
        _("thousand-grain weight"), null=True, blank=True, validators=between(10, 90)
    )

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("holding", "name"), name="one_seed_lot_of_a_name"
            ),
        )
        ordering = ("name",)

    def __str__(self):
        return f"{self.name}, {self.variety}"


class GerminationTest(Entry):
    seed_lot = models.ForeignKey(
        SeedLot, models.PROTECT, related_name="germination_tests"
    )
    date = models.DateField(_("counted on"))
    seeds_each = models.PositiveSmallIntegerField(
        _("seeds in each tray"), default=100, validators=between(10, 400)
    )
    came_up = models.JSONField(_("came up, tray by tray"))
    """A count a tray."""

    class Meta:
        ordering = ("date",)


class SeedHealthTest(Entry):
    class Sickness(models.TextChoices):
        BUNT = "bunt", _("bunt")
        SMUT = "smut", _("loose smut")
        ERGOT = "ergot", _("ergot")

    class Found(models.TextChoices):
        NONE = "none", _("none found")
        FOUND = "found", _("found")

    seed_lot = models.ForeignKey(SeedLot, models.PROTECT, related_name="health_tests")
    date = models.DateField(_("date"))
    sickness = models.CharField(_("looked for"), max_length=8, choices=Sickness)
    found = models.CharField(_("found"), max_length=8, choices=Found)
    share_pct = models.FloatField(_("share"), null=True, blank=True, validators=PERCENT)
    laboratory = models.CharField(_("laboratory"), max_length=120, blank=True)

    class Meta:
        ordering = ("date",)
