"""Every sentence that the pages say of hands and machines."""

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sheafwright.feeds.units import show
from sheafwright.records.models.hands import Half, Part, State
from sheafwright.records.selectors.against import Kind
from sheafwright.records.selectors.hands import (
    BINDING,
    CARTING,
    STOOKING,
    THRESHING,
)
from sheafwright.records.wording import day, listed

TASKS = {
    BINDING: lambda: _("binder"),
    STOOKING: lambda: _("stooks"),
    CARTING: lambda: _("carts"),
    THRESHING: lambda: _("drum"),
}


def headline(week, today):
    """Who comes on the first day that anybody comes on."""
    first = next((each.half_day.date for each in week if each.comes), None)
    if first is None:
        return _("Nobody has said that they can come in the next 7 days.")
    came = {
        each.half_day.half: [hand.name for hand in each.comes]
        for each in week
        if each.half_day.date == first
    }
    return _of_a_day(first, today, came[Half.MORNING], came[Half.AFTERNOON])


def _of_a_day(date, today, morning, afternoon):
    said = {"day": _("Today") if date == today else day(date)}
    if morning == afternoon:
        return _("%(day)s: %(who)s, all day.") % {
            **said,
            "who": listed(morning),
        }
    return _("%(day)s: %(morning)s in the morning, %(afternoon)s in the afternoon.") % {
        **said,
        "morning": listed(morning) if morning else _("nobody"),
        "afternoon": listed(afternoon) if afternoon else _("nobody"),
    }


def beneath(against):
    """The worst of it; the rest stands below."""
    if not against:
        return _("Nothing that is written down stands against work.")
    return stands_against(against[0])


def stands_against(each):
    return SAYS[each.kind](each)


def _broken(each):
    return _("%(machine)s: %(parts)s broken or missing; don't run it so.") % _of(each)


def _worn(each):
    return _("%(machine)s: %(parts)s worn.") % _of(each)


def _not_shown(each):
    return _("%(hand)s was not shown %(machine)s this year, or did not sign.") % {
        "hand": each.hand,
        "machine": each.machine.machine,
    }


def _insurance(each):
    now = each.insurance
    if now is None:
        return _("No employers' liability insurance is written down.")
    if now.has_ended:
        return _("Employers' liability insurance ended on %(day)s.") % _ends(now)
    return _("Employers' liability insurance ends on %(day)s.") % _ends(now)


def _check(each):
    return _("%(machine)s was not looked over since the first of June.") % _of(each)


def _cleaning(each):
    return _("%(machine)s came back and was not cleaned down since.") % _of(each)


def _no_spare(each):
    return _("No spare %(parts)s for %(machine)s.") % _of(each)


SAYS = {
    Kind.BROKEN: _broken,
    Kind.NOT_SHOWN: _not_shown,
    Kind.INSURANCE: _insurance,
    Kind.CHECK: _check,
    Kind.CLEANING: _cleaning,
    Kind.NO_SPARE: _no_spare,
    Kind.WORN: _worn,
}


def _of(each):
    return {"machine": each.machine.machine, "parts": parts(each.parts)}


def _ends(now):
    return {"day": date_format(now.insurance.runs_to, "j F Y")}


def parts(names):
    return listed(Part(name).label for name in names) if names else ""


def shown_why():
    return _("Who works at a machine must know how it is stopped.")


def check_why():
    return _("What is found in June can still be mended before harvest.")


def insurance_why():
    return _(
        "Helpers who are paid nothing may count as employed: ask your insurer, and go "
        "by the law where you are."
    )


def said_nothing(week):
    """Hands of whom nothing is known for the whole week."""
    unsaid = set.intersection(*({h.name for h in each.unsaid} for each in week))
    if not unsaid:
        return ""
    return _("Nothing said of these days: %(who)s.") % {"who": listed(sorted(unsaid))}


def may(hand):
    """The tasks of a hand."""
    done = [says() for task, says in TASKS.items() if task in hand.may]
    return listed(done) if done else _("nothing yet")


