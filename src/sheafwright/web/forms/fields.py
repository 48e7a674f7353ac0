"""Fields for what a person types: quantities in any unit, and counts."""

import re

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.telling import refusal, shown
from sheafwright.feeds.units import QUANTITIES, parse, usual_unit
from sheafwright.records.models import Place
from sheafwright.records.selectors.stock import stock_now

QUANTITY_OF_SUFFIX = {
    "_kg_per_ha": "rate",
    "_kg_per_hl": "specific_weight",
    "_ha": "area",
    "_kg": "mass",
    "_km": "way",
    "_mm": "depth",
    "_cm": "height",
    "_c": "temperature",
    "_m": "distance",
}


def quantity_of(name):
    """The quantity that a field of this name holds; None for a bare number."""
    ends = (q for suffix, q in QUANTITY_OF_SUFFIX.items() if name.endswith(suffix))
    return next(ends, None)


class QuantityField(forms.CharField):
    """Text such as ``2.5 acres``, to a number in the inside unit."""

    def __init__(self, *, quantity, family, **options):
        self.quantity, self.family = quantity, family
        options.setdefault(
            "help_text",
            _("In %(unit)s, or with its unit, such as %(example)s.")
            % {
                "unit": usual_unit(quantity, family),
                "example": QUANTITIES[quantity].example,
            },
        )
        super().__init__(**options)
        self.widget.attrs.update({"inputmode": "text", "autocomplete": "off"})

    def clean(self, value):
        text = super().clean(value)
        return self.number(text) if text else None

    def number(self, text):
        try:
            return parse(text, self.quantity, self.family)
        except SheafwrightError as error:
            raise ValidationError(refusal(error)) from None


class QuantitiesField(QuantityField):
    """Several, such as ``510 498 505 g``: the last one's unit serves those without."""

    BETWEEN = re.compile(r";\s*|,\s+|\s+(?=[\d.])")
    UNIT = re.compile(r"[a-z]+\.?$", re.IGNORECASE)

    def __init__(self, *, quantity, family, **options):
        options["help_text"] = _(
            "In %(unit)s with spaces between, or with a unit, such as 510 498 505 g."
        ) % {"unit": usual_unit(quantity, family)}
        super().__init__(quantity=quantity, family=family, **options)

    def clean(self, value):
        text = forms.CharField.clean(self, value)
        parts = list(filter(None, self.BETWEEN.split(text)))
        units = [found[0] for found in map(self.UNIT.search, parts) if found]
        last = units[-1] if units else ""
        return [
            self.number(part if self.UNIT.search(part) else f"{part} {last}")
            for part in parts
        ]


class CountsField(forms.CharField):
    """Counts such as ``84 79 88 81``."""

    def clean(self, value):
        text = super().clean(value)
        try:
            return [int(count) for count in text.replace(",", " ").split()]
        except ValueError:
            raise ValidationError(
                _("Counts should be whole numbers with spaces between, as 84 79 88 81.")
            ) from None


class BytesField(forms.FileField):
    """An uploaded file as its bytes."""

    def clean(self, data, initial=None):
        file = super().clean(data, initial)
        return file.read() if file else None


class StockField(forms.ModelChoiceField):
    """A place that holds something, by the name of what is there."""

    KINDS = (
        *(Place.Kind.STANDING, Place.Kind.STOOKS, Place.Kind.RICK),
        *(Place.Kind.DRUM, Place.Kind.LOT, Place.Kind.MILL),
    )

    def __init__(self, *, holding, **options):
        held = stock_now(holding=holding, kinds=self.KINDS)
        self.names = {each.place.pk: each for each in held}
        places = Place.objects.filter(pk__in=self.names)
        super().__init__(places, **options)

    def label_from_instance(self, place):
        stock = self.names[place.pk]
        return f"{stock.name} ({place}, {shown(stock.kg, 'mass')})"


def date_widget():
    return forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")


def moment_widget():
    return forms.DateTimeInput(
        attrs={"type": "datetime-local"}, format="%Y-%m-%dT%H:%M"
    )
