"""Should I grow it at all: one form in parts, for who never did."""

from django import forms
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sheafwright.accounts.rights import Right
from sheafwright.answers import should_grow_wording as told
from sheafwright.answers.budget_wording import month, pounds
from sheafwright.answers.prices import TON
from sheafwright.answers.should_grow import GrowQuestion, should_grow
from sheafwright.feeds.telling import capital, first_sentence, say
from sheafwright.feeds.telling import told as told_now
from sheafwright.records.selectors.labour import next_harvest
from sheafwright.records.selectors.replayed_seasons import seasons_replayed
from sheafwright.web.access import for_right
from sheafwright.web.errors import told_on
from sheafwright.web.forms.fields import QuantityField
from sheafwright.web.money import budget_sections, doubts_section
from sheafwright.web.sheets import Section
from sheafwright.web.tables import Column, Table

PARTS = (
    (gettext_lazy("The place"), ("august_rain", "lies")),
    (gettext_lazy("The fields"), ("area", "ground", "standing")),
    (gettext_lazy("Hands"), ("hands",)),
    (gettext_lazy("Machines and seed"), ("binder", "tractor", "drum", "has_seed")),
    (gettext_lazy("The market"), ("buyer", "reed_price")),
)
LIES = (
    ("sheltered", gettext_lazy("sheltered")),
    ("open", gettext_lazy("open to gales")),
)
GROUNDS = (
    ("middling", gettext_lazy("neither rich nor poor")),
    ("poor", gettext_lazy("poor: crops are thin")),
    ("rich", gettext_lazy("rich: crops lie, or it was much dunged")),
)
STANDINGS = (
    ("not_organic", gettext_lazy("not organic")),
    ("in_conversion", gettext_lazy("in conversion")),
    ("organic", gettext_lazy("organic")),
)
BUYERS = (
    ("none", gettext_lazy("nobody yet")),
    ("talked", gettext_lazy("a thatcher talked of it")),
    ("agreed", gettext_lazy("a thatcher agreed to buy")),
)
MACHINES = ("binder", "tractor", "drum")


@for_right(Right.SEE_WORK)
def should_i(request):
    units = request.user.units
    seasons = seasons_replayed(holding=request.membership.holding)
    make, answer = _form_class(units, seasons), None
    form = make(request.POST) if request.method == "POST" else make()
    if form.is_bound and form.is_valid():
        with told_on(form):
            answer = _answer(request, seasons, **form.cleaned_data)
    context = {
        "answer": _("Should I grow it at all?"),
        "odds": "",
        "form": form,
        "parts": [
            (title, [form[name] for name in names if name in form.fields])
            for title, names in PARTS
        ],
        "seasons": seasons and _by_seasons(seasons),
        "told": answer,
        "sections": list(_sections(answer, units)) if answer else (),
        "care": (told_now(told.CAUTION),),
    }
    if answer:
        context["answer"], context["odds"] = first_sentence(answer.sentence)
    refused = form.is_bound and answer is None
    status = 400 if refused else 200
    return render(request, "web/should_grow.html", context, status=status)


def _by_seasons(seasons):
    return _(
        "The odds of a good harvest are those of %(n)d seasons in your own weather "
        "record, of %(station)s."
    ) % {"n": seasons.number, "station": seasons.station}


def _form_class(units, seasons):
    price = _("price that a thatcher named, £ a tonne")
    if units != "metric":
        price = _("price that a thatcher named, £ a ton")
    fields = {
        "august_rain": QuantityField(
            quantity="depth", family=units, label=_("rain of a usual August")
        ),
        "lies": _choice(_("it lies"), LIES),
        "area": QuantityField(
            quantity="area", family=units, label=_("ground that it would have")
        ),
        "ground": _choice(_("the ground is"), GROUNDS),
        "standing": _choice(_("it is"), STANDINGS),
        "hands": forms.IntegerField(
            label=_("hands that come in harvest and to the drum, you among them"),
            min_value=1,
        ),
        "binder": _flag(_("there is a binder")),
        "tractor": _flag(_("there is a tractor")),
        "drum": _flag(_("there are a drum and a comb")),
        "has_seed": _flag(_("there is seed of a tall wheat")),
        "buyer": _choice(_("who would buy"), BUYERS),
        "reed_price": forms.FloatField(label=price, required=False, min_value=0),
    }
    if seasons:
        del fields["august_rain"]
    return type("ShouldGrow", (forms.Form,), fields)


def _choice(label, choices):
    return forms.ChoiceField(label=label, choices=choices, initial=choices[0][0])


def _flag(label):
    return forms.BooleanField(label=label, required=False)


def _answer(request, seasons, reed_price, august_rain=None, **said):
    """The `ShouldGrow` of what was said."""
    if reed_price is not None and request.user.units != "metric":
        reed_price /= TON
    machines = frozenset(name for name in MACHINES if said.pop(name))
    return should_grow(
        GrowQuestion(
            harvest_year=next_harvest(request.membership.holding) + 1,
            august_rain=august_rain,
            seasons=seasons,
            machines=machines,
            reed_price=reed_price,
            **said,
        )
    )


def _sections(answer, units):
    yield Section(
        heading=_("Honest reasons not to"), is_danger=True, more=answer.against
    )
    yield Section(
        heading=_("Hours by the month"),
        table=_hours(answer),
        folded=_("Month by month"),
    )
    yield Section(
        heading=_("To buy before the first cheque"),
        table=_shopping(answer),
        sentence=_("Prices are assumed; ask for your own."),
    )
    yield Section(heading=_("To learn before the first harvest"), more=answer.lessons)
    yield Section(heading=_("Money"), working=answer.working)
    yield from budget_sections(answer.budget, units, closely=False)
    yield doubts_section(answer.budget)


def _hours(answer):
    columns = (Column(_("Month")), Column(_("Hours"), True))
    rows = tuple(
        (month(each.year, each.month), f"{each.hours:,.0f}")
        for each in answer.months
        if each.hours >= 1
    )
    return Table(columns, rows)


def _shopping(answer):
    columns = (Column(_("What")), Column(_("About"), True))
    rows = [
        (capital(say(told.THINGS[each.what])), pounds(each.pence / 100))
        for each in answer.shopping
    ]
    whole = sum(each.pence for each in answer.shopping)
    rows.append((_("In all"), pounds(whole / 100)))
    return Table(columns, tuple(rows))
