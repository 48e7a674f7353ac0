"""The page for a phone in the field: one thumb, with or without signal.

Its forms go where the same forms on a page of their own go.
"""

import dataclasses
from collections.abc import Callable

from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from sheafwright.accounts.rights import Right
from sheafwright.records.selectors.in_hand import (
    ricks_standing,
    sowings_in_hand,
    stooks_in_hand,
    straw_in_store,
)
from sheafwright.web.access import for_right
from sheafwright.web.forms.entry import form_class, initial
from sheafwright.web.forms.kinds import KINDS
from sheafwright.web.templatetags.said import day

FIRST = {
    "cut": ("sowing", "area_ha", "sheaves", "stooks"),
    "sheaf-count": ("stook_set", "sheaves"),
    "meter": ("stook_set", "grain_pct", "straw_pct"),
    "carting": ("stook_set", "rick", "kg"),
    "rick-reading": ("rick", "temperature_c", "depth_m"),
    "observation": ("sowing", "stage", "sign_nodes"),
    "bundles": ("lot", "count", "bundle_kg"),
    "hand-grade": ("lot", "twist", "colour", "stems"),
}
"""Each deed's fields that are in sight; the rest wait behind a word."""


@dataclasses.dataclass(frozen=True)
class InHand:
    """What a deed is done to."""

    found: Callable
    name: Callable
    """Short, for a small page."""
    none: str
    """What to say where there is none."""


IN_HAND = {
    "sowing": InHand(
        sowings_in_hand,
        lambda sowing: str(sowing.field),
        _("Nothing is sown for this harvest."),
    ),
    "stook_set": InHand(
        stooks_in_hand,
        lambda stooks: f"{stooks.cut.sowing.field}, {day(stooks.cut.date)}",
        _("No stooks stand yet: a cut makes them."),
    ),
    "rick": InHand(
        ricks_standing,
        lambda rick: rick.name,
        _("No rick stands: build one on the page of ricks."),
    ),
    "lot": InHand(
        straw_in_store,
        lambda lot: lot.code,
        _("No straw of this harvest or the last is in store."),
    ),
}


@for_right(Right.DO_WORK)
def harvest_day(request):
    holding = request.membership.holding
    there = {name: list(of.found(holding=holding)) for name, of in IN_HAND.items()}
    deeds = [_deed(kind, request.membership, there) for kind in FIRST]
    return render(request, "web/harvest_day.html", {"deeds": deeds})


def _deed(kind, membership, there):
    what = KINDS[kind]
    make = form_class(what, membership)
    begun = initial(what, membership, make.base_fields, {})
    form = make(initial=begun, auto_id=f"{kind}-%s")
    subjects = [name for name in IN_HAND if name in form.fields]
    lacks = [_offer(form, name, there[name]) for name in subjects]
    return {
        "kind": kind,
        "title": what.title,
        "care": what.cautions,
        "url": reverse("web:write", args=[membership.holding.slug, kind]),
        "form": form,
        "first": [form[name] for name in FIRST[kind]],
        "more": [f for f in form.visible_fields() if f.name not in FIRST[kind]],
        "lacks": next(filter(None, lacks), ""),
    }


def _offer(form, subject, things):
    """Offer what is in hand; says so where there is nothing."""
    in_hand, field = IN_HAND[subject], form.fields[subject]
    named = [(thing.pk, in_hand.name(thing)) for thing in things]
    # Of one thing there is nothing to choose.
    field.choices = named if len(named) == 1 else [("", field.empty_label), *named]
    return "" if things else in_hand.none
