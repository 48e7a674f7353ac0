"""Sell the grain, mill it, feed it, give it back, or keep it for seed?"""

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sheafwright.answers.budget_wording import pence
from sheafwright.answers.grain import GrainQuestion, grain_choice
from sheafwright.answers.grain_wording import FOOD_CARE, WAYS
from sheafwright.answers.prices import per_weight
from sheafwright.core.money.pence import pence_of
from sheafwright.feeds import telling
from sheafwright.feeds.telling import capital, say
from sheafwright.web.asks.ask import Ask, choice, number, quantity, told
from sheafwright.web.sheets import Section
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import kg

KINDS = (
    ("wholemeal", gettext_lazy("wholemeal")),
    ("brown", gettext_lazy("brown flour")),
    ("stone_white", gettext_lazy("white flour from stones")),
    ("white", gettext_lazy("white flour from rollers")),
)


def _percent(label, required=False):
    return number(label, required=required, min_value=0, max_value=100)


def _pounds(label):
    return lambda membership: forms.FloatField(
        label=label, required=False, min_value=0, help_text=_("If you know it.")
    )


def _choose(membership, moisture, seed, owed, **said):
    answer = grain_choice(
        GrainQuestion(moisture=moisture / 100, seed=seed or 0, owed=owed or 0, **said)
    )
    units = membership.person.units
    return told(
        answer,
        Section(table=_ways(answer, units), working=answer.working),
        Section(
            heading=_("Dressed, dried and shared out"),
            table=_heap(answer, units),
            sentence=_("Dressing and drying cost %(gbp)s, whatever becomes of it.")
            % {"gbp": pence(pence_of(answer.getting_ready))},
        ),
        Section(
            heading=_("Before flour is sold"),
            more=tuple(telling.told(step.says) for step in answer.checklist),
            working=answer.checklist,
        ),
        Section(care=answer.cautions[:1]),
    )


def _ways(answer, units):
    columns = (
        Column(_("Way")),
        Column(_("Grain"), True),
        Column(_("Brings"), True),
        Column(_("Costs"), True),
        Column(_("Leaves"), True),
        Column(_("Each"), True),
    )
    rows = tuple(
        (
            capital(say(WAYS[way.name])),
            kg(1000 * way.tonnes, units),
            pence(pence_of(way.brings)),
            pence(pence_of(way.costs)),
            pence(pence_of(way.brings) - pence_of(way.costs)),
            per_weight(way.each),
        )
        for way in answer.ways
    )
    return Table(columns, rows, _("What the grain that is left would bring"))


def _heap(answer, units):
    columns = (Column(_("What")), Column(_("Weight"), True))
    named = (
        (_("Screenings"), answer.heap.screenings),
        (_("Clean and dry"), answer.heap.dry),
        (_("Back to the seed's owner"), answer.heap.owed),
        (_("Kept to sow"), answer.heap.seed),
        (_("Left"), answer.heap.left),
    )
    return Table(columns, tuple((name, kg(mass, units)) for name, mass in named))


GRAIN_CHOICE = Ask(
    gettext_lazy("What becomes of the grain?"),
    {
        "mass": quantity("mass", gettext_lazy("grain, as it lies")),
        "moisture": _percent(gettext_lazy("its moisture, %"), required=True),
        "protein": _percent(gettext_lazy("protein in dry matter, %")),
        "hagberg": number(gettext_lazy("falling number, s"), required=False),
        "specific_weight": quantity(
            "specific_weight", gettext_lazy("bushel weight"), required=False
        ),
        "admixture": _percent(gettext_lazy("admixture, %")),
        "seed": quantity("mass", gettext_lazy("kept to sow"), required=False),
        "owed": quantity(
            "mass", gettext_lazy("owed to the seed's owner"), required=False
        ),
        "kind": choice(gettext_lazy("milled to"), KINDS),
        "flour_outlet": quantity(
            "mass",
            gettext_lazy("flour that you can sell; all of it, if you don't say"),
            required=False,
        ),
    },
    {
        "milling_price": _pounds(gettext_lazy("full quality for milling, £ a tonne")),
        "feed_price": _pounds(gettext_lazy("feed, £ a tonne")),
        "flour_price": _pounds(gettext_lazy("flour, £ a kg")),
        "flour_costs": _pounds(gettext_lazy("milling and packing, £ a tonne of grain")),
    },
    _choose,
    care=FOOD_CARE,
)
