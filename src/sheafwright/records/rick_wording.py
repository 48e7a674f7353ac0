"""Every sentence that pages and papers say of a rick's room, keeping, value and calls.

What the engine says stands in its answers.
"""

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sheafwright.feeds.sheaves import sheaves
from sheafwright.feeds.units import show


def probe_next(due):
    """When the probe is due, in the holding's zone."""
    return _("Probe it next by %(day)s, %(time)s.") % {
        "day": date_format(due, "l j F"),
        "time": date_format(due, "H:i"),
    }


def room_left(room, units):
    """Sheaves that still go on, and what they weigh."""
    if not room.high:
        return _("It is full.")
    a_sheaf = sheaves().kg_per_sheaf
    low, high = (show(a_sheaf * n, "mass", units) for n in (room.low, room.high))
    if room.low == room.high:
        return ngettext(
            "Room is left for about %(count)s sheaf, %(weight)s.",
            "Room is left for about %(count)s sheaves, %(weight)s.",
            room.high,
        ) % {"count": f"{room.high:,}", "weight": high}
    return _(
        "Room is left for %(low)s to %(high)s sheaves, %(light)s to %(heavy)s."
    ) % {
        "low": f"{room.low:,}",
        "high": f"{room.high:,}",
        "light": low,
        "heavy": high,
    }


def no_shape():
    return _("Say its shape and sizes, and its room is worked out.")


def keeping_unknown():
    """Why nothing tells how long a rick keeps."""
    return _(
        "How long it keeps can't be told: that takes a moisture of its grain, by the "
        "meter in the stook or as it was carted, and one temperature."
    )


def worth_said(money):
    return _("It is put at %(money)s.") % {"money": money}


def worth_unknown():
    return _("Nobody has said what it is worth.")


def conditions(said):
    return _("The insurer's conditions: %(said)s") % {"said": said}


def no_conditions():
    return _("No conditions of an insurer are written down.")


def ring(calls):
    """Whom to ring, in order."""
    if not calls:
        return _("Nobody is written down to be rung: write the fire service first.")
    named = "; ".join(f"{call.name} {call.number}".strip() for call in calls)
    return _("Ring, in this order: %(named)s.") % {"named": named}


def no_distances():
    return _("No distance to buildings, road or other ricks is written down.")


def behind_it():
    return _("Its value, distances, conditions, and whom to ring")


def pounds(value):
    """What somebody said that it is worth, to the pound."""
    return f"£{value:,.0f}"
