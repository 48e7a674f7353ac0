"""The material book: double entry in whole grams, written once.

A movement is written last, after its lines: the database lets it in only if they
balance, and lets no line in, and nothing be changed, after it. So an entry is whole or
it is not there. `sheafwright.records.triggers` says these rules to the database.
"""

import uuid

from django.db import models
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import Entry


class Place(models.Model):
    """Somewhere that material can be, or have come from, or gone to."""

    class Kind(models.TextChoices):
        GROWN = "grown", _("grown")
        BOUGHT = "bought", _("bought in")
        STANDING = "standing", _("standing crop")
        STOOKS = "stooks", _("stooks")
        RICK = "rick", _("rick")
        DRUM = "drum", _("at the drum")
        LOT = "lot", _("lot")
        MILL = "mill", _("at the mill")
        SOLD = "sold", _("sold")
        SEED = "seed", _("used as seed")
        FED = "fed", _("fed")
        OWED = "owed", _("owed to the seed's owner")
        WATER = "water", _("lost: water")
        VERMIN = "vermin", _("lost: vermin")
        SHED = "shed", _("lost: shed")
        FIRE = "fire", _("lost: fire")
        SPOILED = "spoiled", _("lost: spoiled")
        WASTE = "waste", _("cavings and waste")
        SCREENINGS = "screenings", _("lost: screenings")
        MILLING = "milling", _("lost: at the stones")
        UNEXPLAINED = "unexplained", _("lost: unexplained")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    holding = models.ForeignKey(
        "accounts.Holding", models.PROTECT, related_name="places"
    )
    kind = models.CharField(max_length=12, choices=Kind)
    subject = models.UUIDField()
    """Which sowing, stook set, rick, threshing, lot or sale; or the holding."""

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("holding", "kind", "subject"),
                name="one_place_of_a_kind_and_subject",
            ),
        )
        # Most questions begin with lots, whose places they then look for.
        indexes = (models.Index(fields=("subject",), name="place_of_a_subject"),)

    def __str__(self):
        # As `get_kind_display`, which translates every kind to say one.
        return str(self.Kind(self.kind).label)


SOURCES = (Place.Kind.GROWN, Place.Kind.BOUGHT)
"""Places that give more than they ever took."""
LOSSES = (
    Place.Kind.WATER,
    Place.Kind.VERMIN,
    Place.Kind.SHED,
    Place.Kind.FIRE,
    Place.Kind.SPOILED,
    Place.Kind.WASTE,
    Place.Kind.SCREENINGS,
    Place.Kind.MILLING,
    Place.Kind.UNEXPLAINED,
)


class Movement(Entry):
    class Kind(models.TextChoices):
        GROW = "grow", _("crop expected")
        CUT = "cut", _("cut and stooked")
        CART = "cart", _("carted")
        THRESH = "thresh", _("threshed")
        DRY = "dry", _("dried")
        DRESS = "dress", _("dressed")
        MILL = "mill", _("milled")
        SELL = "sell", _("sold")
        KEEP_SEED = "keep_seed", _("kept or used as seed")
        FEED = "feed", _("fed")
        GIVE_BACK = "give_back", _("given to the seed's owner")
        LOSE = "lose", _("lost")
        BUY = "buy", _("bought in")
        MOVE = "move", _("moved")
        ADJUST = "adjust", _("adjusted to what was weighed")
        REVERSE = "reverse", _("undone")

    kind = models.CharField(max_length=10, choices=Kind)
    date = models.DateField(_("date"))
    subject = models.UUIDField(null=True, blank=True)
    """The cut, threshing, sale or loss that it writes down."""
    reverses = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="reversed_by"
    )
    seq = models.PositiveBigIntegerField()
    """Its number in the holding's book, from 1."""
    made_at = models.DateTimeField(editable=False)
    """The moment of ``said_at``: not the database's own, so that the seal covers it."""
    said_at = models.CharField(max_length=32)
    """When it was written, exactly as it was sealed. [ISO 8601, UTC]"""
    previous_seal = models.CharField(max_length=64)
    seal = models.CharField(max_length=64)
    """SHA-256 of the previous seal and of all that this movement says."""

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=("holding", "seq"), name="no_gap_to_fill"),
        )
        indexes = (models.Index(fields=("holding", "date")),)
        ordering = ("seq",)

    def __str__(self):
        return f"{self.seq}: {self.Kind(self.kind).label}"


class Line(models.Model):
    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    movement = models.ForeignKey(Movement, models.PROTECT, related_name="lines")
    place = models.ForeignKey(Place, models.PROTECT, related_name="lines")
    grams = models.BigIntegerField()
    """Given to the place; less than nothing if taken from it."""
    moisture_pct = models.DecimalField(
        max_digits=4, decimal_places=1, null=True, blank=True
    )
    estimated = models.BooleanField(default=False)

    class Meta:
        constraints = (
            models.CheckConstraint(condition=~models.Q(grams=0), name="no_empty_line"),
            models.CheckConstraint(
                condition=models.Q(moisture_pct__isnull=True)
                | models.Q(moisture_pct__gte=0, moisture_pct__lt=100),
                name="moisture_is_a_share",
            ),
        )


class Balance(models.Model):
    """What is in a place. Kept by the database itself, line by line."""

    place = models.OneToOneField(
        Place, models.PROTECT, primary_key=True, related_name="balance"
    )
    grams = models.BigIntegerField(default=0)
    may_be_negative = models.BooleanField(default=False)

    class Meta:
        constraints = (
            models.CheckConstraint(
                condition=models.Q(grams__gte=0) | models.Q(may_be_negative=True),
                name="never_below_nothing",
            ),
        )


class ToSettle(Entry):
    """A late entry that did not fit the book, kept as it came until it is settled."""

    what = models.CharField(max_length=40)
    """The service it was for."""
    said = models.JSONField()
    why = models.CharField(max_length=300)
    settled_at = models.DateTimeField(null=True, blank=True)
    settled_by = models.ForeignKey(
        "accounts.Person", models.PROTECT, null=True, blank=True, related_name="+"
    )
    how = models.CharField(_("how it was settled"), max_length=300, blank=True)

    class Meta:
        ordering = ("made_at",)
