"""Sell the grain, mill it, feed it, give it back, or keep it for seed?"""

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sheafwright.accounts.rights import Right
from sheafwright.answers.budget_wording import pence
from sheafwright.answers.grain import GrainQuestion, grain_choice
from sheafwright.answers.grain_wording import FOOD_CARE, TESTS, WAYS
from sheafwright.answers.prices import per_weight
from sheafwright.core.money.pence import pence_of
from sheafwright.feeds import telling
from sheafwright.feeds.telling import capital, say
from sheafwright.records import wording
from sheafwright.records.models import GrainTerms
from sheafwright.records.selectors.grain_terms import terms_now, terms_of
from sheafwright.web.asks.ask import Ask, choice, number, quantity, told
from sheafwright.web.sheets import Section
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import kg, percent, specific_weight

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


def _terms(membership):
    may_know = membership.may(Right.SEE_TRADE)
    last = terms_now(holding=membership.holding) if may_know else ()
    return forms.ModelChoiceField(
        GrainTerms.objects.filter(pk__in=[each.pk for each in last]),
        label=gettext_lazy("by whose terms"),
        required=False,
        empty_label=gettext_lazy("as is usual"),
    )


def _choose(membership, moisture, seed, owed, buyer, **said):
    if buyer and said["milling_price"] is None and buyer.price is not None:
        said["milling_price"] = float(buyer.price)
    terms = {"terms": terms_of(buyer), "buyer": str(buyer)} if buyer else {}
    answer = grain_choice(
        GrainQuestion(
            moisture=moisture / 100, seed=seed or 0, owed=owed or 0, **terms, **said
        )
    )
    units = membership.person.units
    return told(
        answer,
        Section(table=_ways(answer, units), working=answer.working),
        Section(heading=_("At the buyer's terms"), table=_tests(answer, units)),
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
    if answer.heap.seed:
        rows += (_kept_to_sow(answer, units),)
    return Table(columns, rows, _("What the grain that is left would bring"))


def _kept_to_sow(answer, units):
    """What it saves, beside what the rest brings."""
    kept = answer.heap.seed
    return (
        _("Kept to sow: saves buying seed"),
        kg(kept, units),
        pence(pence_of(answer.saved)),
        pence(0),
        pence(pence_of(answer.saved)),
        per_weight(1000 * answer.saved / kept),
    )


def _tests(answer, units):
    """What was found, what has the full price, and what is taken off."""
    columns = (
        Column(_("Test")),
        Column(_("Found"), True),
        Column(_("Full price"), True),
        Column(_("Refused"), True),
        Column(_("Off a tonne"), True),
    )
    terms, damp = answer.question.buyers_terms, answer.damp
    moisture = (
        _("Moisture"),
        percent(100 * answer.question.moisture),
        percent(100 * terms.moisture_most),
        percent(100 * terms.moisture_refused),
        _("dried first") if damp.over else pence(0),
    )
    rows = (_test(each, units) for each in answer.tests)
    return Table(columns, (moisture, *rows))


def _test(test, units):
    shown = {
        "hagberg": wording.seconds,
        "weight": lambda value: specific_weight(value, units),
    }.get(test.name, percent)
    off = pence(pence_of(test.off))
    if test.refused:
        off = _("refused")
    return (
        capital(say(TESTS[test.name])),
        shown(test.found),
        shown(test.full),
        shown(test.least),
        off if test.found is not None else _("not tested"),
    )


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
        "dressed": lambda membership: forms.BooleanField(
            label=gettext_lazy("it is dressed already"), required=False
        ),
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
        "buyer": _terms,
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
