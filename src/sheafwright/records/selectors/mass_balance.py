"""What came in, what went out, what was lost: a period's account, exact to the gram."""

import dataclasses
from collections import Counter, defaultdict

from django.db.models import Sum
from django.utils.translation import gettext_lazy as _

from sheafwright.records.models import (
    Balance,
    Line,
    Lot,
    Movement,
    Place,
    Rick,
    Sowing,
    StookSet,
    Threshing,
)
from sheafwright.records.models.material import LOSSES, SOURCES
from sheafwright.records.selectors.flows import flows

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
    before, after = _held(holding, since, until)
    period = Movement.objects.filter(holding=holding, date__range=(since, until))
    moved = list(flows(period))
    # A place that was empty all along has no account to make.
    touched = {place.pk for flow in moved for place in (flow.taken_from, flow.given_to)}
    places = Place.objects.filter(pk__in={*before, *after, *touched})
    accounts = _accounts(places.values_list("pk", "kind", "subject"))
    opening, closing = _by_account(before, accounts), _by_account(after, accounts)
    sides = _sides(moved, accounts)
    used = {*opening, *closing, *sides}
    return [
        _account(key, opening[key], sides[key], closing[key])
        for key in sorted(used, key=lambda key: (key[1], _step(key[0]), key[0]))
        if opening[key] or closing[key] or any(sides[key].values())
    ]


def _accounts(places):
    """Each place in hand to its material and harvest."""
    subjects = defaultdict(dict)
    for pk, kind, subject in places:
        subjects[kind][subject] = pk
    return {
        subjects[kind][subject]: ACCOUNT[kind](*said)
        for kind, found in OF_SUBJECT.items()
        for subject, *said in found.filter(pk__in=subjects[kind])
    }


def _of_lot(kind, year):
    return kind, year


def _of_sheaves(year):
    return SHEAVES, year


def _of_rick(built):
    return SHEAVES, built.year


def _of_drum(built, year):
    return SHEAVES, built.year if built else year


LOTS = Lot.objects.values_list("pk", "kind", "harvest_year")
OF_SUBJECT = {
    Kind.STANDING: Sowing.objects.values_list("pk", "harvest_year"),
    Kind.STOOKS: StookSet.objects.values_list("pk", "cut__sowing__harvest_year"),
    Kind.RICK: Rick.objects.values_list("pk", "built"),
    Kind.DRUM: Threshing.objects.values_list(
        "pk", "rick__built", "stook_set__cut__sowing__harvest_year"
    ),
    Kind.LOT: LOTS,
    Kind.MILL: LOTS,
}
"""A kind of place in hand to what says the account of its things."""
ACCOUNT = {
    Kind.STANDING: _of_sheaves,
    Kind.STOOKS: _of_sheaves,
    Kind.RICK: _of_rick,
    Kind.DRUM: _of_drum,
    Kind.LOT: _of_lot,
    Kind.MILL: _of_lot,
}


def _held(holding, since, until):
    """Each place to what it held before and after the period.

    Reckoned back from today's balances: most periods that are asked for end near today,
    and a book grows longer every year.
    """
    today = Counter(
        dict(
            Balance.objects.filter(place__holding=holding)
            .exclude(grams=0)
            .values_list("place", "grams")
        )
    )
    lines = Line.objects.filter(movement__holding=holding)
    after = _less(today, lines.filter(movement__date__gt=until))
    within = lines.filter(movement__date__range=(since, until))
    return _less(after, within), after


def _less(held, lines):
    left = held.copy()
    left.subtract(dict(lines.values_list("place").annotate(Sum("grams"))))
    return Counter({place: grams for place, grams in left.items() if grams})


def _by_account(held, accounts):
    sums = defaultdict(int)
    for place, grams in held.items():
        if place in accounts:
            sums[accounts[place]] += grams
    return sums


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
