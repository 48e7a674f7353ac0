"""Money spent: what was bought or paid for, and what of it was struck out again.

What was written stays: who wrote it wrong strikes it out, says why, and writes anew.
"""

from decimal import Decimal

from django.core.validators import MinValueValidator
from django.db import models
from django.utils.formats import date_format
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import Entry, between, perhaps_of

NOTHING = Decimal(0)


def pounds_field(label, **options):
    """To the penny: the budget and the hours that it stands beside are in pounds."""
    return models.DecimalField(
        label,
        max_digits=10,
        decimal_places=2,
        validators=[MinValueValidator(0)],
        **options,
    )


class Purchase(Entry):
    """Something bought or paid for."""

    class Line(models.TextChoices):
        """Those of the budget, by its own names, and what no budget of a crop has."""

        SEED = "seed", _("seed")
        CONTRACTOR = "contractor", _("contractor")
        HIRE = "hire", _("hire of machines")
        FUEL = "fuel", _("fuel")
        TWINE = "twine", _("twine")
        REPAIRS = "repairs", _("spares and repairs")
        STORAGE = "storage", _("storage")
        HAULAGE = "haulage", _("haulage")
        CERTIFICATION = "certification", _("certificate")
        INSURANCE = "insurance", _("insurance")
        INTEREST = "interest", _("interest on what was borrowed")
        RENT = "rent", _("rent")
        MACHINE = "machine", _("a machine that was bought")
        OTHER = "other", _("something else")

    date = models.DateField(_("date"))
    line = models.CharField(_("what for"), max_length=13, choices=Line)
    what = models.CharField(_("what was bought or paid for"), max_length=200)
    supplier = models.CharField(_("from whom"), max_length=120)
    net = pounds_field(_("£ without VAT"))
    vat = pounds_field(_("VAT on it, £"), default=NOTHING, blank=True)
    vat_back = models.BooleanField(_("the VAT is claimed back"), default=False)
    """Else it is a cost like the rest."""
    sowing = perhaps_of("records.Sowing", _("field"), "purchases")
    lot = perhaps_of("records.Lot", _("lot"), "purchases")
    harvest_year = models.PositiveSmallIntegerField(
        _("for which harvest; by its date if you don't say"),
        null=True,
        blank=True,
        validators=between(1800, 2200),
    )
    photo = models.FileField(_("photo of the bill"), upload_to="photos", blank=True)

    class Meta:
        ordering = ("date", "made_at")

    @property
    def cost(self):
        """What it cost in the end. [£]"""
        return self.net + (NOTHING if self.vat_back else self.vat)

    def __str__(self):
        return f"{self.what}, {self.supplier}, {date_format(self.date, 'j F Y')}"


class PurchaseStruck(Entry):
    """A purchase was written wrong: it counts no more."""

    purchase = models.OneToOneField(
        Purchase,
        models.PROTECT,
        verbose_name=_("what was bought"),
        related_name="struck",
    )
    date = models.DateField(_("date"))
    why = models.CharField(_("why"), max_length=300)

    class Meta:
        ordering = ("date", "made_at")
