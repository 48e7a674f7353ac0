"""The form of any entry: fields of its model, and what its service wants besides."""

import uuid

from django import forms
from django.db import models
from django.forms.models import fields_for_model
from django.utils.translation import gettext_lazy as _

from sheafwright.records.clock import now, today
from sheafwright.records.models.entry import Entry
from sheafwright.web.forms.fields import (
    QuantityField,
    date_widget,
    moment_widget,
    quantity_of,
)


class EntryForm(forms.Form):
    """Carries the entry's own id, so that sent twice it is written once."""

    id = forms.UUIDField(widget=forms.HiddenInput)

    def said(self):
        """What goes to the service."""
        return dict(self.cleaned_data)


def form_class(kind, membership):
    """The class of a kind of entry's form, for a member of a holding."""
    fields = fields_for_model(
        kind.model,
        fields=kind.fields,
        formfield_callback=lambda field, **options: _field(
            field, membership.person.units, options
        ),
    )
    fields |= {name: make(membership) for name, make in kind.more.items()}
    if "note" in fields:
        fields["note"] = fields.pop("note")
    for field in fields.values():
        _offer(field, membership.holding)
    bases = (*kind.mixins, EntryForm)
    return type("Form", bases, dict(fields))


def initial(kind, membership, given):
    """What a fresh form begins with: a new id, today, and what the address names."""
    fields = form_class(kind, membership).base_fields
    begun = {"id": uuid.uuid4()}
    for name, field in fields.items():
        if isinstance(field, forms.DateTimeField):
            begun[name] = now(membership.holding)
        elif isinstance(field, forms.DateField) and field.required:
            begun[name] = today(membership.holding)
    return begun | {name: given[name] for name in given if name in fields}


def _offer(field, holding):
    """Offer only what is the holding's own; where nothing is chosen, ask in words."""
    blank = _("Which one?") if field.required else _("not said")
    if isinstance(field, forms.ModelChoiceField):
        # A stock or a person offered is the holding's already.
        if issubclass(field.queryset.model, Entry):
            # What a choice is called names the things behind it, too.
            field.queryset = field.queryset.filter(holding=holding).select_related()
        field.empty_label = blank
    elif isinstance(field, forms.ChoiceField) and ("", "---------") in field.choices:
        field.choices = [("", blank), *field.choices[1:]]


def _field(field, family, options):
    quantity = quantity_of(field.name)
    if quantity:
        return QuantityField(
            quantity=quantity,
            family=family,
            label=field.verbose_name,
            required=not field.blank,
        )
    if isinstance(field, models.DateTimeField):
        options["widget"] = moment_widget()
    elif isinstance(field, models.DateField):
        options["widget"] = date_widget()
    return field.formfield(**options)