def where(machine):
    """Who has it, and where it stands."""
    said = {"holder": machine.holder, "stands": machine.stands}
    if machine.holder and machine.stands:
        return _("%(holder)s has it: %(stands)s.") % said
    if machine.holder:
        return _("%(holder)s has it.") % said
    return _("Here: %(stands)s.") % said if machine.stands else _("Here.")


def deck(machine, units):
    """What bundles go on, and how much of them; '' where nobody said."""
    length, width = machine.deck_length_m, machine.deck_width_m
    said = []
    if length and width:
        sides = {
            "length": show(length, "distance", units),
            "width": show(width, "distance", units),
        }
        said.append(_("%(length)s by %(width)s") % sides)
    if machine.payload_kg:
        said.append(show(machine.payload_kg, "mass", units))
    return ", ".join(said)


def machine_said(machine):
    """What is known of a machine, in sentences."""
    shared, checked = machine.machine.shared_with, machine.checked
    said = [where(machine)]
    if shared:
        said.append(_("Shared with %(whom)s.") % {"whom": shared})
    said.append(
        _("Last looked over on %(day)s.") % {"day": day(checked)}
        if checked
        else _("Not looked over yet, as far as is written down.")
    )
    return " ".join(said)


def days(hours, hours_a_day):
    """Hours as days of work, in halves as people reckon them."""
    if not hours:
        return _("nothing")
    halves = round(2 * hours / hours_a_day)
    said = {"days": halves / 2, "hours": hours}
    if halves == 2:
        return _("1 day (%(hours)g h)") % said
    return _("%(days)g days (%(hours)g h)") % said


def tied(tying):
    """How many sheaves came untied, of those that were watched."""
    if tying.mis_ties_in_100 is None:
        return _("No sheaves were watched this year for those that come untied.")
    return ngettext(
        "Of %(n)d sheaf watched this year %(share).1f in 100 came untied.",
        "Of %(n)d sheaves watched this year %(share).1f in 100 came untied.",
        tying.watched,
    ) % {"n": tying.watched, "share": tying.mis_ties_in_100}


def tied_elsewhere(usual, bad):
    """What is taken of a binder in order, and what was counted of bad twine."""
    return _(
        "A binder in good order is taken to miss %(usual)g in 100, which is assumed. "
        "One farm wrote of %(low)g to %(high)g in 100 until it had better twine."
    ) % {"usual": usual, "low": bad[0], "high": bad[1]}


def insured(now):
    if now is None:
        return _("None is written down.")
    if now.has_ended:
        return _("It ended on %(day)s.") % _ends(now)
    return _("It runs until %(day)s.") % _ends(now)


def a_day_is(hours):
    return _("A day is taken as %(hours)g hours.") % {"hours": hours}


def nothing_owed():
    return _("Nothing is owed either way.")


def machine_named(machine):
    """Its name, with what it is if the name doesn't say so."""
    name, kind = machine.name, machine.get_kind_display()
    if kind.split()[-1].casefold() in name.casefold():
        return name
    return _("%(name)s, %(kind)s") % {"name": name, "kind": kind}


def look_over():
    return _("Look it over")


def goes_or_comes():
    return _("It goes to somebody, or comes back")


def clean_down():
    return _("Clean it down")


def parts_said(machine):
    """The state of each part that was looked at."""
    if not machine.parts:
        return ""
    seen = [
        _("%(part)s %(state)s")
        % {"part": Part(each.part).label, "state": State(each.state).label}
        for each in machine.parts.values()
    ]
    return _("As last seen: %(parts)s.") % {"parts": ", ".join(seen)}


def spares_said(machine):
    if not machine.spares:
        return _("No spares are written down.")
    held = [
        _("%(count)d %(what)s (%(holder)s)")
        % {
            "count": each.count,
            "what": each.name,
            "holder": each.holder or _("here"),
        }
        for each in machine.spares
    ]
    return _("Spares: %(spares)s.") % {"spares": ", ".join(held)}


def twine(weight):
    """What went on an acre, already in the reader's units."""
    if weight is None:
        return _("How much twine went on an acre this year is not written down.")
    return _("Twine: %(weight)s an acre this year.") % {"weight": weight}
