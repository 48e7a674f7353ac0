"""Ricks, the drum, and the lots that come of them."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import PERCENT, Entry, between


class Rick(Entry):
    class Cover(models.TextChoices):
        ROOF = "roof", _("under a roof")
        THATCHED = "thatched", _("thatched")
        OPEN = "open", _("not covered yet")

    name = models.CharField(_("name"), max_length=60)
    built = models.DateField(_("built on"))
    capacity_kg = models.FloatField(
        _("holds"), null=True, blank=True, validators=between(1, 1e6)
    )
    cover = models.CharField(_("cover"), max_length=8, choices=Cover)
    fit_to_comb = models.BooleanField(_("fit to comb"), default=True)
    emptied = models.DateField(_("emptied on"), null=True, blank=True)

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("holding", "name", "built"), name="one_rick_of_a_name_and_day"
            ),
        )
        ordering = ("-built", "name")

    def __str__(self):
        return self.name


class RickReading(Entry):
    rick = models.ForeignKey(Rick, models.PROTECT, related_name="readings")
    at = models.DateTimeField(_("taken at"))
    temperature_c = models.FloatField(_("temperature"), validators=between(-20, 300))
    depth_m = models.FloatField(
        _("depth of the probe"), null=True, blank=True, validators=between(0.1, 10)
    )

    class Meta:
        ordering = ("at",)


class Threshing(Entry):
    """One run of the drum, from one rick or straight from the stooks."""

    date = models.DateField(_("threshed on"))
    rick = models.ForeignKey(
        Rick, models.PROTECT, null=True, blank=True, related_name="threshings"
    )
    stook_set = models.ForeignKey(
        "records.StookSet",
        models.PROTECT,
        verbose_name=_("stooks of"),
        null=True,
        blank=True,
        related_name="threshings",
    )
    combed = models.BooleanField(_("combed"), default=True)
    smelt_of_fish = models.BooleanField(_("a fishy smell at the drum"), default=False)

    class Meta:
        ordering = ("date", "made_at")
        constraints = (
            models.CheckConstraint(
                condition=models.Q(rick__isnull=False)
                ^ models.Q(stook_set__isnull=False),
                name="threshed_from_one_place",
            ),
        )

    def __str__(self):
        return f"drum, {self.date.day} {self.date:%B %Y}"


class Lot(Entry):
    class Kind(models.TextChoices):
        REED = "reed", _("combed reed")
        LONG_STRAW = "long_straw", _("long straw")
        GRAIN = "grain", _("grain")
        TAIL = "tail", _("tail corn")
        FLOUR = "flour", _("flour")

    code = models.CharField(_("lot"), max_length=20)
    kind = models.CharField(_("what it is"), max_length=10, choices=Kind)
    variety = models.CharField(_("variety"), max_length=60)
    harvest_year = models.PositiveSmallIntegerField(
        _("harvest"), validators=between(1800, 2200)
    )
    grade = models.CharField(_("grade"), max_length=60, blank=True)
    length_cm = models.FloatField(
        _("length"), null=True, blank=True, validators=between(20, 250)
    )
    bundles = models.PositiveIntegerField(_("bundles"), null=True, blank=True)
    set_apart = models.BooleanField(_("set apart"), default=False)
    """Kept from sale until it is cleared: it smelt, or a test failed."""

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("holding", "code"), name="one_lot_of_a_code"
            ),
        )
        ordering = ("-harvest_year", "code")

    def __str__(self):
        return self.code


class LotTest(Entry):
    lot = models.ForeignKey(Lot, models.PROTECT, related_name="tests")
    date = models.DateField(_("tested on"))
    laboratory = models.CharField(_("laboratory"), max_length=120, blank=True)
    moisture_pct = models.FloatField(
        _("moisture"), null=True, blank=True, validators=between(5, 60)
    )
    protein_pct = models.FloatField(
        _("protein in dry matter"), null=True, blank=True, validators=between(4, 25)
    )
    hagberg_s = models.FloatField(
        _("Hagberg falling number"), null=True, blank=True, validators=between(60, 600)
    )
    specific_weight_kg_per_hl = models.FloatField(
        _("specific weight"), null=True, blank=True, validators=between(40, 95)
    )
    admixture_pct = models.FloatField(
        _("admixture"), null=True, blank=True, validators=PERCENT
    )

    class Meta:
        ordering = ("date",)


class LotStanding(Entry):
    """A lot set apart by someone, or cleared; the lot itself says how it now stands."""

    lot = models.ForeignKey(Lot, models.PROTECT, related_name="standings")
    date = models.DateField(_("date"))
    set_apart = models.BooleanField(_("set apart"))
    why = models.CharField(_("why"), max_length=300)

    class Meta:
        ordering = ("date", "made_at")
