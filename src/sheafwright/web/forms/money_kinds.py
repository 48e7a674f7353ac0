"""Kinds of entry about money spent."""

from django.utils.translation import gettext_lazy as _

from sheafwright.accounts.rights import Right
from sheafwright.records import models
from sheafwright.web.forms.kind import Kind

MONEY_KINDS = {
    "purchase": Kind(
        _("Money spent"), models.Purchase, "money:purchase_record",
        (
            "date", "line", "what", "supplier", "net", "vat", "vat_back", "sowing",
            "lot", "harvest_year", "photo", "note",
        ),
        "money", Right.RUN,
    ),
    "purchase-strike": Kind(
        _("Strike out money that was written wrong"), models.PurchaseStruck,
        "money:purchase_strike", ("purchase", "date", "why", "note"), "money",
        Right.RUN,
    ),
}  # fmt: skip
