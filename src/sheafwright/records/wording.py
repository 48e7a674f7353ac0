"""Every sentence that the pages say of the record itself.

What the engine says stands in `sheafwright.answers.wording`.
"""

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext


def day(date):
    """Wednesday 5 August."""
    return date_format(date, "l j F")


def nothing_to_do():
    return _("Nothing presses today.")


def cut_today(field):
    return _("Cut %(field)s today.") % {"field": field}


def may_be_fit(field, date):
    return _("%(field)s will be fit about %(day)s.") % {
        "field": field,
        "day": day(date),
    }


def walk_it():
    return _("Walk it and look: nodes, the stem below the ear, milk under the nail.")


def leave(field):
    return _("Leave %(field)s for now.") % {"field": field}


def probe(rick):
    return _("Probe %(rick)s.") % {"rick": rick}


def to_settle(count):
    return ngettext(
        "%(count)d late entry did not fit the book.",
        "%(count)d late entries did not fit the book.",
        count,
    ) % {"count": count}


def settle_them():
    return _("Nothing is lost: say what really happened, and it is written.")


def certificate_ends(holder, date):
    return _("The certificate of %(holder)s runs to %(day)s.") % {
        "holder": holder,
        "day": day(date),
    }


def straw_not_covered():
    return _("Straw is not on your certificate.")


def ask_for_it():
    return _("Ask the control body: straw sold as organic must be on it.")


def renew():
    return _("What is sold after that day is not covered.")


def cover(rick):
    return _("%(rick)s stands uncovered.") % {"rick": rick}


def cover_why():
    return _("Rain that gets into the top goes down through it.")


def walk_for_weeds(field):
    return _("Walk %(field)s for weeds and odd plants.") % {"field": field}


def weeds_why():
    return _("In June they can still be pulled; at the drum they are in the reed.")


def cutting_headline(cut_now, others):
    """Which fields to cut today, and which to leave."""
    if cut_now:
        return _("Cut %(fields)s today.") % {"fields": listed(cut_now)}
    if others:
        return _("Nothing to cut today.")
    return _("No crop stands in the field.")


def listed(names):
    """This, that and the other."""
    *most, last = map(str, names)
    if not most:
        return last
    return _("%(most)s and %(last)s") % {"most": ", ".join(most), "last": last}


def being_worked_out():
    return _("Being worked out: look again in a minute.")


def growing_headline(crops):
    """How many crops stand, and what comes next."""
    if not crops:
        return _("No crop stands in the field.")
    return ngettext(
        "%(count)d crop stands in the field.",
        "%(count)d crops stand in the field.",
        len(crops),
    ) % {"count": len(crops)}


def growing_odds(crops):
    told = next((crop for crop in crops if crop.is_answered), None)
    if told is None:
        return ""
    return f"{told.sowing.field}: {told.sentence}"


def stooks_headline(sets, first):
    if not sets:
        return _("Nothing stands in the stook.")
    return first or ngettext(
        "%(count)d block stands in the stook.",
        "%(count)d blocks stand in the stook.",
        len(sets),
    ) % {"count": len(sets)}
