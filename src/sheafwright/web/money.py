"""How a budget is shown: its form of what may be tried, and its tables."""

import dataclasses
from collections.abc import Callable

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sheafwright.answers import budget_wording as told
from sheafwright.answers.bands import banded
from sheafwright.answers.budget_lines import COSTS, INCOME, INPUTS, LABOUR
from sheafwright.answers.prices import ACRE, TON
from sheafwright.feeds.telling import capital, say
from sheafwright.feeds.units import in_unit, show
from sheafwright.records import money_wording as wording
from sheafwright.web.forms.fields import QuantityField
from sheafwright.web.forms.slide import slide_from
from sheafwright.web.sheets import Fold, Section
from sheafwright.web.tables import Column, Table

OF_MACHINES = ("contractor", "fuel", "repairs", "machines", "hire")
SLACK = 5e-3
"""Of an area that was shown rounded, and came back so."""
PRICES_FROM = {"reed_price": (200, 2000, 10), "grain_price": (50, 600, 5)}
"""Least, most and step that a price is slid by. [£/t]"""


@dataclasses.dataclass(frozen=True)
class Knob:
    """One number that may be tried."""

    metric: str
    imperial: str
    most: float
    now: Callable
    """From the `Terms` to the value that it has, as metric shows it."""
    slides: tuple[float, float, float]
    """Least, most and step that it is slid by, as metric shows it."""
    by: float = 1.0
    """What a metric value is times one as it is shown."""
    by_imperial: float = 1.0
    """What one as imperial shows it is times one as metric does."""
    least: float = 0.0

    def label(self, units):
        return self.metric if units == "metric" else self.imperial

    def shown(self, value, units):
        """A value as the form has it."""
        return round(value / (1 if units == "metric" else self.by_imperial), 2)

    def told(self, shown, units):
        """What the form has, as the budget is told it."""
        return shown * self.by * (1 if units == "metric" else self.by_imperial)

    def field(self, now, units):
        """The form's field of a knob that stands at a value."""
        least, most, step = self.slides
        ratio = 1 if units == "metric" else 1 / self.by_imperial
        # A step of £5/ha is £2/acre: of one figure, whoever slides it.
        step = float(f"{step * ratio:.1g}")
        return forms.FloatField(
            label=self.label(units),
            min_value=self.least,
            max_value=round(self.most * ratio, 2),
            widget=slide_from(
                self.shown(now, units), least * ratio, most * ratio, step
            ),
        )


def _price(metric, imperial, name):
    return Knob(
        metric,
        imperial,
        10_000,
        lambda terms: getattr(terms.ranges, name)[1],
        PRICES_FROM[name],
        by_imperial=1 / TON,
    )


KNOBS = {
    "reed_price": _price(
        gettext_lazy("reed, £ a tonne"), gettext_lazy("reed, £ a ton"), "reed_price"
    ),
    "grain_price": _price(
        gettext_lazy("grain, £ a tonne"), gettext_lazy("grain, £ a ton"), "grain_price"
    ),
    "crop": Knob(
        gettext_lazy("sheaves, field-dry, t/ha"),
        gettext_lazy("sheaves, field-dry, tons/acre"),
        100,
        lambda terms: terms.ranges.crop[1],
        (2, 12, 0.25),
        by_imperial=8 / in_unit(8000, "yield", "tons/acre"),
    ),
    "kept": Knob(
        gettext_lazy("reed that comes through the weather, in 100"),
        gettext_lazy("reed that comes through the weather, in 100"),
        100,
        lambda terms: 100 * terms.ranges.kept[1],
        (10, 100, 1),
        by=0.01,
        least=1,
    ),
    "hours": Knob(
        gettext_lazy("hours of hands, times what is told"),
        gettext_lazy("hours of hands, times what is told"),
        10,
        lambda terms: terms.ranges.hours[1],
        (0.3, 2, 0.05),
    ),
    "wage": Knob(
        gettext_lazy("wage, £ an hour"),
        gettext_lazy("wage, £ an hour"),
        200,
        lambda terms: terms.outlay.wage_gbp_per_h,
        (0, 40, 0.5),
    ),
    "contractor": Knob(
        gettext_lazy("contractor, £/ha"),
        gettext_lazy("contractor, £/acre"),
        5000,
        lambda terms: terms.outlay.contractor_gbp_per_ha,
        (0, 500, 5),
        by_imperial=1 / ACRE,
    ),
    "drum_day": Knob(
        gettext_lazy("hire of drum and comb, £ a day"),
        gettext_lazy("hire of drum and comb, £ a day"),
        10_000,
        lambda terms: terms.outlay.machine_hire_gbp_per_day,
        (0, 1200, 10),
    ),
    "interest": Knob(
        gettext_lazy("interest, in 100 a year"),
        gettext_lazy("interest, in 100 a year"),
        100,
        lambda terms: 100 * terms.outlay.interest,
        (0, 20, 0.5),
        by=0.01,
    ),
}


