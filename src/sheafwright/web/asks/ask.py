"""What a question asked on the spot is, and the fields that it is asked with."""

import dataclasses
from collections.abc import Callable

from django import forms
from django.utils.translation import gettext as _

from sheafwright.feeds import telling
from sheafwright.web.forms.fields import QuantityField, date_widget
from sheafwright.web.sheets import Section


@dataclasses.dataclass(frozen=True)
class Told:
    """An answer as the page shows it."""

    answer: str
    odds: str = ""
    sections: tuple[Section, ...] = ()


@dataclasses.dataclass(frozen=True)
class Ask:
    """One question: its words, its fields, and who answers."""

    title: str
    fields: dict[str, Callable]
    """Name to what makes the field for a membership."""
    more: dict[str, Callable]
    """Those that most leave alone."""
    tell: Callable
    """From the membership, and what was said in the fields, to `Told`."""
    care: str = ""
    """The usual caution, before anything is done: marked words."""
    rows: Callable | None = None
    """From what was typed to further folds: summary to fields, such as a row for each
    thing of which there may be several."""
    drawing: Callable | None = None
    """Makes an SVG that shows what the fields mean."""
    beside: tuple[str, ...] = ()
    """Names of questions that ask the same of something else."""
    short: str = ""
    """What this one is called among those."""

    @property
    def cautions(self):
        """As they are told to whoever reads now."""
        return [telling.told(self.care)] if self.care else []

    def folds(self, typed):
        """Summary and fields of each fold, by what was typed before."""
        yield from [(_("More"), self.more)] if self.more else []
        yield from self.rows(typed).items() if self.rows else []

    def form_class(self, membership, typed=()):
        makes = dict(self.fields)
        for _summary, more in self.folds(typed):
            makes |= more
        fields = {name: make(membership) for name, make in makes.items()}
        return type("Form", (forms.Form,), fields)


def quantity(name, label, required=True, **options):
    return lambda membership: QuantityField(
        quantity=name,
        family=membership.person.units,
        label=label,
        required=required,
        **options,
    )


def number(label, required=True, **options):
    return lambda membership: forms.FloatField(
        label=label, required=required, **options
    )


def choice(label, choices, required=True):
    """The first is the usual one."""
    return lambda membership: forms.ChoiceField(
        label=label, choices=choices, initial=choices[0][0], required=required
    )


def day(label):
    return lambda membership: forms.DateField(label=label, widget=date_widget())


def told(answer, *sections):
    """`Told` from an answer of the engine's, its first sentence before the others."""
    return Told(*telling.first_sentence(answer.sentence), sections)
