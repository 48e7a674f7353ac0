"""The cropping plan as parts of Ground: the squares, what is pinned, and why."""

import dataclasses
import uuid

from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.answers.cropping_wording import SHORT
from sheafwright.feeds.telling import told
from sheafwright.records import plan_wording as wording
from sheafwright.records.selectors.plan import plan_asked, plan_kept
from sheafwright.records.wording import being_worked_out, ground_headline
from sheafwright.web.sheets import Fold, Section, write_action
from sheafwright.web.templatetags.said import area, kg, money

TO_PIN = 2
"""Harvests whose squares are pinned by a tap."""
MOST_ASKED = 3
"""Fields of which it is asked outright what they bore."""
WHEATS = ("autumn_wheat", "late_wheat")


@dataclasses.dataclass(frozen=True)
class Square:
    """What a field bears in a year."""

    crop: str
    marks: tuple[str, ...] = ()
    url: str = ""
    does: str = ""
    """What a tap on it does."""

    @property
    def says(self):
        return told(SHORT[self.crop])


@dataclasses.dataclass(frozen=True)
class Row:
    name: str
    url: str
    squares: tuple[Square, ...]


@dataclasses.dataclass(frozen=True)
class Freeing:
    """An entry, a tap away, that takes a word on the plan back."""

    says: str
    url: str
    said: dict


@dataclasses.dataclass(frozen=True)
class PlanShown:
    answer: str
    odds: str
    years: tuple[int, ...] = ()
    rows: tuple[Row, ...] = ()
    totals: tuple[tuple[str, list[str]], ...] = ()
    """What is counted, and its sum for each year."""
    note: str = ""
    freeings: tuple[Freeing, ...] = ()
    clashes: bool = False
    """Whether what is pinned and wanted is what stands in the way."""
    sections: tuple[Section, ...] = ()


def plan_shown(request):
    """`PlanShown`; None on a holding without fields."""
    holding = request.membership.holding
    asked = plan_asked(holding=holding)
    if not asked.fields:
        return None
    kept = asked.question and plan_kept(holding=holding, asked=asked)
    said = kept.said if kept else {}
    answer, odds = wording.headline(said) if said else _no_plan(asked)
    is_told = "fields" in said
    return PlanShown(
        answer=answer,
        odds=odds,
        years=tuple(said["years"]) if is_told else (),
        rows=tuple(_rows(request, asked, said)) if is_told else (),
        totals=tuple(_totals(said, request.user.units)) if is_told else (),
        note=_note(request, kept, said),
        freeings=tuple(_freeings(request, asked)),
        clashes="refused" in said,
        sections=(
            *([_why(said)] if is_told and _is_compared(said) else []),
            *_unsaid(request, asked),
            _words(request, asked, kept),
        ),
    )


def _no_plan(asked):
    why = being_worked_out() if asked.question else wording.no_field_takes_part()
    return ground_headline(len(asked.fields)), why


def _rows(request, asked, said):
    for field in said["fields"]:
        found = asked.fields.get(field["field"])
        if found is not None:
            squares = (
                _square(request, asked, found, place, year)
                for place, year in enumerate(field["years"])
            )
            yield Row(found.name, _field_url(request, found), tuple(squares))


def _square(request, asked, field, place, year):
    is_sown = (field.name, year["year"]) in asked.sown
    is_pinned = year["pinned"] and not is_sown
    marks = (
        *([_("sown")] if is_sown else []),
        *([_("pinned")] if is_pinned else []),
        *([wording.SOLD_AS[s]] if (s := year["sold_as"]) in wording.SOLD_AS else []),
    )
    url = ""
    if place < TO_PIN and not is_sown and not field.stays_grass:
        crop = "" if is_pinned else year["crop"]
        given = {"field": field.pk, "harvest_year": year["year"], "crop": crop}
        url = next((a.url for a in write_action(request, "plan-fixed", **given)), "")
    does = wording.pin_it(field, year["year"], is_pinned)
    return Square(year["crop"], marks, url, does)


def _note(request, kept, said):
    if kept and not kept.is_new:
        return wording.is_older()
    if "years" in said and request.membership.may(Right.RUN):
        return wording.how_to_pin(said["years"][:TO_PIN])
    return ""