def form_class(terms, units):
    """The form of what may be tried, in a reader's units."""
    fields = {
        **{name: knob.field(knob.now(terms), units) for name, knob in KNOBS.items()},
        "area": QuantityField(
            quantity="area", family=units, label=_("area of tall wheat")
        ),
    }
    return type("WhatIf", (forms.Form,), fields)


def as_it_is(terms, units):
    """What the form begins with."""
    return {
        **{name: knob.shown(knob.now(terms), units) for name, knob in KNOBS.items()},
        "area": show(terms.area, "area", units),
    }


def tried(terms, said, units):
    """What differs from how it is: knobs as the budget is told them, and the area."""
    begun = as_it_is(terms, units)
    knobs = {
        name: knob.told(said[name], units)
        for name, knob in KNOBS.items()
        if abs(said[name] - begun[name]) > 1e-6
    }
    area = said["area"]
    return knobs, None if abs(area / terms.area - 1) < SLACK else area


def budget_sections(answer, units, closely):
    """The budget as a page shows it."""
    yield Section(
        sentence=told.an_hour(answer),
        fold=Fold(_("Two figures, and why"), (told.likely_and_middle(answer),)),
        table=_short(answer, units),
    )
    yield Section(table=_lines(answer, units), folded=_("Line by line"))
    yield from _fields(answer, units)
    yield Section(heading=_("Other uses of the field"), table=_uses(answer))
    yield Section(
        heading=_("What it hangs on"),
        sentence=told.weightiest(answer),
        table=_matters(answer, closely),
        folded="" if closely else _("How far each goes with it"),
        more=(wording.go_together(),) if closely else (),
    )
    yield Section(
        heading=_("Cash by the month"),
        sentence=told.most_out(answer.lowest),
        more=(wording.machines_aside(),),
        table=_months(answer),
        folded=_("Month by month"),
    )


def doubts_section(answer):
    """What it does not know, and how it was worked out."""
    return Section(sentence=answer.doubts, working=answer.working)


def _per(units):
    """The area and the weight that a table counts by, and their names."""
    if units == "metric":
        return 1.0, 1.0, _("By the hectare"), _("By the tonne of reed")
    return ACRE, TON, _("By the acre"), _("By the ton of reed")


def _short(answer, units):
    """Income, hours, machines and the rest: few enough for a phone."""
    of_area, _of_weight, by_area, _by_weight = _per(units)
    columns = (Column(_("Likely crop")), Column(by_area, True))
    area = answer.area / of_area
    rest = [name for name in COSTS if name not in (*LABOUR, *OF_MACHINES)]
    named = (
        (_("Straw and grain"), INCOME, 1),
        (_("Hours of hands"), LABOUR, -1),
        (_("Machines, hire, contractor, fuel"), OF_MACHINES, -1),
        (_("Everything else"), rest, -1),
    )
    rows = [
        (says, told.pounds(sign * answer.pence_of_lines(names) / 100 / area))
        for says, names, sign in named
    ]
    left = told.pounds(answer.margin_pence / 100 / area)
    middle = told.pounds(answer.margin_band["p50"] / area)
    ends = ((_("Left"), left), (_("Left in the middle one of possible years"), middle))
    return Table(columns, (*rows, *ends))


