"""Every question that a page answers as soon as it is asked, and keeps nothing of."""

import dataclasses
from collections.abc import Callable

from django import forms
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext_lazy as _

from sheafwright.answers.sowing import SowingQuestion, sowing
from sheafwright.records.models import Field, SeedLot
from sheafwright.records.selectors.seed import seed_lot_tested
from sheafwright.web.forms.fields import QuantityField, date_widget
from sheafwright.web.sheets import Action, Section

SOWN_ON = {
    Field.SoilKind.LIGHT: "sand",
    Field.SoilKind.MEDIUM: "loam",
    Field.SoilKind.DEEP_SILT: "loam",
    Field.SoilKind.DEEP_CLAY: "clay",
}
"""Kind of soil to what it is to a seedling."""
PURPOSES = (
    ("straw", _("thatching straw")),
    ("grain", _("grain")),
    ("seed", _("seed, from a little")),
)
AFTER = (("other", _("anything else")), ("oats", _("oats")), ("beans", _("beans")))


@dataclasses.dataclass(frozen=True)
class Told:
    """An answer as the page shows it."""

    answer: str
    sections: tuple[Section, ...] = ()


@dataclasses.dataclass(frozen=True)
class Ask:
    """One question: its words, its fields, and who answers."""

    title: str
    fields: dict[str, Callable]
    """Name to what makes the field for a membership."""
    tell: Callable
    """From what was said in the fields to `Told`."""

    def form_class(self, membership):
        fields = {name: make(membership) for name, make in self.fields.items()}
        return type("Form", (forms.Form,), fields)


def quantity(name, label, required=True):
    return lambda membership: QuantityField(
        quantity=name, family=membership.person.units, label=label, required=required
    )


def number(label, required=True, **limits):
    return lambda membership: forms.FloatField(label=label, required=required, **limits)


def choice(label, choices):
    return lambda membership: forms.ChoiceField(label=label, choices=choices)


def day(label):
    return lambda membership: forms.DateField(label=label, widget=date_widget())


def _seed_lot(membership):
    lots = SeedLot.objects.filter(holding=membership.holding)
    return forms.ModelChoiceField(
        lots, label=_("seed lot"), empty_label=_("Which one?")
    )


def _seed_rate(seed_lot, soil, **said):
    weight, germination = seed_lot_tested(seed_lot)
    answer = sowing(
        SowingQuestion(
            thousand_grain_weight=weight,
            germination=germination,
            soil=SOWN_ON[soil],
            **said,
        )
    )
    return Told(answer.sentence, (Section(working=answer.working),))


ASKS = {
    "seed-rate": Ask(
        _("How thick shall I sow?"),
        {
            "seed_lot": _seed_lot,
            "sown": day(_("to be sown on")),
            "row_spacing": quantity("spacing", _("between rows")),
            "soil": choice(_("kind of soil"), Field.SoilKind.choices),
            "after": choice(_("after"), AFTER),
            "purpose": choice(_("for"), PURPOSES),
            "area": quantity("area", _("area"), required=False),
            "rate": quantity("rate", _("a rate you have in mind"), required=False),
        },
        _seed_rate,
    ),
}


def ask_action(request, question, **given):
    """A button to a question, some of its fields filled in."""
    url = reverse("web:ask", args=[request.membership.holding.slug, question])
    query = f"?{urlencode(given)}" if given else ""
    return Action(ASKS[question].title, url + query)
