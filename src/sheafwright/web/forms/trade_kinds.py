"""Kinds of entry about buyers, orders, deliveries and the papers that go with them."""

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from sheafwright.accounts.rights import Right
from sheafwright.answers.order_loads import CAUTION
from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.units import parse
from sheafwright.records import models
from sheafwright.records.models import Paper
from sheafwright.records.selectors.oversell import oversold_by
from sheafwright.web.forms.grain_kinds import of_the_flour
from sheafwright.web.forms.kind import Kind, choice, date, mass, member, model_of, why
from sheafwright.web.forms.roof_plan import (
    OfAQuotation,
    RoofPart,
    roof_plan,
    roof_plan_wanted,
)

ASKED = ("least_length_cm", "grades", "varieties", "organic", "most_lots")
TERMS = ("price_per_t", "vat_pct", "haulage", "haulage_vat_pct", "currency")
VAT_AS_TOLD = _(
    "What VAT is due on straw, grain and haulage, your accountant or tax office says."
)
OF_A_DELIVERY = [
    (kind.value, kind.label)
    for kind in (Paper.Kind.CERTIFICATE, Paper.Kind.ORGANIC, Paper.Kind.GRAIN)
]


def _invoices(membership):
    invoices = Paper.objects.filter(holding=membership.holding, kind=Paper.Kind.INVOICE)
    return forms.ModelChoiceField(invoices, label=_("invoice"))


def one_buyer(membership):
    """For every buyer, or for one by name."""
    names = models.Customer.objects.filter(holding=membership.holding)
    names = list(names.values_list("name", flat=True))
    return forms.ChoiceField(
        choices=[("", _("every buyer")), *((name, name) for name in names)],
        label=_("for one buyer alone"),
        required=False,
    )


def _money(label, required=False):
    return lambda membership: forms.DecimalField(
        label=label, required=required, min_value=0, max_digits=14, decimal_places=3
    )


def _worth_in_pounds(membership):
    return forms.DecimalField(
        label=_("what one of it is worth, £"),
        help_text=_(
            "Such as 0.86 for a euro. Orders are weighed by it; papers stay in their "
            "own money."
        ),
        min_value=0,
        max_value=10_000,
        max_digits=14,
        decimal_places=8,
    )


def _percent(label):
    return lambda membership: forms.DecimalField(
        label=label, required=False, min_value=0, max_value=100, decimal_places=2
    )


def _name_of_roof(membership):
    return forms.CharField(
        label=_("which roof; as before, if you don't say"),
        required=False,
        max_length=200,
    )


def _count(label):
    return lambda membership: forms.IntegerField(
        label=label, required=False, min_value=1, max_value=1_000_000
    )


def _of_the_order(holding, said):
    """What promising this would leave unkept, before it is promised."""
    try:
        kg = parse(said.get("weight_kg") or "", "mass", "metric")
        kind = said.get("kind") or ""
        return oversold_by(holding=holding, kind=kind, kg=kg)
    except (SheafwrightError, ValidationError):
        # The form itself says what is wrong with what was typed.
        return []


