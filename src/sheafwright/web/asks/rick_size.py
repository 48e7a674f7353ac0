"""Will the sheaves fit the rick, or the bay?"""

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sheafwright.answers.rick_size import CAUTION, Bay, Oblong, Round, rick_size
from sheafwright.web.asks.ask import Ask, choice, quantity, told
from sheafwright.web.sheets import Section

ROUND, GABLED, HIPPED, BAY = "round", "gabled", "hipped", "bay"
SHAPES = (
    (ROUND, gettext_lazy("a round rick")),
    (GABLED, gettext_lazy("an oblong rick, gabled")),
    (HIPPED, gettext_lazy("an oblong rick, sloped all round")),
    (BAY, gettext_lazy("a bay of a barn")),
)
BUILT = (
    ("", gettext_lazy("as is usual")),
    ("tight", gettext_lazy("well trodden")),
    ("loose", gettext_lazy("loosely")),
)


def _rick_size(membership, shape, length, width, eaves, top, built, **said):
    answer = rick_size(
        _shape(shape, length, width, eaves, top),
        tight={"tight": True, "loose": False}.get(built),
        **said,
    )
    return told(answer, Section(working=answer.working))


def _shape(shape, length, width, eaves, top):
    if shape == BAY:
        _want("width", width)
        return Bay(length, width, eaves)
    _want("top", top)
    if shape == ROUND:
        return Round(length, eaves, top)
    _want("width", width)
    return Oblong(length, width, eaves, top, hipped=shape == HIPPED)


def _want(name, size):
    if size is None:
        raise ValidationError({name: _("Such a shape wants this size, too.")})


RICK_SIZE = Ask(
    gettext_lazy("Will the sheaves fit?"),
    {
        "sheaves": lambda membership: forms.IntegerField(label=gettext_lazy("sheaves")),
        "shape": choice(gettext_lazy("they go to"), SHAPES),
        "length": quantity("distance", gettext_lazy("length, or width of a round one")),
        "width": quantity(
            "distance", gettext_lazy("width, unless it is round"), required=False
        ),
        "eaves": quantity("distance", gettext_lazy("height to the eaves")),
        "top": quantity(
            "distance",
            gettext_lazy("height of the top above them, unless it is a bay"),
            required=False,
        ),
    },
    {
        "kg_per_sheaf": quantity(
            "mass", gettext_lazy("weight of a sheaf"), required=False
        ),
        "built": lambda membership: forms.ChoiceField(
            label=gettext_lazy("built"), choices=BUILT, required=False
        ),
    },
    _rick_size,
    care=CAUTION,
)
