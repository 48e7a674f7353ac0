"""A kind of entry, and what makes the fields of its form."""

import dataclasses
import importlib
from collections.abc import Callable

from django import forms
from django.utils.translation import gettext_lazy as _

from sheafwright.accounts.models import Person
from sheafwright.accounts.rights import Right
from sheafwright.web.forms.fields import QuantityField, date_widget


@dataclasses.dataclass(frozen=True)
class Kind:
    """One kind of entry."""

    title: str
    model: type
    service: str
    """``module:function`` under `sheafwright.records.services`."""
    fields: tuple[str, ...]
    """Of the model."""
    page: str
    """Where to go when it is written."""
    right: Right = Right.DO_WORK
    more: dict[str, Callable] = dataclasses.field(default_factory=dict)
    """Name to what makes the field for a membership."""
    mixins: tuple[type, ...] = ()
    care: str = ""
    """The usual caution."""
    warns: Callable | None = None
    """From the holding and what is said of the entry so far to what stands against it,
    in sentences."""
    corrects: str = ""
    """Name of the thing whose facts it puts right."""
    then: Callable | None = None
    """What is worked out anew of the holding before the next page is shown; what it
    gives back, if anything, is told at once."""

    folded: tuple[str, ...] = ()
    """Fields that a long form keeps behind a word, until something is said there."""
    goes: Callable | None = None
    """From what was said to the page to go to, where not always to the same."""

    def page_after(self, said):
        return self.goes(said) if self.goes else self.page

    @property
    def cautions(self):
        return [self.care] if self.care else []

    def warnings(self, holding, said):
        return self.warns(holding, said) if self.warns else []

    def write(self, **said):
        module, name = self.service.split(":")
        found = importlib.import_module(f"sheafwright.records.services.{module}")
        return getattr(found, name)(**said)


def mass(label, required=True):
    return lambda membership: QuantityField(
        quantity="mass",
        family=membership.person.units,
        label=label,
        required=required,
    )


def date(label):
    return lambda membership: forms.DateField(label=label, widget=date_widget())


def choice(label, choices, required=False):
    listed = [("", _("not said")), *choices] if not required else choices
    return lambda membership: forms.ChoiceField(
        label=label, choices=listed, required=required
    )


def member(membership):
    """Who has something to do with the holding."""
    people = Person.objects.filter(memberships__holding=membership.holding)
    return forms.ModelChoiceField(
        people, label=_("if they sign in here, as whom"), required=False
    )


def why(membership):
    return forms.CharField(label=_("why"), max_length=300)


def model_of(model, label, required=True):
    return lambda membership: forms.ModelChoiceField(
        model.objects.filter(holding=membership.holding), label=label, required=required
    )
