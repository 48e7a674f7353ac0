"""What is asked of the seed and of its ground, whatever is to be known."""

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sheafwright.answers.sowing_question import SowingQuestion
from sheafwright.records.models import Field
from sheafwright.records.selectors.seed import lots_to_sow, seed_lot_tested
from sheafwright.records.selectors.stand import SEEDBEDS
from sheafwright.web.asks.ask import choice, day, number

KIND = Field.SoilKind
SOILS = [
    (kind.value, kind.label)
    for kind in (KIND.MEDIUM, KIND.LIGHT, KIND.DEEP_SILT, KIND.DEEP_CLAY)
]
AFTER = (
    ("other", gettext_lazy("anything else")),
    ("oats", gettext_lazy("oats")),
    ("beans", gettext_lazy("beans")),
)
TILLERING = (("free", gettext_lazy("freely")), ("shy", gettext_lazy("little")))


def _seed_lot(membership):
    return forms.ModelChoiceField(
        lots_to_sow(holding=membership.holding),
        label=_("seed lot"),
        required=False,
        empty_label=_("none: it is typed below"),
    )


SEED = {
    "seed_lot": _seed_lot,
    "weight": number(
        gettext_lazy("weight of a thousand grains, g"),
        required=False,
        help_text=gettext_lazy("If the lot doesn't tell, or to try another."),
    ),
    "germination": number(
        gettext_lazy("of 100 seeds, so many come up"),
        required=False,
        help_text=gettext_lazy("By its test, if the lot doesn't tell."),
    ),
    "sown": day(gettext_lazy("to be sown on")),
    "soil": choice(gettext_lazy("kind of soil"), SOILS),
}
GROUND = {
    "after": choice(gettext_lazy("after"), AFTER),
    "tillering": choice(gettext_lazy("the variety tillers"), TILLERING),
    "established": number(
        gettext_lazy("of 100 live seeds, so many make a plant"),
        required=False,
        help_text=gettext_lazy("As your own counts have it; else by soil and date."),
    ),
}


def _tested(seed_lot, weight, germination):
    """What is known of the seed: as it was typed, else by the lot's tests."""
    share = None if germination is None else germination / 100
    if None not in (weight, share):
        return weight, share
    if seed_lot is None:
        raise ValidationError(
            {
                "seed_lot": _(
                    "Choose a seed lot, or type what a thousand grains weigh and how "
                    "many of 100 come up."
                )
            }
        )
    return seed_lot_tested(seed_lot, weight, share)


def sowing_question(seed_lot, weight, germination, soil, established, **said):
    weight, germination = _tested(seed_lot, weight, germination)
    return SowingQuestion(
        thousand_grain_weight=weight,
        germination=germination,
        soil=SEEDBEDS[soil],
        establishment=None if established is None else established / 100,
        **said,
    )
