"""How long until a little seed is enough?"""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sheafwright.answers.seed_increase import IncreaseQuestion, seed_increase
from sheafwright.feeds.telling import joined
from sheafwright.web.asks.ask import Ask, quantity, told
from sheafwright.web.asks.seed import GROUND, SEED, sowing_question
from sheafwright.web.sheets import Section
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import area, kg, odds

USUAL_ROWS = 12.5
"""Nothing of how seed increases rests on the rows. [cm]"""


def _increase(membership, seed, area, land, **said):
    lot = sowing_question(row_spacing=USUAL_ROWS, **said)
    answer = seed_increase(IncreaseQuestion(seed=seed, area=area, lot=lot, land=land))
    years = answer.to_json()["by_year"]
    return told(
        answer,
        Section(
            table=_years(years, membership.person.units) if years else None,
            working=answer.working,
        ),
        Section(heading=_("Keep it true"), sentence=joined(*answer.rogueing)),
        Section(care=answer.cautions),
    )


def _years(years, units):
    columns = (
        Column(_("When")),
        Column(_("Sow"), True),
        Column(_("On"), True),
        Column(_("Keep back"), True),
        Column(_("Other plants in 100 m², at most"), True),
        Column(_("Enough after it")),
    )
    rows = tuple(
        (
            _("Year %(number)d") % {"number": year["year"]},
            kg(year["sown_p50_kg"], units),
            area(year["area_p50_ha"], units),
            kg(year["kept_p50_kg"], units),
            f"{year['off_types_per_100_m2']:.0f}",
            odds(year["chance_enough_after"]),
        )
        for year in years
    )
    return Table(columns, rows, _("As years go, half better and half worse"))


SEED_INCREASE = Ask(
    gettext_lazy("Enough seed from a little"),
    {
        "seed": quantity("mass", gettext_lazy("seed in hand")),
        "area": quantity("area", gettext_lazy("area to be sown one day")),
        **SEED,
    },
    {
        **GROUND,
        "land": quantity(
            "area",
            gettext_lazy("most ground for it in a year"),
            required=False,
        ),
    },
    _increase,
)
