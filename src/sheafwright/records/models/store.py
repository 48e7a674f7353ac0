"""Ricks, the drum, and the lots that come of them."""

from django.core.validators import MinValueValidator
from django.db import models
from django.utils.formats import date_format
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import PERCENT, Entry, between, perhaps_of


class Rick(Entry):
    class Cover(models.TextChoices):
        ROOF = "roof", _("under a roof")
        THATCHED = "thatched", _("thatched")
        OPEN = "open", _("not covered yet")

    class Shape(models.TextChoices):
        """As `answers.rick_size` tells shapes apart."""

        ROUND = "round", _("a round rick")
        GABLED = "gabled", _("an oblong rick, gabled")
        HIPPED = "hipped", _("an oblong rick, sloped all round")
        BAY = "bay", _("a bay of a barn")

    name = models.CharField(_("name"), max_length=60)
    built = models.DateField(_("built on"))
    shape = models.CharField(_("shape"), max_length=8, choices=Shape, blank=True)
    length_m = models.FloatField(
        _("length, or width of a round one"),
        null=True,
        blank=True,
        validators=between(0.5, 100),
    )
    width_m = models.FloatField(
        _("width, unless it is round"),
        null=True,
        blank=True,
        validators=between(0.5, 100),
    )
    eaves_m = models.FloatField(
        _("height to the eaves"), null=True, blank=True, validators=between(0.2, 30)
    )
    top_m = models.FloatField(
        _("height of the top above them, unless it is a bay"),
        null=True,
        blank=True,
        validators=between(0.2, 30),
    )
    capacity_kg = models.FloatField(
        _("holds"), null=True, blank=True, validators=between(1, 1e6)
    )
    cover = models.CharField(_("cover"), max_length=8, choices=Cover)
    fit_to_comb = models.BooleanField(_("fit to comb"), default=True)
    value = models.DecimalField(
        _("value, £"),
        help_text=_("Worked out from what it holds, if you don't say."),
        max_digits=9,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(0)],
    )
    to_buildings_m = models.FloatField(
        _("to the nearest building"),
        null=True,
        blank=True,
        validators=between(0, 10_000),
    )
    to_road_m = models.FloatField(
        _("to the nearest road or path"),
        null=True,
        blank=True,
        validators=between(0, 10_000),
    )
    to_rick_m = models.FloatField(
        _("to the next rick"), null=True, blank=True, validators=between(0, 10_000)
    )
    insurers_conditions = models.CharField(
        _("the insurer's conditions"), max_length=500, blank=True
    )
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


class CallList(Entry):
    """Who is rung when a rick heats, in order; the last one written counts."""

    rick = perhaps_of(Rick, _("for one rick alone"), "call_lists")
    who = models.CharField(_("who is rung, in this order"), max_length=500)
    """A name and a number a line."""

    class Meta:
        ordering = ("made_at",)


class Threshing(Entry):
    """One run of the drum, from one rick or straight from the stooks."""

    class FireService(models.TextChoices):
        """Of a rick in danger: whether they were asked before it was opened."""

        ASKED = "asked", _("they were asked before it was opened")
        NOT_ASKED = "not_asked", _("it was opened without asking them")

    date = models.DateField(_("threshed on"))
    rick = models.ForeignKey(
        Rick, models.PROTECT, null=True, blank=True, related_name="threshings"
    )
    stook_set = perhaps_of("records.StookSet", _("stooks of"), "threshings")
    combed = models.BooleanField(_("combed"), default=True)
    smelt_of_fish = models.BooleanField(_("a fishy smell at the drum"), default=False)
    fire_service = models.CharField(
        _("the rick was hot: the fire service"),
        max_length=10,
        choices=FireService,
        blank=True,
    )

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
        return gettext("drum, %(day)s") % {"day": date_format(self.date, "j F Y")}


class Lot(Entry):
    class Kind(models.TextChoices):
        REED = "reed", _("combed reed")
        LONG_STRAW = "long_straw", _("long straw")
        GRAIN = "grain", _("grain")
        TAIL = "tail", _("tail corn")
        FLOUR = "flour", _("flour")
        BRAN = "bran", _("bran")

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


STRAW = (Lot.Kind.REED, Lot.Kind.LONG_STRAW)
"""Kinds of lot that are straw; the others are grain, and what was milled of it."""


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
