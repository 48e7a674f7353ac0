"""The crop from sowing to stook."""

from django.db import models
from django.utils.formats import date_format
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import PERCENT, Entry, between


class Sowing(Entry):
    field = models.ForeignKey("records.Field", models.PROTECT, related_name="sowings")
    seed_lot = models.ForeignKey(
        "records.SeedLot", models.PROTECT, related_name="sowings"
    )
    date = models.DateField(_("sown on"))
    harvest_year = models.PositiveSmallIntegerField(
        _("harvest"), validators=between(1800, 2200)
    )
    area_ha = models.FloatField(_("area sown"), validators=between(0.001, 10_000))
    rate_kg_per_ha = models.FloatField(
        _("seed rate"), null=True, blank=True, validators=between(10, 500)
    )
    row_spacing_mm = models.FloatField(
        _("row spacing"), null=True, blank=True, validators=between(50, 600)
    )
    variety_class = models.CharField(_("cold need"), max_length=30, blank=True)
    """The engine's variety class; weighed among all if blank."""

    class Meta:
        ordering = ("-date",)

    def __str__(self):
        return f"{self.field} {self.harvest_year}"


class Observation(Entry):
    sowing = models.ForeignKey(
        Sowing, models.PROTECT, verbose_name=_("field"), related_name="observations"
    )
    date = models.DateField(_("seen on"))
    stage = models.CharField(_("stage"), max_length=20, blank=True)
    """One of `sheafwright.answers.question.STAGES`."""
    signs = models.JSONField(_("signs"), default=dict, blank=True)
    """Kind of sign to the level seen."""
    height_cm = models.FloatField(
        _("height"), null=True, blank=True, validators=between(1, 250)
    )
    stems_per_m2 = models.FloatField(
        _("stems a square metre"), null=True, blank=True, validators=between(1, 2000)
    )
    lodged_pct = models.FloatField(
        _("lodged share"), null=True, blank=True, validators=PERCENT
    )
    photo = models.FileField(_("photo"), upload_to="photos", blank=True)

    class Meta:
        ordering = ("date", "made_at")


class PlantCount(Entry):
    """Plants counted in small areas of one size, at about three leaves."""

    sowing = models.ForeignKey(
        Sowing, models.PROTECT, verbose_name=_("field"), related_name="plant_counts"
    )
    date = models.DateField(_("counted on"))
    counts = models.JSONField(_("plants, place by place"))
    """A count a place."""
    place_m2 = models.FloatField(
        _("size of each place, m²"), validators=between(0.01, 10)
    )

    class Meta:
        ordering = ("date", "made_at")


class WeedWalk(Entry):
    sowing = models.ForeignKey(
        Sowing, models.PROTECT, verbose_name=_("field"), related_name="weed_walks"
    )
    date = models.DateField(_("walked on"))
    weeds = models.CharField(_("weeds"), max_length=300, blank=True)
    clover_height_cm = models.FloatField(
        _("height of the clover"), null=True, blank=True, validators=between(0, 150)
    )
    rogued = models.BooleanField(_("odd plants pulled"), default=False)

    class Meta:
        ordering = ("date",)


class Cut(Entry):
    """A block of a field cut on one day."""

    sowing = models.ForeignKey(
        Sowing, models.PROTECT, verbose_name=_("field"), related_name="cuts"
    )
    date = models.DateField(_("cut on"))
    area_ha = models.FloatField(_("area cut"), validators=between(0.001, 10_000))
    sheaves = models.PositiveIntegerField(_("sheaves"), null=True, blank=True)
    contractor = models.ForeignKey(
        "records.Certificate", models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ("date", "made_at")

    def __str__(self):
        said = {"field": self.sowing.field, "day": date_format(self.date, "j F")}
        return gettext("%(field)s, cut %(day)s") % said


class StookSet(Entry):
    """The stooks of one cut."""

    cut = models.OneToOneField(Cut, models.PROTECT, related_name="stook_set")
    stooks = models.PositiveIntegerField(_("stooks"), null=True, blank=True)
    sheaves_each = models.FloatField(
        _("sheaves in a stook"), null=True, blank=True, validators=between(2, 24)
    )

    def __str__(self):
        return gettext("stooks of %(cut)s") % {"cut": self.cut}


class MeterReading(Entry):
    stook_set = models.ForeignKey(
        StookSet, models.PROTECT, verbose_name=_("stooks of"), related_name="readings"
    )
    at = models.DateTimeField(_("taken at"))
    grain_pct = models.FloatField(
        _("grain moisture"), null=True, blank=True, validators=between(5, 60)
    )
    straw_pct = models.FloatField(
        _("straw moisture"), null=True, blank=True, validators=between(5, 80)
    )

    class Meta:
        ordering = ("at",)
        constraints = (
            models.CheckConstraint(
                condition=models.Q(grain_pct__isnull=False)
                | models.Q(straw_pct__isnull=False),
                name="a_reading_reads_something",
            ),
        )
