"""What came in, what went out, what was lost: a period's account, exact to the gram."""

import dataclasses
from collections import defaultdict

from django.db.models import Sum
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models import Line, Lot, Movement, Place
from sheafwright.records.models.material import LOSSES, SOURCES
from sheafwright.records.selectors.flows import flows
from sheafwright.records.selectors.places import subjects_of

Kind = Place.Kind
SHEAVES = "sheaves"
STEPS = {SHEAVES: 0, Lot.Kind.FLOUR: 2}
"""How far a material is from the field; other lots are 1."""
MADE = {1: "threshed", 2: "milled"}
NAMES = {
    SHEAVES: _("crop and sheaves"),
    "threshed": _("threshed"),
    "milled": _("milled"),
    "adjusted": _("adjusted to what was weighed"),
    "moved": _("moved between harvests"),
    **dict(Lot.Kind.choices),
    **dict(Kind.choices),
}


@dataclasses.dataclass(frozen=True)
class Item:
    """One line of an account."""

    what: str
    grams: int

    @property
    def name(self):
        return str(NAMES[self.what])

    @property
    def kg(self):
        return self.grams / 1000


@dataclasses.dataclass(frozen=True)
class Account:
    """One material of one harvest: ``opening + came_in = went_out + lost + closing``.

    An entry undone in the period is in neither side; one undone later is taken back in
    the period of its undoing, so that what was once printed stays as it was.
    """

    material: str
    harvest_year: int
    opening_grams: int
    came_in: tuple[Item, ...]
    went_out: tuple[Item, ...]
    lost: tuple[Item, ...]
    """Every loss by name, none left out for being nothing."""
    closing_grams: int

    @property
    def name(self):
        return str(NAMES[self.material])


def mass_balance(*, holding, since, until):
    """`Account` of each material and harvest, for the days from one to another."""
    lines = Line.objects.filter(movement__holding=holding)
    places = list(Place.objects.filter(holding=holding))
    accounts = _accounts(places)
    opening = _held(lines.filter(movement__date__lt=since), accounts)
    closing = _held(lines.filter(movement__date__lte=until), accounts)
    period = Movement.objects.filter(holding=holding, date__range=(since, until))
    sides = _sides(flows(period), accounts)
    used = {*opening, *closing, *sides}
    return [
        _account(key, opening[key], sides[key], closing[key])
        for key in sorted(used, key=lambda key: (key[1], _step(key[0]), key[0]))
        if opening[key] or closing[key] or any(sides[key].values())
    ]


def _accounts(places):
    """Each place in hand to its material and harvest."""
    subjects = subjects_of(places)
    return {
        place.pk: ACCOUNT[place.kind](subjects[place.pk])
        for place in places
        if place.kind in ACCOUNT
    }


def _of_stooks(stook_set):
    return SHEAVES, stook_set.cut.sowing.harvest_year


def _of_drum(threshing):
    if threshing.rick_id:
        return _of_rick(threshing.rick)
    return _of_stooks(threshing.stook_set)


def _of_rick(rick):
    return SHEAVES, rick.built.year


def _of_lot(lot):
    return lot.kind, lot.harvest_year


ACCOUNT = {
    Kind.STANDING: lambda sowing: (SHEAVES, sowing.harvest_year),
    Kind.STOOKS: _of_stooks,
    Kind.RICK: _of_rick,
    Kind.DRUM: _of_drum,
    Kind.LOT: _of_lot,
    Kind.MILL: _of_lot,
}
"""A kind of place in hand to the account that it belongs to."""


def _held(lines, accounts):
    held = defaultdict(int)
    for place, grams in lines.values_list("place").annotate(Sum("grams")):
        if place in accounts:
            held[accounts[place]] += grams
    return held


def _sides(found, accounts):
    """Account to what came in, by why; less than nothing if it went out."""
    sides = defaultdict(lambda: defaultdict(int))
    for flow in found:
        giver, taker = flow.taken_from, flow.given_to
        ours, theirs = accounts.get(taker.pk), accounts.get(giver.pk)
        if ours == theirs:
            continue
        if ours:
            sides[ours][_why(flow, giver, ours, theirs)] += flow.grams
        if theirs:
            sides[theirs][_why(flow, taker, theirs, ours)] -= flow.grams
    return sides


def _why(flow, other, ours, theirs):
    """(in or out, why): the same for a flow and for its undoing."""
    if other.kind in SOURCES:
        adjusted = _undone_kind(flow.movement) == Movement.Kind.ADJUST
        return "came_in", "adjusted" if adjusted else other.kind
    if theirs is None:
        return ("lost" if other.kind in LOSSES else "went_out"), other.kind
    before, after = _step(theirs[0]), _step(ours[0])
    if before == after:
        return "came_in", "moved"
    return ("came_in" if before < after else "went_out"), MADE[max(before, after)]


def _undone_kind(movement):
    while movement.reverses is not None:
        movement = movement.reverses
    return movement.kind


def _step(material):
    return STEPS.get(material, 1)


def _account(key, opening, sides, closing):
    def items(side, sign, always=()):
        said = dict.fromkeys(always, 0)
        said |= {what: sign * g for (s, what), g in sides.items() if s == side}
        return tuple(Item(what, g) for what, g in said.items() if g or what in always)

    return Account(
        *key,
        opening_grams=opening,
        came_in=items("came_in", 1),
        went_out=items("went_out", -1),
        lost=items("lost", -1, always=LOSSES),
        closing_grams=closing,
    )
