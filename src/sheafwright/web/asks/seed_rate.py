"""How thick shall I sow?"""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sheafwright.answers.sowing import sowing
from sheafwright.feeds.units import in_unit
from sheafwright.web.asks.ask import Ask, choice, quantity, told
from sheafwright.web.asks.seed import GROUND, SEED, sowing_question
from sheafwright.web.sheets import Section
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import kg

PURPOSES = (
    ("straw", gettext_lazy("thatching straw")),
    ("grain", gettext_lazy("grain")),
    ("seed", gettext_lazy("seed, from a little")),
)


def _seed_rate(membership, **said):
    answer = sowing(sowing_question(**said))
    table = Table(
        (Column(_("To be sown")), Column(_("So much"), True)),
        (
            (_("Kilograms to the hectare"), f"{answer.rate:.0f}"),
            *(
                (name, f"{in_unit(answer.rate, 'rate', unit):.{decimals}f}")
                for name, unit, decimals in (
                    (_("Hundredweights to the acre"), "cwt/acre", 2),
                    (_("Stones to the acre"), "st/acre", 1),
                )
            ),
            (_("Seeds to the m²"), f"{answer.seeds:.0f}"),
            (_("Seeds to a metre of row"), f"{answer.seeds_in_row:.0f}"),
            (_("Plants to the m² that should come"), f"{answer.plants:.0f}"),
            *(_ready(answer, membership.person.units) if answer.seed else ()),
        ),
    )
    return told(answer, Section(table=table, working=answer.working))


def _ready(answer, units):
    return (
        (_("Seed to have ready"), kg(answer.seed, units)),
        (
            _("Sacks of %(sack)s") % {"sack": kg(answer.sack, units)},
            f"{answer.sacks:,}",
        ),
        (_("Grain to keep back for next year"), kg(answer.keep_back, units)),
    )


SEED_RATE = Ask(
    gettext_lazy("How thick shall I sow?"),
    {
        **SEED,
        "row_spacing": quantity("spacing", gettext_lazy("between rows")),
        "purpose": choice(gettext_lazy("for"), PURPOSES),
        "area": quantity("area", gettext_lazy("area"), required=False),
    },
    {
        **GROUND,
        "rate": quantity(
            "rate", gettext_lazy("a rate you have in mind"), required=False
        ),
        "sack": quantity("mass", gettext_lazy("seed in one sack"), required=False),
    },
    _seed_rate,
)
