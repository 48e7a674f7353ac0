"""Buyers, what they want and looked at, orders, deliveries, and the papers issued.

A paper that was issued is never changed or removed, and papers of a kind are numbered
without a gap: the database keeps both (`sheafwright.records.triggers`).
"""

from decimal import Decimal

from django.core.validators import MinValueValidator, RegexValidator
from django.db import models
from django.utils.dates import MONTHS as MONTHS_OF_THE_YEAR
from django.utils.formats import date_format
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models.entry import PERCENT, Entry, between, perhaps_of
from sheafwright.records.models.store import Lot

NOTHING = Decimal(0)
MONTHS = tuple(MONTHS_OF_THE_YEAR.items())
CURRENCY = RegexValidator(
    r"^[A-Z]{3}$", _("A currency is three capitals, such as GBP or EUR.")
)


def currency_field():
    return models.CharField(
        _("currency"), max_length=3, default="GBP", validators=[CURRENCY]
    )


def money_field(label, **options):
    """To a thousandth, for currencies whose smallest coin is one."""
    return models.DecimalField(label, max_digits=14, decimal_places=3, **options)


def vat_field(label):
    return models.DecimalField(
        label, max_digits=5, decimal_places=2, validators=PERCENT
    )


class Bearing(models.TextChoices):
    """As `answers.order_loads` tells them apart."""

    N = "n", _("north")
    NE = "ne", _("north-east")
    E = "e", _("east")
    SE = "se", _("south-east")
    S = "s", _("south")
    SW = "sw", _("south-west")
    W = "w", _("west")
    NW = "nw", _("north-west")


class CurrencyRate(Entry):
    """What money other than pounds is worth, from a day on; the last said counts."""

    since = models.DateField(_("since"))
    currency = models.CharField(_("currency"), max_length=3, validators=[CURRENCY])
    pounds = models.DecimalField(
        _("what one of it is worth, £"),
        max_digits=14,
        decimal_places=8,
        validators=between(Decimal("0.00000001"), 10_000),
    )

    class Meta:
        ordering = ("since", "made_at")


class Letterhead(Entry):
    """What papers say of the holding; the last one written counts."""

    since = models.DateField(_("since"))
    name = models.CharField(_("name on papers"), max_length=120)
    address = models.CharField(_("address"), max_length=300)
    vat_number = models.CharField(_("VAT number, if any"), max_length=30, blank=True)
    country = models.CharField(_("country, two letters"), max_length=2, default="GB")
    pay_to = models.CharField(_("how you are paid"), max_length=300, blank=True)
    days_to_pay = models.PositiveSmallIntegerField(
        _("days to pay"), default=30, validators=between(0, 365)
    )

    class Meta:
        ordering = ("since", "made_at")


class Customer(Entry):
    """Who buys, whether they sign in or not."""

    class Trade(models.TextChoices):
        THATCHER = "thatcher", _("thatcher")
        MILLER = "miller", _("miller or baker")
        FARM = "farm", _("farm")
        OTHER = "other", _("somebody else")

    name = models.CharField(_("name"), max_length=120)
    trade = models.CharField(_("trade"), max_length=8, choices=Trade)
    address = models.CharField(_("address"), max_length=300, blank=True)
    email = models.EmailField(_("e-mail"), blank=True)
    telephone = models.CharField(_("telephone"), max_length=30, blank=True)
    vat_number = models.CharField(_("VAT number, if any"), max_length=30, blank=True)
    country = models.CharField(_("country, two letters"), max_length=2, default="GB")
    organic_reference = models.CharField(
        _("their organic certificate, if any"), max_length=80, blank=True
    )
    distance_km = models.FloatField(
        _("how far by road"), null=True, blank=True, validators=between(0, 2000)
    )
    bearing = models.CharField(
        _("in which direction"), max_length=2, choices=Bearing, blank=True
    )
    person = models.ForeignKey(
        "accounts.Person", models.PROTECT, null=True, blank=True, related_name="+"
    )
    """As whom they sign in, if they do."""

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("holding", "name"), name="one_customer_of_a_name"
            ),
        )
        ordering = ("name",)

    def __str__(self):
        return self.name


def customer_field(**options):
    return models.ForeignKey(
        Customer, models.PROTECT, verbose_name=_("buyer"), **options
    )


class Asked(models.Model):
    """What straw or grain is to be like."""

    kind = models.CharField(_("of what"), max_length=10, choices=Lot.Kind)
    least_length_cm = models.FloatField(
        _("shortest stem that will do"),
        null=True,
        blank=True,
        validators=between(20, 250),
    )
    grades = models.CharField(
        _("grades that will do; any if you don't say"),
        help_text=_('With commas between, such as "coatwork 1, ridge".'),
        max_length=120,
        blank=True,
    )
    varieties = models.CharField(
        _("varieties that will do; any if you don't say"),
        help_text=_("With commas between."),
        max_length=200,
        blank=True,
    )
    organic = models.BooleanField(_("organic alone"), default=False)
    most_lots = models.PositiveSmallIntegerField(
        _("of how many lots at most"), null=True, blank=True, validators=between(1, 20)
    )

    class Meta:
        abstract = True