def _lines(answer, units):
    of_area, of_weight, by_area, by_weight = _per(units)
    columns = (
        Column(_("Likely crop")),
        Column(_("In all"), True),
        Column(by_area, True),
        Column(by_weight, True),
    )
    area = answer.area / of_area
    reed = float(answer.likely.tonnes["reed"]) / of_weight
    named = [(name, says, 1) for name, says in INCOME.items()]
    named += [(name, says, -1) for name, says in COSTS.items()]
    rows = [
        _line(capital(say(says)), sign * answer.pence_of_lines([name]), area, reed)
        for name, says, sign in named
        if answer.pence_of_lines([name])
    ]
    rows.append(_line(_("Left"), answer.margin_pence, area, reed))
    return Table(columns, tuple(rows))


def _line(says, pence, area, reed):
    return (
        says,
        told.pence(pence),
        told.pounds(pence / 100 / area),
        told.pounds(pence / 100 / reed),
    )


def _fields(answer, units):
    said = answer.to_fields()
    if len(said) < 2:
        return
    columns = (
        Column(_("Field")),
        Column(_("Area"), True),
        Column(_("Brings"), True),
        Column(_("Costs"), True),
        Column(_("Left"), True),
    )
    rows = tuple(
        (
            each["field"],
            show(each["area_ha"], "area", units),
            told.pence(each["income_pence"]),
            told.pence(each["costs_pence"]),
            told.pence(each["margin_pence"]),
        )
        for each in said
    )
    yield Section(
        heading=_("By field"), table=Table(columns, rows), folded=_("Field by field")
    )


def _uses(answer):
    columns = (
        Column(_("Use")),
        Column(_("Likely to leave"), True),
        Column(_("8 years in 10"), True),
        Column(_("Better than tall wheat"), True),
    )
    ours = banded(answer.drawn.margin / answer.area)
    likely = float(answer.likely.margin) / answer.area
    rows = [(_("Tall wheat"), told.area_price(likely), _span(ours), "")]
    rows += [
        (
            capital(say(told.USES[use.name])),
            told.area_price(use.likely),
            _span(banded(use.margins)),
            told.years_of_ten(use.chance_better),
        )
        for use in answer.uses
    ]
    return Table(columns, tuple(rows))


def _span(band):
    return _("%(low)s to %(high)s") % {
        "low": told.area_price(band["p10"]),
        "high": told.area_price(band["p90"]),
    }


def _matters(answer, closely):
    columns = [Column(_("What")), Column(_("Goes with what is left"), True)]
    if closely:
        columns += [Column(_("Share alone"), True), Column(_("With others"), True)]
    return Table(
        tuple(columns),
        tuple(
            (
                capital(say(told.INPUTS[name])),
                _signed(answer.matters[name]),
                *(_shares(answer, name) if closely else ()),
            )
            for name in answer.what_matters
        ),
    )


def _signed(number):
    """To hundredths; what rounds to nothing has no sign."""
    sign = "" if abs(number) < 0.005 else "−" if number < 0 else "+"
    return f"{sign}{abs(number):.2f}"


def _shares(answer, name):
    at = INPUTS.index(name)
    return f"{answer.shares.alone[at]:.0%}", f"{answer.shares.in_all[at]:.0%}"


def _months(answer):
    columns = (
        Column(_("Month")),
        Column(_("Paid"), True),
        Column(_("Got"), True),
        Column(_("In hand"), True),
    )
    rows = tuple(
        (
            told.month(each.year, each.month),
            told.pounds(each.paid),
            told.pounds(each.got),
            told.pounds(each.balance),
        )
        for each in answer.months
        if each.paid or each.got
    )
    return Table(columns, rows)
