"""Who comes and what they may do; machines, their checks, spares and briefings."""

import datetime

from django.utils.translation import gettext as _

from sheafwright.records.clock import today
from sheafwright.records.errors import NotOurs
from sheafwright.records.models import (
    Briefing,
    Coming,
    Hand,
    HandTasks,
    Insurance,
    Machine,
    MachineCheck,
    MachineMove,
    Spare,
    Tying,
)
from sheafwright.records.models.hands import PARTS_OF, Part
from sheafwright.records.services.checks import (
    happened,
    in_order,
    not_ahead,
    refuse,
    says_something,
)
from sheafwright.records.services.corrections import put_right
from sheafwright.records.services.entry import entry_add

LONGEST = datetime.timedelta(days=62)
"""Nobody says so far ahead, or for so long at once, on which days they can come."""
AHEAD = datetime.timedelta(days=400)


def hand_add(*, id, holding, name, person=None, **said):
    """Write down somebody who may come to work.

    Parameters
    ----------
    person : Person, optional
        As whom they sign in; one who has something to do with this holding.
    """
    _one_of_a_name(Hand, id, holding, name)
    if person and not person.memberships.filter(holding=holding).exists():
        raise NotOurs("There is no such person on this holding.")
    return entry_add(Hand, id=id, holding=holding, name=name, person=person, **said)


def hand_tasks_set(*, holding, since, **said):
    """Say what a hand may do from a day on, all of it; or that they come no more."""
    not_ahead(holding, since, "since")
    return entry_add(HandTasks, holding=holding, since=since, **said)


def coming_say(*, holding, date, until=None, **said):
    """Say whether a hand can come on a day, or on each day of several."""
    in_order(date, until, _("it begins"), "until")
    if until and until - date > LONGEST:
        refuse(
            "until",
            _("That is %(days)d days; say at most %(most)d at once.")
            % {"days": (until - date).days, "most": LONGEST.days},
        )
    if abs(date - today(holding)) > AHEAD:
        refuse(
            "date",
            _("%(date)s is more than a year away; it should be a day nearer.")
            % {"date": date},
        )
    return entry_add(Coming, holding=holding, date=date, until=until, **said)


def machine_add(*, id, holding, kind, name, cut_width_m=None, **said):
    _one_of_a_name(Machine, id, holding, name)
    _cuts(kind, cut_width_m)
    return entry_add(
        Machine,
        id=id,
        holding=holding,
        kind=kind,
        name=name,
        cut_width_m=cut_width_m,
        **said,
    )


def machine_correct(*, id, holding, made_by, machine, why, note="", **said):
    """Say more of a machine, such as its deck, or put it right."""
    if "cut_width_m" in said:
        _cuts(machine.kind, said["cut_width_m"])
    return put_right(
        id=id,
        holding=holding,
        made_by=made_by,
        machine=machine,
        now=said,
        why=why,
        note=note,
    )


def _cuts(kind, width):
    if width and kind != Machine.Kind.BINDER:
        refuse("cut_width_m", _("Only a binder cuts; leave its width out."))


def machine_move(*, holding, since, **said):
    """Say who has a machine and where it stands from a day on, or that it is gone."""
    not_ahead(holding, since, "since")
    return entry_add(MachineMove, holding=holding, since=since, **said)


def machine_check_record(*, holding, machine, date, **said):
    not_ahead(holding, date)
    found = {part: said.get(part) for part in Part.values}
    says_something("note", *found.values())
    has = PARTS_OF.get(machine.kind, Part.values)
    for part, state in found.items():
        if state and part not in has:
            refuse(
                part,
                _("A %(kind)s has no %(part)s; leave that out.")
                % {"kind": machine.get_kind_display(), "part": Part(part).label},
            )
    return entry_add(MachineCheck, holding=holding, machine=machine, date=date, **said)


def spare_count(*, holding, date, **said):
    """How many spares of a part one holder has; counted again, the later counts."""
    not_ahead(holding, date)
    return entry_add(Spare, holding=holding, date=date, **said)


def briefing_record(*, holding, date, **said):
    not_ahead(holding, date)
    return entry_add(Briefing, holding=holding, date=date, **said)


def tying_record(
    *,
    holding,
    machine,
    date,
    cut=None,
    sheaves=None,
    mis_ties=None,
    twine_kg=None,
    area_ha=None,
    **said,
):
    """Sheaves watched behind a binder and how many came untied; twine and its ground.

    Parameters
    ----------
    area_ha : float, optional
        Where the twine went; the area of the cut, if it is not said.
    """
    happened(holding, date, cut and cut.date, _("it was cut"))
    if machine.kind != Machine.Kind.BINDER:
        refuse("machine", _("Only a binder ties sheaves; choose the binder."))
    says_something("mis_ties", mis_ties, twine_kg)
    _check_ties(sheaves, mis_ties)
    if twine_kg and not (area_ha or cut):
        refuse("area_ha", _("Say on how much ground the twine went, or which block."))
    return entry_add(
        Tying,
        holding=holding,
        machine=machine,
        date=date,
        cut=cut,
        sheaves=sheaves,
        mis_ties=mis_ties,
        twine_kg=twine_kg,
        area_ha=area_ha,
        **said,
    )


def insurance_add(*, holding, since, runs_to, **said):
    in_order(since, runs_to, _("it begins"), "runs_to")
    return entry_add(Insurance, holding=holding, since=since, runs_to=runs_to, **said)


def _check_ties(sheaves, mis_ties):
    if mis_ties is None:
        return
    if not sheaves:
        refuse("sheaves", _("Say of how many sheaves watched those came untied."))
    if mis_ties > sheaves:
        refuse(
            "mis_ties",
            _(
                "%(untied)d untied of %(sheaves)d watched; it should be no more than "
                "were watched."
            )
            % {"untied": mis_ties, "sheaves": sheaves},
        )


def _one_of_a_name(kind, id, holding, name):
    others = kind.objects.filter(holding=holding, name__iexact=name.strip())
    if others.exclude(pk=id).exists():
        refuse(
            "name",
            _("%(name)s is written down already; give another name, or use that one.")
            % {"name": name.strip()},
        )