class CustomerWants(Entry, Asked):
    """What a buyer likes, from a day on; the last of a kind counts."""

    customer = customer_field(related_name="wants")
    since = models.DateField(_("since"))
    first_refusal = models.BooleanField(_("has first refusal"), default=False)
    from_month = models.PositiveSmallIntegerField(
        _("delivered from this month on"), choices=MONTHS, null=True, blank=True
    )
    to_month = models.PositiveSmallIntegerField(
        _("and no later than in this month"), choices=MONTHS, null=True, blank=True
    )

    class Meta:
        ordering = ("since", "made_at")


class Visit(Entry):
    """A buyer looked at straw."""

    customer = customer_field(related_name="visits")
    date = models.DateField(_("date"))
    lot = perhaps_of(Lot, _("lot"), "visits")
    looked_at = models.CharField(_("what was looked at"), max_length=200)
    would_take_kg = models.FloatField(
        _("what they said they would take"),
        null=True,
        blank=True,
        validators=between(0, 1e6),
    )
    said = models.CharField(_("what they said"), max_length=300, blank=True)
    handful = models.CharField(
        _("where the kept handful is"), max_length=120, blank=True
    )

    class Meta:
        ordering = ("-date", "-made_at")


class RoofReport(Entry):
    """How straw lasted on a roof, as told years later."""

    class State(models.TextChoices):
        SOUND = "sound", _("sound")
        WORN = "worn", _("worn as its age says")
        POOR = "poor", _("worn before its time")
        GONE = "gone", _("taken off")

    customer = customer_field(related_name="roof_reports")
    lot = models.ForeignKey(Lot, models.PROTECT, related_name="roof_reports")
    date = models.DateField(_("seen on"))
    roof = models.CharField(_("which roof"), max_length=200)
    laid = models.PositiveSmallIntegerField(
        _("laid in the year"), validators=between(1800, 2200)
    )
    state = models.CharField(_("how it is"), max_length=6, choices=State)

    class Meta:
        ordering = ("-date",)


class Enquiry(Entry, Asked):
    """Somebody asks for straw or grain."""

    class Coat(models.TextChoices):
        """As `feeds.roof` calls work."""

        NEW = "new_coat", _("a new coat")
        OVER = "over_coat", _("a coat over the old one")

    customer = customer_field(related_name="enquiries")
    date = models.DateField(_("asked on"))
    weight_kg = models.FloatField(
        _("how much; from the roof, if you don't say"),
        null=True,
        blank=True,
        validators=between(1, 1e6),
    )
    squares = models.FloatField(
        _("squares of roof, each of 100 square feet"),
        null=True,
        blank=True,
        validators=between(0.1, 500),
    )
    coat = models.CharField(_("coat"), max_length=9, choices=Coat, blank=True)
    roof = models.CharField(_("which roof"), max_length=200, blank=True)
    roof_plan = models.JSONField(
        _("the roof as it was described"), null=True, blank=True
    )
    """As `feeds.roof.roof_said` has it: what a roof file says."""
    wanted_from = models.DateField(
        _("not wanted before, if there is a day"), null=True, blank=True
    )
    wanted_by = models.DateField(_("wanted by"), null=True, blank=True)

    class Meta:
        ordering = ("-date", "-made_at")

    def __str__(self):
        return _told(self)


class Terms(models.Model):
    """At what price, VAT and haulage."""

    price_per_t = money_field(
        _("price a tonne, without VAT"), validators=[MinValueValidator(0)]
    )
    vat_pct = vat_field(_("VAT on it, %"))
    haulage = money_field(
        _("haulage in all, without VAT"),
        default=NOTHING,
        validators=[MinValueValidator(0)],
    )
    haulage_vat_pct = models.DecimalField(
        _("VAT on haulage, %"),
        max_digits=5,
        decimal_places=2,
        default=NOTHING,
        validators=PERCENT,
    )
    currency = currency_field()

    class Meta:
        abstract = True


class Quotation(Entry, Terms):
    """An offer for what was asked about, open until a day."""

    enquiry = models.ForeignKey(
        Enquiry, models.PROTECT, verbose_name=_("enquiry"), related_name="quotations"
    )
    date = models.DateField(_("date"))
    weight_kg = models.FloatField(_("weight"), validators=between(1, 1e6))
    open_until = models.DateField(_("open until"))

    class Meta:
        ordering = ("-date", "-made_at")

    def __str__(self):
        return str(self.enquiry)


class Order(Entry, Asked, Terms):
    """What somebody takes and the holding promises."""

    customer = customer_field(related_name="orders")
    quotation = perhaps_of(Quotation, _("quotation"), "orders")
    date = models.DateField(_("ordered on"))
    weight_kg = models.FloatField(_("weight"), validators=between(1, 1e6))
    wanted_from = models.DateField(
        _("not wanted before, if there is a day"), null=True, blank=True
    )
    wanted_by = models.DateField(_("wanted by"), null=True, blank=True)
    whole = models.BooleanField(_("all of it or none"), default=False)
    roof = models.CharField(_("which roof"), max_length=200, blank=True)
    roof_plan = models.JSONField(
        _("the roof as it was described"), null=True, blank=True
    )
    """As an enquiry's; of an order that came of a quotation, the enquiry has it."""
    deliver_to = models.CharField(
        _("delivered to; the buyer's address if you don't say"),
        max_length=300,
        blank=True,
    )

    class Meta:
        ordering = ("-date", "-made_at")

    def __str__(self):
        return _told(self)


