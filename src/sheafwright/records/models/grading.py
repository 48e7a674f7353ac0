"""How straw is graded: by hand, by its stems, by the holding's own rules; bundles."""

from django.core.exceptions import ValidationError
from django.db import models
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import Entry, between
from sheafwright.records.models.store import Lot
from sheafwright.records.models.tracing import Tracing


class Use(models.TextChoices):
    """What straw is wanted for, best first; as `feeds.grades` has them."""

    COATWORK = "coatwork", _("coatwork")
    RIDGE = "ridge", _("ridge")
    LONG_STRAW = "long_straw", _("long straw")


class HandGrade(Entry):
    """A handful, twisted: what it was found to be; the engine says what it is fit for.

    What somebody says that it is fit for, they know better.
    """

    class Twist(models.TextChoices):
        HELD = "held", _("it held")
        SOME_BROKE = "some_broke", _("some of it broke")
        BROKE = "broke", _("it broke")

    class Colour(models.TextChoices):
        BRIGHT = "bright", _("bright")
        DULL = "dull", _("dull")
        GREY = "grey", _("grey on one side")
        BLACK = "black", _("black or spotted")

    class Smell(models.TextChoices):
        SWEET = "sweet", _("sweet")
        MUSTY = "musty", _("musty")

    class Stems(models.TextChoices):
        STRAIGHT = "straight", _("straight and whole")
        DOG_LEGGED = "dog_legged", _("dog-legged")
        CRUSHED = "crushed", _("crushed or split")
        GREEN = "green", _("green butts or weeds among them")

    lot = models.ForeignKey(Lot, models.PROTECT, related_name="hand_grades")
    date = models.DateField(_("date"))
    twist = models.CharField(
        _("a handful, twisted"), max_length=10, choices=Twist, default=Twist.HELD
    )
    colour = models.CharField(_("colour"), max_length=10, choices=Colour, blank=True)
    smell = models.CharField(_("smell"), max_length=10, choices=Smell, blank=True)
    stems = models.CharField(_("stems"), max_length=10, choices=Stems, blank=True)
    length_cm = models.FloatField(
        _("length of most"), null=True, blank=True, validators=between(20, 250)
    )
    fit_for = models.CharField(
        _("fit for, if you know better"), max_length=10, choices=Use, blank=True
    )

    class Meta:
        ordering = ("date", "made_at")


class GradeRule(Entry):
    """What the holding, or one buyer, asks of a use's stems; the last written counts.

    What is left out is as the tables have it.
    """

    use = models.CharField(_("for"), max_length=10, choices=Use)
    buyer_name = models.CharField(_("for one buyer alone"), max_length=120, blank=True)
    length_least_cm = models.FloatField(
        _("shortest stem"), null=True, blank=True, validators=between(10, 250)
    )
    length_most_cm = models.FloatField(
        _("longest stem"), null=True, blank=True, validators=between(10, 300)
    )
    butt_least_mm = models.FloatField(
        _("thinnest butt"), null=True, blank=True, validators=between(0, 25)
    )
    butt_most_mm = models.FloatField(
        _("thickest butt"), null=True, blank=True, validators=between(0, 25)
    )
    bends_most = models.FloatField(
        _("most bends in a stem"), null=True, blank=True, validators=between(0, 50)
    )
    damage_most = models.FloatField(
        _("most damaged parts of a stem"),
        null=True,
        blank=True,
        validators=between(0, 50),
    )
    first_pct = models.FloatField(
        _("stems within the rule for grade 1, %"),
        null=True,
        blank=True,
        validators=between(5, 99.5),
    )
    second_pct = models.FloatField(
        _("stems within the rule for grade 2, %"),
        null=True,
        blank=True,
        validators=between(5, 99.5),
    )

    class Meta:
        ordering = ("made_at",)


class Bundles(Entry):
    """Bundles tied of a lot, counted as they are tied; fewer than none put one back."""

    class Tied(models.TextChoices):
        SMALL = "small", _("bundle of 14 lb")
        NITCH = "nitch", _("nitch of 28 lb")
        TRUSS = "truss", _("truss of 36 lb")
        OWN = "own", _("the buyer's own")

    lot = models.ForeignKey(Lot, models.PROTECT, related_name="tallies")
    date = models.DateField(_("date"))
    count = models.IntegerField(_("bundles"), validators=between(-1000, 100_000))
    tied_as = models.CharField(_("tied as"), max_length=6, choices=Tied, blank=True)
    girth_cm = models.FloatField(
        _("girth of one at its band"),
        null=True,
        blank=True,
        validators=between(15, 200),
    )
    bundle_kg = models.FloatField(
        _("weight of one"), null=True, blank=True, validators=between(0.3, 60)
    )
    moisture_pct = models.FloatField(
        _("moisture"), null=True, blank=True, validators=between(3, 60)
    )

    class Meta:
        ordering = ("date", "made_at")

    def clean(self):
        if self.count == 0:
            raise ValidationError(
                {"count": _("No bundles were counted; say how many were tied.")}
            )


class StemSample(Entry):
    """Stems of a lot, measured: rows as `feeds.stems` reads them.

    Those of photographs say besides which photo they are on, and under which number.
    """

    lot = models.ForeignKey(Lot, models.PROTECT, related_name="stem_samples")
    date = models.DateField(_("date"))
    bundle = models.PositiveIntegerField(
        _("number of the bundle that they are from"),
        null=True,
        blank=True,
        validators=between(1, 1_000_000),
    )
    stems = models.JSONField()
    tracing = models.OneToOneField(
        Tracing,
        models.PROTECT,
        null=True,
        blank=True,
        editable=False,
        related_name="sample",
    )

    class Meta:
        ordering = ("date", "made_at")
