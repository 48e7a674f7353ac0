"""A rick's card: what is in it, its temperatures, and what to do when it heats."""

from collections import defaultdict

from django.utils.formats import date_format
from django.utils.text import capfirst
from django.utils.translation import gettext as _

from sheafwright.answers.rick_heat import CAUTION, step_means
from sheafwright.documents.rick_card import (
    Contact,
    Fact,
    HeatStep,
    Load,
    Reading,
    RickCard,
)
from sheafwright.feeds.ricks import STEPS, heat_steps
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import told
from sheafwright.feeds.units import show
from sheafwright.records import rick_wording
from sheafwright.records.clock import today, zone_of
from sheafwright.records.models import Movement, Place
from sheafwright.records.selectors.calls import call_lists, calls_of
from sheafwright.records.selectors.flows import flows
from sheafwright.records.selectors.places import subjects_of
from sheafwright.records.selectors.rick_told import worth_of
from sheafwright.records.selectors.store import rick_now

LATEST = 8
"""Readings printed; the rest of the sheet is for those to come."""
TO_WRITE, TO_FILL = "." * 40, "." * 28
"""A line to write on, and one in a narrow column."""
ROWS, LEAST_BLANK = 11, 4
"""Rows to write in that fill the page; three printed lines take the place of two."""
LINE = 85
"""Letters of the insurer's conditions on a line."""


def rick_card_of(*, holding, id, units):
    """The `RickCard` of one of the holding's ricks; not found, if it is no such."""
    now = rick_now(holding=holding, id=id)
    rick = now.rick
    about = _("built %(day)s, %(cover)s, %(held)s in it by the book") % {
        "day": _day(rick.built),
        "cover": rick.get_cover_display(),
        "held": show(now.kg, "mass", units),
    }
    holds = rick.capacity_kg and show(rick.capacity_kg, "mass", units)
    loads, readings = tuple(_loads(rick, units)), tuple(_readings(rick, units))
    contacts, conditions = tuple(_contacts(rick)), len(rick.insurers_conditions)
    lines = len(loads + readings + contacts) + conditions // LINE
    return RickCard(
        holding=holding.name,
        name=rick.name,
        about=about,
        capacity=_("holds %(weight)s") % {"weight": holds} if holds else "",
        made_on=today(holding),
        loads=loads,
        readings=readings,
        heat_steps=tuple(_steps()),
        contacts=contacts,
        facts=tuple(_facts(now, units)),
        blank_rows=max(LEAST_BLANK, ROWS - 2 * lines // 3),
    )


def _contacts(rick):
    """Who was written down to be rung, or room to write the fire service in."""
    calls = calls_of(call_lists(holding=rick.holding), rick)
    for call in calls:
        yield Contact(call.name, call.number)
    if not calls:
        yield Contact(_("Fire service:"), TO_WRITE)


def _facts(now, units):
    """What the insurer and the fire service ask; what nobody said is dots to fill."""
    rick = now.rick
    yield _value(now)
    for name, what in (
        ("to_buildings_m", "buildings"),
        ("to_road_m", "road"),
        ("to_rick_m", "rick"),
    ):
        distance, row = getattr(rick, name), shipped("ricks")["apart"][what]
        yield Fact(
            capfirst(rick._meta.get_field(name).verbose_name),
            TO_FILL if distance is None else show(distance, "distance", units),
            _("%(advised)s or more is usually advised (%(standing)s)")
            % {
                "advised": show(row.value, "distance", units),
                "standing": told(row.standing),
            },
        )
    conditions = rick.insurers_conditions or TO_WRITE
    yield Fact(capfirst(_("the insurer's conditions")), conditions, "")


def _value(now):
    if now.rick.value is not None:
        return Fact(_("Value"), rick_wording.pounds(now.rick.value), "")
    worth = worth_of(now)
    if worth is None:
        return Fact(_("Value"), TO_FILL, "")
    by = _("By usual outturns and prices.")
    return Fact(_("Value"), f"{worth.sentence} {by}", "")


def _loads(rick, units):
    """A load a carting: one that was more than the stooks were guessed at is whole."""
    carted = Movement.objects.filter(
        kind=Movement.Kind.CART,
        reversed_by=None,
        lines__place__kind=Place.Kind.RICK,
        lines__place__subject=rick.pk,
    )
    grams, given_by = defaultdict(int), {}
    for flow in flows(carted):
        grams[flow.movement] += flow.grams
        if flow.taken_from.kind == Place.Kind.STOOKS:
            given_by[flow.movement] = flow.taken_from
    stooks = subjects_of(given_by.values())
    for movement in sorted(grams, key=lambda movement: (movement.date, movement.seq)):
        giver = given_by.get(movement)
        sowing = giver and stooks[giver.pk].cut.sowing
        yield Load(
            field=sowing.field.name if sowing else "",
            variety=sowing.seed_lot.variety if sowing else "",
            carted=_day(movement.date),
            amount=show(grams[movement] / 1000, "mass", units),
        )


def _readings(rick, units):
    zone = zone_of(rick.holding)
    latest = rick.readings.select_related("made_by").order_by("-at")[:LATEST]
    for reading in reversed(latest):
        deep = reading.depth_m
        yield Reading(
            when=date_format(reading.at.astimezone(zone), "D j M, H:i"),
            place=_("%(depth)s deep") % {"depth": show(deep, "distance", units)}
            if deep
            else "",
            temperature=f"{reading.temperature_c:g}",
            by=reading.made_by.name,
        )


def _steps():
    yield HeatStep(_("always"), told(CAUTION))
    for name, step in list(zip(STEPS, heat_steps(), strict=True))[1:]:
        yield HeatStep(
            _("from %(heat)g °C") % {"heat": step.from_temperature},
            step_means(name, step.check_hours),
        )


def _day(date):
    return date_format(date, "j M Y")
