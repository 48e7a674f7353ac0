"""Grain dried, dressed, looked at in store and milled; flour bagged; what is owed.

What a thing weighs is in the material book; here is what was done, and to which lot.
"""

from django.core.validators import MinValueValidator
from django.db import models
from django.utils.formats import date_format
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import PERCENT, Entry, between, perhaps_of
from sheafwright.records.models.store import Lot


def lot_field(label, related_name):
    return models.ForeignKey(
        Lot, models.PROTECT, verbose_name=label, related_name=related_name
    )


def weight_field(label, required=False, **options):
    empty = {} if required else {"null": True, "blank": True}
    return models.FloatField(label, validators=between(0.001, 1e6), **empty, **options)


def moisture_field(label):
    return models.FloatField(label, validators=between(5, 60))


class Drying(Entry):
    """Grain of a lot dried; it stays the same lot, and what it loses is water."""

    class How(models.TextChoices):
        FLOOR = "floor", _("spread and turned")
        AIR = "air", _("air blown through it")
        DRYER = "dryer", _("in a dryer")

    lot = lot_field(_("lot"), "dryings")
    date = models.DateField(_("dried on"))
    how = models.CharField(_("how"), max_length=6, choices=How)
    moisture_before_pct = moisture_field(_("moisture before, %"))
    moisture_after_pct = moisture_field(_("moisture after, %"))
    weight_kg = weight_field(_("how much was dried; all of it if you don't say"))
    after_kg = weight_field(_("its weight after, if you weighed it"))

    class Meta:
        ordering = ("date", "made_at")


class Dressing(Entry):
    """Grain of a lot cleaned: what is clean, and what became of the screenings."""

    class To(models.TextChoices):
        KEPT = "kept", _("kept, as a lot of tail corn")
        FED = "fed", _("fed")
        AWAY = "away", _("thrown away")

    lot = lot_field(_("lot"), "dressings")
    date = models.DateField(_("dressed on"))
    machine = models.CharField(_("on what"), max_length=120, blank=True)
    weight_kg = weight_field(_("how much went through; all of it if you don't say"))
    clean_kg = weight_field(_("clean grain"), required=True)
    clean_code = models.CharField(
        _("its new lot; it stays the same lot if you don't say"),
        max_length=20,
        blank=True,
    )
    screenings_kg = weight_field(_("screenings, if you weighed them"))
    screenings_to = models.CharField(_("screenings were"), max_length=4, choices=To)
    screenings_code = models.CharField(
        _("their lot, if they were kept"), max_length=20, blank=True
    )

    class Meta:
        ordering = ("date", "made_at")


class StoreCheck(Entry):
    """Somebody looked at grain or flour in its store."""

    class Found(models.TextChoices):
        NOTHING = "nothing", _("nothing amiss")
        INSECTS = "insects", _("insects or mites")
        VERMIN = "vermin", _("droppings or gnawing")
        MUSTY = "musty", _("a musty smell, or caking")
        WET = "wet", _("drips or wet walls")

    lot = lot_field(_("lot"), "store_checks")
    date = models.DateField(_("date"))
    where = models.CharField(_("where it lies"), max_length=80)
    temperature_c = models.FloatField(
        _("temperature"), null=True, blank=True, validators=between(-20, 80)
    )
    moisture_pct = models.FloatField(
        _("moisture, %"), null=True, blank=True, validators=between(5, 60)
    )
    found = models.CharField(_("found"), max_length=7, choices=Found)

    class Meta:
        ordering = ("date", "made_at")


class Flour(models.TextChoices):
    """As `feeds.grain` calls kinds of flour."""

    WHOLEMEAL = "wholemeal", _("wholemeal")
    BROWN = "brown", _("brown flour")
    STONE_WHITE = "stone_white", _("white flour from stones")
    WHITE = "white", _("white flour from rollers")


class Milling(Entry):
    """One run of a mill: grain of one lot to flour, bran and loss."""

    lot = lot_field(_("grain lot"), "millings")
    date = models.DateField(_("milled on"))
    flour = models.CharField(_("milled to"), max_length=11, choices=Flour)
    miller = perhaps_of(
        "records.Certificate",
        _("miller, by certificate; your own mill if you don't say"),
        "millings",
    )
    uncertified_miller = models.CharField(
        _("a miller without an organic certificate"), max_length=120, blank=True
    )
    cleaned_first = models.BooleanField(
        _("the mill was cleaned or flushed first"), default=False
    )
    weight_kg = weight_field(
        _("grain milled; all that is at the mill, or else all of the lot")
    )
    flour_kg = weight_field(_("flour"), required=True)
    flour_code = models.CharField(_("flour: its lot"), max_length=20)
    bran_kg = weight_field(_("bran and middlings"))
    bran_code = models.CharField(_("bran: its lot"), max_length=20, blank=True)
    added = models.CharField(
        _("what was added to the flour, as the miller says"),
        help_text=_("As calcium carbonate, iron, niacin, thiamin."),
        max_length=120,
        blank=True,
    )

    class Meta:
        ordering = ("date", "made_at")


