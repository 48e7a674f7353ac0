"""Machines as they stand: where, in what order, with which spares, and how they tie."""

import dataclasses
import datetime
from typing import NamedTuple

from sheafwright.feeds.units import in_unit
from sheafwright.records.clock import today
from sheafwright.records.models import Insurance, Machine, Spare, Tying
from sheafwright.records.models.hands import PARTS_OF, Part, State

CHECK_MONTH = 6
CHECKED_KINDS = (Machine.Kind.BINDER, Machine.Kind.DRUM)
"""Looked over before every harvest."""
INSURANCE_SOON = 30
"""Days before its end from which insurance is spoken of. [d]"""


class Seen(NamedTuple):
    """A part as it was last looked at."""

    part: str
    state: str
    date: datetime.date


@dataclasses.dataclass(frozen=True)
class SpareNow:
    """What one holder has."""

    part: str
    what: str
    count: int
    holder: str
    """Blank for ourselves."""
    date: datetime.date

    @property
    def name(self):
        return self.what or Spare.For(self.part).label


@dataclasses.dataclass(frozen=True)
class MachineNow:
    """A machine, where it stands, and what is known of it."""

    machine: Machine
    holder: str
    """Blank for ourselves."""
    stands: str
    parts: dict[str, Seen]
    checked: datetime.date | None
    """When it was last looked over."""
    wants_check: bool
    """Since the first of June its parts were not all looked at."""
    wants_cleaning: bool
    """It came back from another and was not cleaned down since."""
    spares: tuple[SpareNow, ...]

    @property
    def broken(self):
        return self._in(State.BROKEN)

    @property
    def worn(self):
        return self._in(State.WORN)

    @property
    def is_ready(self):
        """Whether nothing of it is known to be broken."""
        return not self.broken

    def spares_for(self, part):
        """How many there are, whoever holds them."""
        return sum(each.count for each in self.spares if each.part == part)

    def _in(self, state):
        return tuple(part for part, seen in self.parts.items() if seen.state == state)


class TyingNow(NamedTuple):
    """How a year's sheaves were tied; None for what nobody counted."""

    watched: int
    mis_ties_in_100: float | None
    twine_kg_per_ha: float | None

    @property
    def twine_kg_per_acre(self):
        per_ha = self.twine_kg_per_ha
        return None if per_ha is None else per_ha / in_unit(1, "area", "acre")


@dataclasses.dataclass(frozen=True)
class InsuranceNow:
    insurance: Insurance
    days_left: int
    """Less than nothing once it has run out."""

    @property
    def has_ended(self):
        return self.days_left < 0

    @property
    def ends_soon(self):
        return 0 <= self.days_left <= INSURANCE_SOON


def machines_now(*, holding):
    """Those not gone for good, by kind and name."""
    found = Machine.objects.filter(holding=holding).prefetch_related(
        "moves", "checks", "spares", "cleanings"
    )
    day = today(holding)
    return tuple(
        _now(machine, day) for machine in found if not _is_gone(machine.moves.all())
    )


def tying_now(*, holding, year=None):
    """How the binders tied in a year: all that was counted, together."""
    year = year or today(holding).year
    found = list(
        Tying.objects.filter(holding=holding, date__year=year).select_related("cut")
    )
    counts = [each for each in found if each.mis_ties is not None]
    used = [each for each in found if each.twine_kg is not None]
    watched = sum(each.sheaves for each in counts)
    ground = sum(each.area_ha or each.cut.area_ha for each in used)
    return TyingNow(
        watched=watched,
        mis_ties_in_100=100 * sum(e.mis_ties for e in counts) / watched
        if watched
        else None,
        twine_kg_per_ha=sum(e.twine_kg for e in used) / ground if ground else None,
    )


def insurance_now(*, holding, covers=Insurance.Covers.EMPLOYERS):
    """That which runs the longest, begun or not; None if none was written down."""
    last = Insurance.objects.filter(holding=holding, covers=covers).last()
    return last and InsuranceNow(last, (last.runs_to - today(holding)).days)


def _now(machine, day):
    move = machine.moves.all()[::-1][:1]
    holder, stands = (
        (move[0].holder, move[0].stands) if move else (machine.holder, machine.stands)
    )
    parts = _parts(machine)
    return MachineNow(
        machine=machine,
        holder=holder,
        stands=stands,
        parts=parts,
        checked=max((seen.date for seen in parts.values()), default=None),
        wants_check=_wants_check(machine, parts, day),
        wants_cleaning=_wants_cleaning(machine, holder),
        spares=_spares(machine),
    )


def _is_gone(moves):
    moves = list(moves)
    return bool(moves) and moves[-1].gone


def _parts(machine):
    """Each part as it was last seen, whichever check that was."""
    seen = {}
    for check in machine.checks.all():
        for part in Part.values:
            if state := getattr(check, part):
                seen[part] = Seen(part, state, check.date)
    return {part: seen[part] for part in Part.values if part in seen}


def _wants_check(machine, parts, day):
    """From June on; before it, last June's check is good enough."""
    if machine.kind not in CHECKED_KINDS or day.month < CHECK_MONTH:
        return False
    first = datetime.date(day.year, CHECK_MONTH, 1)
    return any(
        part not in parts or parts[part].date < first for part in PARTS_OF[machine.kind]
    )


def _wants_cleaning(machine, holder):
    moves = list(machine.moves.all())
    if holder or not moves:
        return False
    since = moves[-1].since
    return all(cleaning.date < since for cleaning in machine.cleanings.all())


def _spares(machine):
    last = {}
    for each in machine.spares.all():
        key = each.part, each.what.strip().casefold(), each.holder.strip().casefold()
        last[key] = SpareNow(
            each.part, each.what, each.count, each.holder.strip(), each.date
        )
    return tuple(each for each in last.values() if each.count)
