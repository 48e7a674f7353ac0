"""What came in, what went out, what was lost: a period's account, exact to the gram."""

import dataclasses
from collections import defaultdict

from django.utils.translation import gettext_lazy as _

from sheafwright.records.models import Balance, Line, Lot, Movement, Place
from sheafwright.records.models.material import LOSSES, SOURCES
from sheafwright.records.remembered import moved, remembered
from sheafwright.records.selectors.account_sums import (
    SHEAVES,
    held_by_account,
    moved_between_accounts,
)

Kind = Place.Kind
STEPS = {SHEAVES: 0, Lot.Kind.FLOUR: 2, Lot.Kind.BRAN: 2}
"""How far a material is from the field; other lots are 1."""
DRESSED_OUT = (Lot.Kind.TAIL, Lot.Kind.BRAN)
MADE = {1: "threshed", 2: "milled"}
NAMES = {
    SHEAVES: _("crop and sheaves"),
    "threshed": _("threshed"),
    "dressed": _("dressed"),
    "milled": _("milled"),
    "adjusted": _("adjusted to what was weighed"),
    "moved": _("moved between harvests"),
    **dict(Lot.Kind.choices),
    **dict(Kind.choices),
}

LOST_AS = {
    Kind.WATER: _("water"),
    Kind.VERMIN: _("vermin"),
    Kind.SHED: _("shed"),
    Kind.FIRE: _("fire"),
    Kind.SPOILED: _("spoiled"),
    Kind.WASTE: _("cavings and waste"),
    Kind.SCREENINGS: _("screenings"),
    Kind.MILLING: _("at the stones"),
    Kind.UNEXPLAINED: _("unexplained"),
}
"""Losses as they stand under a heading that says lost already."""


@dataclasses.dataclass(frozen=True)
class Item:
    """One line of an account."""

    what: str
    grams: int

    @property
    def name(self):
        return str(NAMES[self.what])

    @property
    def bare(self):
        """Its name without "lost:"."""
        return str(LOST_AS.get(self.what) or self.name)

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


@remembered(until=moved)
def mass_balance(*, holding, since, until):
    """`Account` of each material and harvest, for the days from one to another."""
    opening, closing = _held(holding, since, until)
    period = Movement.objects.filter(holding=holding, date__range=(since, until))
    sides = _sides(moved_between_accounts(period))
    used = {*opening, *closing, *sides}
    return tuple(
        _account(key, opening[key], sides[key], closing[key])
        for key in sorted(used, key=lambda key: (key[1], _step(key[0]), key[0]))
        if opening[key] or closing[key] or any(sides[key].values())
    )


def _held(holding, since, until):
    """What each account held before and after the period.

    Reckoned back from today's balances: most periods that are asked for end near today,
    and a book grows longer every year.
    """
    today = Balance.objects.filter(place__holding=holding).exclude(grams=0)
    lines = Line.objects.filter(movement__holding=holding)
    later = lines.filter(movement__date__gt=until)
    within = lines.filter(movement__date__range=(since, until))
    after = held_by_account(today)
    after.subtract(held_by_account(later))
    before = after.copy()
    before.subtract(held_by_account(within))
    return before, after


def _sides(moved):
    """Account to what came in, by why; less than nothing if it went out."""
    sides = defaultdict(lambda: defaultdict(int))
    for each in moved:
        ours, theirs = each.taker.account, each.giver.account
        if ours == theirs:
            continue
        if ours:
            sides[ours][_why(each.giver, ours, each.adjusts)] += each.grams
        if theirs:
            sides[theirs][_why(each.taker, theirs, each.adjusts)] -= each.grams
    return sides


def _why(other, ours, adjusts):
    """(in or out, why): the same for what moved and for its undoing."""
    if other.kind in SOURCES:
        return "came_in", "adjusted" if adjusts else other.kind
    if other.account is None:
        return ("lost" if other.kind in LOSSES else "went_out"), other.kind
    before, after = _step(other.account[0]), _step(ours[0])
    if before == after and other.account[1] == ours[1]:
        # Screenings of grain: which of two has come of the other, its name says.
        return ("came_in" if ours[0] in DRESSED_OUT else "went_out"), "dressed"
    if before == after:
        return "came_in", "moved"
    return ("came_in" if before < after else "went_out"), MADE[max(before, after)]


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
