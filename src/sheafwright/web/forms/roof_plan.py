"""The roof that an enquiry is for, as it was described on another page."""

import json

from django import forms
from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.html import format_html
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sheafwright.answers.roof import roof
from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.roof import roof_question, roof_said
from sheafwright.feeds.telling import first_sentence, joined, refusal
from sheafwright.records.selectors.orders import roof_of_quotation

MOST_LETTERS = 20_000


class RoofPlan(dict):
    """What a roof file says; written out, the size of that roof."""

    def __str__(self):
        return first_sentence(roof(_question(self)).sentence)[0]


def _question(plan):
    return roof_question(plan, _("The roof"))


class RoofPlanWidget(forms.Widget):
    """The size of the roof, carried along unseen; without one, the way to describe it.

    What is told of no roof is told by the squares and the coat.
    """

    use_fieldset = True

    def __init__(self, describe):
        super().__init__()
        self.describe = describe

    def render(self, name, value, attrs=None, renderer=None):
        told = _told(value)
        if not told:
            words = _("Describe the roof, and have it drawn")
            return format_html('<p><a href="{}">{}</a></p>', self.describe, words)
        return format_html(
            '<p>{}</p><input type="hidden" name="{}" value="{}">', told, name, value
        )


def _told(value):
    """Its size and what it takes, where the roof can be read."""
    try:
        return str(joined(*first_sentence(roof(_question(_read(value))).sentence)))
    except (SheafwrightError, ValueError):
        return ""


def _read(value):
    found = json.loads(value or "")
    if not isinstance(found, dict):
        raise ValueError
    return found


class RoofPlanField(forms.CharField):
    """JSON of a roof file's words, to those words as they are kept."""

    def clean(self, value):
        text = super().clean(value)
        if not text:
            return None
        try:
            return RoofPlan(roof_said(_question(_read(text))))
        except SheafwrightError as error:
            raise ValidationError(refusal(error)) from None
        except ValueError:
            raise ValidationError(_("Describe the roof anew.")) from None


def roof_plan_wanted(membership):
    """The field, where there has to be a roof."""
    return roof_plan(membership, required=True)


def roof_plan(membership, required=False):
    """The field, for a member of a holding."""
    describe = reverse("web:ask", args=[membership.holding.slug, "roof"])
    return RoofPlanField(
        label=gettext_lazy("the roof"),
        required=required,
        max_length=MOST_LETTERS,
        widget=RoofPlanWidget(describe),
    )


class OfAQuotation:
    """Of an order's form: a roof is not asked for that the enquiry described."""

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        holding, quotation = self.fields["quotation"].holding, self["quotation"].value()
        if not self["roof_plan"].value() and roof_of_quotation(holding, quotation):
            del self.fields["roof_plan"]


class RoofPart:
    """Of a form: where a roof was described, its squares and coat come from there."""

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        if self["roof_plan"].value():
            del self.fields["squares"], self.fields["coat"]
