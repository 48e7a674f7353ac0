"""In what order are the stooks carted, by other hands and carts than usual?"""

from django import forms
from django.utils.translation import gettext_lazy

from sheafwright.answers.carting import CAUTION, carting
from sheafwright.records.selectors.carting import carting_asked
from sheafwright.web.asks.ask import Ask, told
from sheafwright.web.carting import carting_section


def _carting(membership, hands, carts):
    asked, _sets = carting_asked(holding=membership.holding, hands=hands, carts=carts)
    answer = carting(asked)
    return told(answer, *([carting_section(answer)] if answer.sets else ()))


def _whole(label):
    return lambda membership: forms.IntegerField(label=label, required=False)


CARTING = Ask(
    gettext_lazy("Carting with other hands and carts"),
    {
        "hands": _whole(gettext_lazy("hands that come")),
        "carts": _whole(gettext_lazy("carts")),
    },
    {},
    _carting,
    care=CAUTION,
)
