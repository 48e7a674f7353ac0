"""The day's small entries: losses, readings, hours, sales; where weather is from."""

from django.core.validators import MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import Entry, between, perhaps_of
from sheafwright.records.models.material import LOSSES


class Loss(Entry):
    class By(models.TextChoices):
        ROOKS = "rooks", _("rooks")
        DEER = "deer", _("deer")
        RATS = "rats", _("rats")
        RAIN = "rain", _("rain")
        WIND = "wind", _("wind")
        FIRE = "fire", _("fire")
        UNKNOWN = "unknown", _("not known")

    date = models.DateField(_("date"))
    by = models.CharField(_("by"), max_length=8, choices=By)
    counted_as = models.CharField(
        _("counted as"), max_length=12, choices=[(k.value, k.label) for k in LOSSES]
    )
    sowing = perhaps_of("records.Sowing", _("field"), "losses")


class GaugeReading(Entry):
    date = models.DateField(_("date"))
    rain_mm = models.FloatField(
        _("rain"), null=True, blank=True, validators=between(0, 500)
    )
    tmin_c = models.FloatField(
        _("lowest"), null=True, blank=True, validators=between(-40, 45)
    )
    tmax_c = models.FloatField(
        _("highest"), null=True, blank=True, validators=between(-40, 50)
    )

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("holding", "date"), name="one_gauge_reading_a_day"
            ),
        )
        ordering = ("date",)


class Task(models.TextChoices):
    """Of the year's work; cutting is with stooking, threshing with combing."""

    SOWING = "sowing", _("ground and sowing")
    WEEDING = "weeding", _("weeding")
    CUTTING = "cutting", _("cutting and stooking")
    CARTING = "carting", _("carting and ricks")
    THRESHING = "threshing", _("threshing and combing")
    STRAW = "straw", _("straw: bundles, loading, selling")
    GRAIN = "grain", _("grain: cleaning, milling, selling")
    UPKEEP = "upkeep", _("machines and buildings")
    OTHER = "other", _("something else")


class Labour(Entry):
    class Owed(models.TextChoices):
        NONE = "none", _("nothing owed")
        TO_THEM = "to_them", _("we owe them the time")
        TO_US = "to_us", _("they owe us the time")

    date = models.DateField(_("date"))
    who = models.CharField(_("who"), max_length=80)
    hours = models.FloatField(_("hours"), validators=between(0.1, 24))
    job = models.CharField(_("at what"), max_length=120)
    task = models.CharField(_("task"), max_length=10, choices=Task, blank=True)
    """Blank where nobody said, as before tasks were kept."""
    sowing = perhaps_of("records.Sowing", _("field"), "labour")
    lot = perhaps_of("records.Lot", _("lot"), "labour")
    """That it was done to; what the drum gave on a day shares the day's threshing."""
    owed = models.CharField(
        _("between neighbours"), max_length=8, choices=Owed, default=Owed.NONE
    )

    class Meta:
        ordering = ("date",)


class LabourRate(Entry):
    """What an hour costs from a day on; the one that says most of who and at what."""

    since = models.DateField(_("since"))
    who = models.CharField(
        _("whose hours; everybody's if you don't say"), max_length=80, blank=True
    )
    task = models.CharField(
        _("at which task; any if you don't say"),
        max_length=10,
        choices=Task,
        blank=True,
    )
    rate = models.DecimalField(
        _("£ an hour"),
        max_digits=6,
        decimal_places=2,
        validators=between(0, 500),
    )

    class Meta:
        ordering = ("since", "made_at")


class Sale(Entry):
    date = models.DateField(_("sold on"))
    lot = models.ForeignKey("records.Lot", models.PROTECT, related_name="sales")
    buyer_name = models.CharField(_("to whom"), max_length=120)
    buyer = models.ForeignKey(
        "accounts.Person", models.PROTECT, null=True, blank=True, related_name="bought"
    )
    bundles = models.PositiveIntegerField(_("bundles"), null=True, blank=True)
    price = models.DecimalField(
        _("price in all"),
        max_digits=10,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(0)],
    )

    class Meta:
        ordering = ("date", "made_at")

    def __str__(self):
        return f"{self.lot} to {self.buyer_name}"


class WeatherSource(Entry):
    """The record that the holding's answers are worked out from."""

    name = models.CharField(_("name"), max_length=120)
    record = models.FileField(_("weather record"), upload_to="weather")
    columns = models.FileField(_("columns file"), upload_to="weather", blank=True)
    forecast = models.FileField(_("forecast"), upload_to="weather", blank=True)
    since = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("-since",)

    def __str__(self):
        return self.name