def _told(asked):
    """Who, what and when, as a form offers it."""
    day = date_format(asked.date, "j F Y")
    return f"{asked.customer}, {Lot.Kind(asked.kind).label}, {day}"


def order_field(**options):
    return models.ForeignKey(Order, models.PROTECT, verbose_name=_("order"), **options)


class OrderEnd(Entry):
    """An order is called off, or done though not all of it went."""

    order = order_field(related_name="ends")
    date = models.DateField(_("date"))
    why = models.CharField(_("why"), max_length=300)

    class Meta:
        ordering = ("date",)


class Reservation(Entry):
    """So much of a lot is kept for an order; the last word on a lot counts."""

    order = order_field(related_name="reservations")
    lot = models.ForeignKey(Lot, models.PROTECT, related_name="reservations")
    date = models.DateField(_("date"))
    weight_kg = models.FloatField(
        _("how much is kept; nothing lets it go"), validators=between(0, 1e6)
    )

    class Meta:
        ordering = ("date", "made_at")


class Delivery(Entry):
    """Part of an order, or all of it, goes out of one lot: a sale in the book."""

    order = order_field(related_name="deliveries")
    sale = models.OneToOneField(
        "records.Sale", models.PROTECT, related_name="delivery", editable=False
    )
    vehicle = models.CharField(_("driver and vehicle"), max_length=120, blank=True)

    class Meta:
        ordering = ("sale__date", "made_at")

    def __str__(self):
        return f"{self.sale}, {date_format(self.sale.date, 'j F Y')}"


class Returned(Entry):
    """Some of a delivery comes back to its lot."""

    delivery = models.ForeignKey(
        Delivery, models.PROTECT, verbose_name=_("delivery"), related_name="returns"
    )
    date = models.DateField(_("came back on"))
    weight_kg = models.FloatField(_("weight"), validators=between(0.001, 1e6))
    why = models.CharField(_("why"), max_length=300)

    class Meta:
        ordering = ("date", "made_at")


class Paper(Entry):
    """A paper as it was issued; never changed."""

    class Kind(models.TextChoices):
        QUOTATION = "quotation", _("quotation")
        ORDER = "order", _("order")
        DELIVERY = "delivery", _("delivery note")
        INVOICE = "invoice", _("invoice")
        CREDIT = "credit", _("credit note")
        GRAIN = "grain", _("grain note")
        ORGANIC = "organic", _("organic transaction statement")
        CERTIFICATE = "certificate", _("lot certificate")

    kind = models.CharField(_("paper"), max_length=11, choices=Kind)
    number = models.PositiveIntegerField()
    """Of its kind on its holding, from 1, without a gap."""
    date = models.DateField(_("issued on"))
    customer = customer_field(null=True, blank=True, related_name="papers")
    order = order_field(null=True, blank=True, related_name="papers")
    lot = models.ForeignKey(
        Lot, models.PROTECT, null=True, blank=True, related_name="papers"
    )
    corrects = perhaps_of("self", _("invoice"), "corrected_by")
    currency = currency_field()
    net = money_field(_("net"), default=NOTHING)
    vat = money_field(_("VAT"), default=NOTHING)
    gross = money_field(_("to pay"), default=NOTHING)
    said = models.JSONField()
    """All that it says, so that it can be printed again as it was."""

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("holding", "kind", "number"), name="one_paper_of_a_number"
            ),
        )
        ordering = ("-date", "-made_at")

    LETTERS = (
        ("quotation", "Q"),
        ("order", "O"),
        ("delivery", "D"),
        ("invoice", "I"),
        ("credit", "C"),
        ("grain", "G"),
        ("organic", "T"),
        ("certificate", "L"),
    )

    @property
    def code(self):
        """As it is printed: I-0012."""
        return f"{dict(self.LETTERS)[self.kind]}-{self.number:04d}"

    def __str__(self):
        return self.code


class Payment(Entry):
    """Money came for an invoice, or went back."""

    class Way(models.TextChoices):
        BANK = "bank", _("bank")
        CASH = "cash", _("cash")
        CHEQUE = "cheque", _("cheque")
        KIND = "kind", _("work or goods")

    invoice = models.ForeignKey(
        Paper, models.PROTECT, verbose_name=_("invoice"), related_name="payments"
    )
    date = models.DateField(_("paid on"))
    amount = money_field(_("amount"), validators=[MinValueValidator(0)])
    way = models.CharField(_("how"), max_length=6, choices=Way, default=Way.BANK)
    back = models.BooleanField(_("it went back to them"), default=False)

    class Meta:
        ordering = ("date", "made_at")