TRADE_KINDS = {
    "letterhead": Kind(
        _("What your papers say of you"), models.Letterhead, "trade:letterhead_write",
        (
            "since", "name", "address", "country", "vat_number", "pay_to",
            "days_to_pay", "note",
        ),
        "orders", Right.RUN,
    ),
    "currency-rate": Kind(
        _("What other money is worth"), models.CurrencyRate,
        "trade:currency_rate_say", ("currency", "since", "pounds", "note"), "orders",
        Right.RUN, {"pounds": _worth_in_pounds},
    ),
    "customer": Kind(
        _("Add a buyer"), models.Customer, "trade:customer_add",
        (
            "name", "trade", "address", "country", "email", "telephone", "vat_number",
            "organic_reference", "distance_km", "bearing", "note",
        ),
        "orders", Right.RUN, {"person": member},
    ),
    "customer-wants": Kind(
        _("What a buyer likes"), models.CustomerWants, "trade:customer_wants_say",
        (
            "customer", "since", "kind", *ASKED, "first_refusal", "from_month",
            "to_month", "note",
        ),
        "orders", Right.RUN,
    ),
    "visit": Kind(
        _("A buyer looked at straw"), models.Visit, "trade:visit_record",
        (
            "customer", "date", "lot", "looked_at", "would_take_kg", "said", "handful",
            "note",
        ),
        "orders", Right.RUN,
    ),
    "roof-report": Kind(
        _("How straw lasted on a roof"), models.RoofReport, "trade:roof_report_record",
        ("customer", "lot", "date", "roof", "laid", "state", "note"),
        "orders", Right.RUN,
    ),
    "enquiry": Kind(
        _("Somebody asks for straw or grain"), models.Enquiry, "trade:enquiry_record",
        (
            "customer", "date", "kind", "weight_kg", "squares", "coat", "roof_plan",
            "roof", "wanted_from", "wanted_by", *ASKED, "note",
        ),
        "orders", Right.RUN, {"roof_plan": roof_plan}, (RoofPart,),
        folded=("wanted_from", *ASKED[1:], "note"),
    ),
    "enquiry-roof": Kind(
        _("Describe an enquiry's roof anew"), models.Enquiry,
        "trade:enquiry_roof_anew", ("note",), "orders", Right.RUN,
        {
            "enquiry": model_of(models.Enquiry, _("enquiry")),
            "plan": roof_plan_wanted,
            "roof": _name_of_roof,
            "kg": mass(_("how much; from the roof, if you don't say"), required=False),
            "why": why,
        },
        corrects="enquiry",
    ),
    "quotation": Kind(
        _("Quote for what was asked about"), models.Quotation, "trade:quotation_make",
        ("enquiry", "date", "open_until", "weight_kg", *TERMS, "note"),
        "orders", Right.RUN, care=VAT_AS_TOLD,
    ),
    "order": Kind(
        _("Take an order"), models.Order, "trade:order_take",
        (
            "quotation", "customer", "date", "kind", "weight_kg", *TERMS, "wanted_from",
            "wanted_by", *ASKED, "whole", "roof_plan", "roof", "deliver_to", "note",
        ),
        "orders", Right.RUN, {"roof_plan": roof_plan}, (OfAQuotation,),
        care=VAT_AS_TOLD, warns=_of_the_order,
        folded=(
            "currency", "wanted_from", *ASKED[1:], "whole", "roof_plan", "roof",
            "deliver_to", "note",
        ),
    ),
    "order-end": Kind(
        _("Close an order"), models.OrderEnd, "trade:order_end",
        ("order", "date", "why", "note"), "orders", Right.RUN,
    ),
    "reservation": Kind(
        _("Keep some of a lot for an order, or let it go"), models.Reservation,
        "trade:reserve", ("order", "lot", "date", "weight_kg", "note"),
        "orders", Right.RUN,
    ),
    "delivery": Kind(
        _("Deliver for an order"), models.Delivery, "trade:delivery_record",
        ("order", "vehicle", "note"), "orders", Right.RUN,
        {
            "lot": model_of(models.Lot, _("lot")),
            "date": date(_("date")),
            "kg": mass(_("weight")),
            "bundles": _count(_("bundles")),
        },
        care=_(CAUTION), warns=of_the_flour,
    ),
    "return": Kind(
        _("Some of a delivery comes back"), models.Returned, "trade:return_record",
        ("delivery", "date", "weight_kg", "why", "note"), "orders", Right.RUN,
    ),
    "invoice": Kind(
        _("Invoice what was delivered"), models.Paper, "papers:invoice_issue",
        ("date", "note"), "orders", Right.RUN,
        {"order": model_of(models.Order, _("order"))},
    ),
    "credit-note": Kind(
        _("Correct an invoice by a credit note"), models.Paper,
        "papers:credit_note_issue", ("date", "note"), "orders", Right.RUN,
        {
            "invoice": _invoices,
            "net": _money(_("how much without VAT; all of it if you don't say")),
            "vat_pct": _percent(_("at which of its VAT rates, %")),
            "why": why,
        },
    ),
    "lot-paper": Kind(
        _("A certificate, statement or grain note for a delivery"), models.Paper,
        "papers:lot_paper_issue", ("date", "note"), "orders", Right.RUN,
        {
            "delivery": model_of(models.Delivery, _("delivery")),
            "kind": choice(_("paper"), OF_A_DELIVERY, required=True),
        },
    ),
    "payment": Kind(
        _("Money came in"), models.Payment, "trade:payment_record",
        ("date", "amount", "way", "back", "note"), "orders", Right.RUN,
        {"invoice": _invoices},
    ),
}  # fmt: skip
