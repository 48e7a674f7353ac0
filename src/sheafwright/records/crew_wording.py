"""Every sentence that the pages say of the crew's half-days."""

import datetime

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from sheafwright.answers.turns_wording import HOLDS_UP, LOSES, VERDICTS
from sheafwright.feeds.telling import joined, measured, say
from sheafwright.records.models import Breakdown
from sheafwright.records.models.hands import Half


def wants_hands():
    return _(
        "Write down who may come to work, and who does what in the next half-days is "
        "planned here."
    )


def being_planned():
    return _("Being planned; look again in a minute.")


def is_older():
    return _("The book has changed since; the plan is being made anew.")


def half_day(half):
    """Such as: Thu 6 Aug, morning."""
    date = datetime.date.fromisoformat(half["date"])
    return _("%(day)s, %(half)s") % {
        "day": date_format(date, "D j M"),
        "half": Half(half["half"]).label,
    }


def done(half):
    """What everybody does, or why nobody does anything."""
    said = [row["says"] for row in half["rows"]]
    if half["free"] and said:
        said.append(_("free: %(names)s") % {"names": ", ".join(half["free"])})
    if said:
        return joined(*said, by="; ")
    if half["shower"]:
        return _("nothing: a shower")
    if not half["fit_hours_h"]:
        return _("nothing: too likely wet")
    return _("nothing")


def left(each):
    return _("%(area)s of %(field)s: %(why)s.") % {
        "area": measured(each["area_ha"], "ha", ".1f"),
        "field": each["field"],
        "why": each["why"],
    }


def if_left(until):
    """Heads the column of `turn`."""
    date = datetime.date.fromisoformat(until)
    return _("If left past %(day)s") % {"day": date_format(date, "D j M")}


def turn(verdict, lost_gbp):
    """Whether a field can wait, and what it costs if not; both as shown."""
    said = {"field": say(VERDICTS[verdict]), "money": lost_gbp}
    if verdict in (LOSES, HOLDS_UP):
        return _("%(field)s: %(money)s less") % said
    return said["field"]


def says_state(machine, state):
    if state == Breakdown.State.BROKEN:
        return _("%(machine)s is broken…") % {"machine": machine}
    return _("%(machine)s is mended…") % {"machine": machine}


def since(half):
    if half == Half.MORNING:
        return _("since this morning")
    return _("since this afternoon")


def this(half):
    return _("this morning") if half == Half.MORNING else _("this afternoon")
