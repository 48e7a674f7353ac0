"""What stands against work: who was shown no machine, what is broken or due."""

import dataclasses
import enum

from sheafwright.records.models import Hand, Machine
from sheafwright.records.models.hands import Part
from sheafwright.records.selectors.hands import (
    BINDING,
    THRESHING,
    WEEK,
    briefed,
    who_comes,
)
from sheafwright.records.selectors.machines import (
    InsuranceNow,
    MachineNow,
    insurance_now,
    machines_now,
)

MANNED = {
    Machine.Kind.BINDER: BINDING,
    Machine.Kind.DRUM: THRESHING,
    Machine.Kind.COMB: THRESHING,
}
"""Kind of machine to the task of those who work at it, whom it must be shown to."""


class Kind(enum.IntEnum):
    """Lower comes first."""

    BROKEN = 0
    NOT_SHOWN = 1
    INSURANCE = 2
    CHECK = 3
    CLEANING = 4
    NO_SPARE = 5
    WORN = 6


@dataclasses.dataclass(frozen=True)
class Against:
    """One thing that ought to be put right before work."""

    kind: Kind
    machine: MachineNow | None = None
    hand: Hand | None = None
    parts: tuple[str, ...] = ()
    insurance: InsuranceNow | None = None
    """None, too, where there is none at all."""


def against_work(*, holding, days=WEEK):
    """Every `Against`, the worst first, for those who come in so many days."""
    machines = machines_now(holding=holding)
    found = [
        *_of_machines(machines),
        *not_shown(holding=holding, machines=machines, days=days),
        *insurance_lacking(holding=holding),
    ]
    return tuple(sorted(found, key=lambda each: each.kind))


def not_shown(*, holding, machines, days):
    """Those who come, and may work at a machine that nobody showed them this year."""
    shown, told = briefed(holding=holding), set()
    for half_day in who_comes(holding=holding, days=days):
        for machine in machines:
            task = MANNED.get(machine.machine.kind)
            for each in half_day.who_may(task) if task else ():
                pair = each.hand.pk, machine.machine.pk
                if pair not in shown | told:
                    told.add(pair)
                    yield Against(Kind.NOT_SHOWN, machine, each.hand)


def insurance_lacking(*, holding):
    """Employers' liability that ends soon, has ended, or was never written down."""
    now = insurance_now(holding=holding)
    hired = Hand.objects.filter(holding=holding).exists()
    if (now is None and hired) or (now and (now.ends_soon or now.has_ended)):
        yield Against(Kind.INSURANCE, insurance=now)


def checks_due(machines):
    """Machines that were not looked over since the first of June."""
    for machine in machines:
        if machine.wants_check:
            yield Against(Kind.CHECK, machine)


def _of_machines(machines):
    yield from checks_due(machines)
    for machine in machines:
        if machine.broken:
            yield Against(Kind.BROKEN, machine, parts=machine.broken)
        if machine.worn:
            yield Against(Kind.WORN, machine, parts=machine.worn)
        if machine.wants_cleaning:
            yield Against(Kind.CLEANING, machine)
        binds = machine.machine.kind == Machine.Kind.BINDER
        if binds and not machine.spares_for(Part.KNOTTER):
            yield Against(Kind.NO_SPARE, machine, parts=(Part.KNOTTER,))
