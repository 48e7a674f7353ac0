"""The form of any entry: fields of its model, and what its service wants besides."""

import uuid

from django import forms
from django.core.exceptions import ValidationError
from django.db import models
from django.forms.models import ModelChoiceIterator, fields_for_model
from django.utils.translation import gettext_lazy as _

from sheafwright.feeds.units import show
from sheafwright.records.clock import now, today
from sheafwright.records.models.entry import Entry
from sheafwright.records.selectors.in_hand import of_late
from sheafwright.web.forms.fields import (
    QuantityField,
    date_widget,
    moment_widget,
    quantity_of,
)


class Offered(ModelChoiceIterator):
    """What is in hand or of late, and what is chosen; older things are taken, too."""

    def __iter__(self):
        field = self.field
        late = of_late(field.queryset, holding=field.holding)
        self.queryset = late | field.queryset.filter(pk__in=_ids(field.chosen))
        return super().__iter__()


def _ids(said):
    """The id that was said; none, if it isn't one."""
    try:
        return [uuid.UUID(str(said))]
    except ValueError:
        return []


CALLED = {
    "field": _("Field"),
    "seed lot": _("Seed lot"),
    "grown as": _("Grown as"),
    "derogation": _("Derogation"),
    "contractor": _("Contractor"),
    "rick": _("Rick"),
    "lot": _("Lot"),
}
"""Things that a column names by itself, as a form calls them."""


class EntryForm(forms.Form):
    """Carries the entry's own id, so that sent twice it is written once."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    folded = ()
    """Names of fields that stand behind a word."""

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        for name, field in self.fields.items():
            if isinstance(field, forms.ModelChoiceField):
                field.chosen = self[name].value()

    def first_fields(self):
        """Those that stand open."""
        return [f for f in self.visible_fields() if f.name not in self.folded]

    def folded_fields(self):
        """The others."""
        return [f for f in self.visible_fields() if f.name in self.folded]

    def is_said_behind(self):
        """Whether the fold has anything to be read or put right."""
        usual = (None, "", False)
        return any(
            f.errors or f.value() not in (*usual, f.field.initial)
            for f in self.folded_fields()
        )

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
    if kind.corrects:
        fields = _facts(kind, fields)
    if "note" in fields:
        fields["note"] = fields.pop("note")
    for field in fields.values():
        _offer(field, membership.holding)
    bases = (*kind.mixins, EntryForm)
    return type("Form", bases, {**fields, "folded": kind.folded})


def _facts(kind, fields):
    """The thing first, and no fact required: what isn't changed is not said again."""
    thing = fields.pop(kind.corrects)
    for field in kind.model._meta.fields:
        if field.name in fields and field.name != "note":
            fields[field.name].required = False
            # Sent back with the form, it tells what was changed there.
            fields[field.name].show_hidden_initial = True
    return {kind.corrects: thing, **fields}


def _as_it_is(kind, membership, fields, id):
    """The facts of a thing as they now are; none, if there is no such thing."""
    try:
        thing = kind.model.objects.get(holding=membership.holding, pk=id)
    except (ValidationError, kind.model.DoesNotExist):
        return {}
    facts = [name for name, field in fields.items() if field.show_hidden_initial]
    said = {n: kind.model._meta.get_field(n).value_from_object(thing) for n in facts}
    for name in (n for n in facts if quantity_of(n) and said[n] is not None):
        shown = show(said[name], quantity_of(name), membership.person.units)
        said[name] = shown.replace("\u00a0", " ")
    return said | {kind.corrects: thing.pk}


def initial(kind, membership, fields, given):
    """What a fresh form begins with: a new id, today, and what the address names."""
    begun = {"id": uuid.uuid4()}
    if kind.corrects:
        more = {name: given[name] for name in given if name in kind.more}
        as_it_is = _as_it_is(kind, membership, fields, given.get(kind.corrects))
        return begun | more | as_it_is
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
            field.iterator, field.holding = Offered, holding
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
    if field.verbose_name in CALLED:
        options["label"] = CALLED[field.verbose_name]
    return field.formfield(**options)