def _freeings(request, asked):
    """Each pin and each area wanted, to be taken back; nothing for who may not."""
    if not request.membership.may(Right.RUN):
        return
    units = request.user.units
    for pin in asked.fixed:
        said = {"field": pin.field_id, "harvest_year": pin.harvest_year, "crop": ""}
        yield _freeing(request, "plan-fixed", wording.free(pin), said)
    for wanted in asked.wanted:
        limits = (ha and area(ha, units) for ha in (wanted.least_ha, wanted.most_ha))
        said = {"harvest_year": wanted.harvest_year, "crop": wanted.crop}
        says = wording.want_no_longer(wanted, *limits)
        yield _freeing(request, "area-wanted", says, said)


def _freeing(request, kind, says, said):
    url = reverse("web:write", args=[request.membership.holding.slug, kind])
    return Freeing(says, url, {"id": uuid.uuid4()} | said)


def _totals(said, units):
    """What the years come to: what is counted, and its sum for each year."""
    years = said["totals"]
    wheat = (sum(year["area_ha"][crop] for crop in WHEATS) for year in years)
    yield _("Wheat"), [area(ha, units) for ha in wheat]
    yield _("Straw"), [kg(1000 * year["straw_t"], units) for year in years]
    yield _("Expected"), [money(year["worth_gbp"]) for year in years]
    yield _("In a bad year"), [money(year["worst_season_gbp"]) for year in years]
    yield _("Busiest week, from"), [wording.busiest(year) for year in years]


def _is_compared(said):
    firsts = [field["years"][0] for field in said["fields"]]
    return any(first["next_best"] or first["blocked"] for first in firsts)


def _why(said):
    """Why each field bears what it does in the first year."""
    part = [field for field in said["fields"] if not field["kept_in_grass"]]
    return Section(
        fold=Fold(
            _("Why, field by field, and what else might be grown"),
            sentences=tuple(
                wording.of_a_field(field["field"], field["years"][0]) for field in part
            ),
        )
    )


def _unsaid(request, asked):
    """What was never said and would change the plan, and what it can't go by."""
    first, rest = list(asked.unsaid)[:MOST_ASKED], list(asked.unsaid)[MOST_ASKED:]
    more = [
        *(wording.is_against(n, asked.first_year, y) for n, y in asked.against.items()),
        *([wording.to_say_how_farmed(asked.unfarmed)] if asked.unfarmed else []),
    ]
    if not (first or more):
        return
    unfarmed = [asked.fields[name] for name in asked.unfarmed[:1]]
    yield Section(
        heading=_("What the plan is not told"),
        sentence=wording.to_say_they_bore({n: asked.unsaid[n] for n in first}),
        more=tuple(more),
        fold=_others(asked, rest) if rest else None,
        actions=(
            *(_to_say(request, asked, name) for name in first),
            *(
                action
                for field in unfarmed
                for action in write_action(request, "field-status", field=field.pk)
            ),
        )
        if request.membership.may(Right.RUN)
        else (),
    )


def _to_say(request, asked, name):
    given = {"field": asked.fields[name].pk, "harvest_year": asked.unsaid[name][-1]}
    says = wording.say_of(name)
    return next(iter(write_action(request, "past-crop", says, **given)))


def _others(asked, names):
    years = {name: wording.years_listed(asked.unsaid[name]) for name in names}
    said = tuple(f"{name}: {listed}." for name, listed in years.items())
    return Fold(wording.and_of_others(len(names)), said)


def _words(request, asked, kept):
    """What it was reckoned with, and the forms of what it is to keep to."""
    is_told = kept is not None and "fields" in kept.said
    return Section(
        sentence=wording.reckoned_with(asked.hands, asked.hours_a_week),
        actions=(
            *write_action(request, "plan-fixed"),
            *write_action(request, "area-wanted"),
        ),
        working=tuple(kept.said["working"]) if is_told else (),
        made_at=kept.answer.made_at if kept else None,
    )


def _field_url(request, field):
    return reverse("web:field", args=[request.membership.holding.slug, field.pk])