class FlourBags(Entry):
    """Bags filled of a lot of flour or bran; they stay the lot, and no weight moves."""

    lot = lot_field(_("lot"), "bag_fillings")
    date = models.DateField(_("filled on"))
    bags = models.PositiveIntegerField(_("bags"), validators=between(1, 100_000))
    bag_kg = weight_field(_("weight of each"), required=True)
    best_before = models.DateField(_("best before"))

    class Meta:
        ordering = ("date", "made_at")


class FlourCheck(Entry):
    """Something that comes before flour is sold is done, or no longer is."""

    class What(models.TextChoices):
        """As `answers.grain_wording` tells them."""

        REGISTERED = "registered", _("food business registered")
        HYGIENE = "hygiene", _("hygiene plan written")
        FLOUR_RULES = "flour_rules", _("flour rules asked about")
        MILLER = "miller", _("miller's organic certificate kept")
        LABEL = "label", _("label complete, wheat in bold")
        WEIGHTS = "weights", _("scales and weights right")
        POISONS = "poisons", _("lot tested for mould poisons and ergot")
        INSURED = "insured", _("insured for what is eaten")

    what = models.CharField(_("what"), max_length=11, choices=What)
    done = models.BooleanField(_("it is done"), default=True)
    date = models.DateField(_("date"))
    who = models.CharField(_("by whom"), max_length=80)
    until = models.DateField(_("holds until, if it ends"), null=True, blank=True)

    class Meta:
        ordering = ("date", "made_at")


class GrainTerms(Entry):
    """A buyer's terms for milling wheat, from a day on; the last ones count."""

    customer = perhaps_of(
        "records.Customer", _("buyer; your usual terms if you don't say"), "grain_terms"
    )
    since = models.DateField(_("since"))
    price = models.DecimalField(
        _("£ a tonne at full quality"),
        max_digits=7,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(0)],
    )
    moisture_most_pct = models.FloatField(
        _("moisture: full price up to, %"),
        null=True,
        blank=True,
        validators=between(5, 30),
    )
    moisture_refused_pct = models.FloatField(
        _("moisture: refused above, %"),
        null=True,
        blank=True,
        validators=between(5, 30),
    )
    moisture_off = models.FloatField(
        _("£ a tonne off for each 1% of moisture over"),
        null=True,
        blank=True,
        validators=between(0, 500),
    )
    protein_full_pct = models.FloatField(
        _("protein: full price from, %"),
        null=True,
        blank=True,
        validators=between(4, 25),
    )
    protein_least_pct = models.FloatField(
        _("protein: refused below, %"), null=True, blank=True, validators=between(4, 25)
    )
    protein_off = models.FloatField(
        _("£ a tonne off for each 1% of protein short"),
        null=True,
        blank=True,
        validators=between(0, 500),
    )
    hagberg_full_s = models.FloatField(
        _("falling number: full price from, s"),
        null=True,
        blank=True,
        validators=between(60, 600),
    )
    hagberg_least_s = models.FloatField(
        _("falling number: refused below, s"),
        null=True,
        blank=True,
        validators=between(60, 600),
    )
    hagberg_off = models.FloatField(
        _("£ a tonne off for each second short"),
        null=True,
        blank=True,
        validators=between(0, 50),
    )
    weight_full_kg_per_hl = models.FloatField(
        _("bushel weight: full price from"),
        null=True,
        blank=True,
        validators=between(40, 95),
    )
    weight_least_kg_per_hl = models.FloatField(
        _("bushel weight: refused below"),
        null=True,
        blank=True,
        validators=between(40, 95),
    )
    weight_off = models.FloatField(
        _("£ a tonne off for each kg/hl short"),
        null=True,
        blank=True,
        validators=between(0, 500),
    )
    admixture_most_pct = models.FloatField(
        _("admixture: refused above, %"), null=True, blank=True, validators=PERCENT
    )

    class Meta:
        ordering = ("since", "made_at")

    def __str__(self):
        return str(self.customer or gettext("your usual terms"))


class SeedLoan(Entry):
    """Seed that somebody lent, and how much grain goes back to them for it."""

    seed_lot = models.ForeignKey(
        "records.SeedLot",
        models.PROTECT,
        verbose_name=_("seed lot"),
        related_name="loans",
    )
    lender = models.CharField(_("lent by"), max_length=120)
    date = models.DateField(_("lent on"))
    lent_kg = weight_field(_("lent"), required=True)
    owed_kg = weight_field(_("to go back to them"), required=True)
    back_by = models.DateField(_("wanted back by"), null=True, blank=True)

    class Meta:
        ordering = ("date", "made_at")

    def __str__(self):
        return f"{self.lender}, {date_format(self.date, 'j F Y')}"
