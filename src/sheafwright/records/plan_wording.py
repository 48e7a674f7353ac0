"""Every sentence that the pages say of the cropping plan; the engine says the rest."""

import datetime

from django.utils.formats import date_format
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from sheafwright.feeds.telling import first_sentence
from sheafwright.records.models.plan import PlanCrop
from sheafwright.records.wording import listed

A_WEEK = datetime.timedelta(7)
SOLD_AS = {
    "in_conversion": gettext_lazy("in conversion"),
    "not_organic": gettext_lazy("not organic"),
}


def headline(said):
    """The answer, and what is to be said beneath it."""
    if "refused" in said:
        return _("No plan can be made as things stand."), said["refused"]
    return first_sentence(said["sentence"])


def is_older():
    return _(
        "Since then something was written that changes the plan: it is being worked "
        "out anew. Look again in a minute."
    )


def how_to_pin(years):
    return _(
        "Tap a crop of %(years)s to pin it, or one that is pinned to free it again."
    ) % {"years": listed(years)}


def reckoned_with(hands, hours):
    """Whose hours the plan counts on."""
    return ngettext(
        "Reckoned with the one person who writes in this book: %(hours)d hours a week.",
        "Reckoned with the %(hands)d people who write in this book: together "
        "%(hours)d hours a week.",
        hands,
    ) % {"hands": hands, "hours": hours}


def to_say_they_bore(unsaid):
    """Of some fields, the harvests of which it was never said."""
    if not unsaid:
        return ""
    each = [
        _("what %(field)s bore in %(years)s")
        % {"field": field, "years": years_listed(years)}
        for field, years in unsaid.items()
    ]
    return _(
        "Say %(each)s: until then the plan counts on neither wheat nor ley there."
    ) % {"each": "; ".join(each)}


def years_listed(years):
    """2020 to 2022 and 2024."""
    runs = []
    for year in years:
        if runs and year == runs[-1][-1] + 1:
            runs[-1] = (runs[-1][0], year)
        else:
            runs.append((year, year))
    return listed([each for run in runs for each in _run(*run)])


def _run(first, last):
    """Its years; from which to which, where they are more than two."""
    if last - first < 2:
        return range(first, last + 1)
    return (_("%(first)d to %(last)d") % {"first": first, "last": last},)


def say_of(field):
    return _("Say what %(field)s bore") % {"field": field}


def and_of_others(count):
    return ngettext(
        "And of %(count)d other field", "And of %(count)d other fields", count
    ) % {"count": count}


def to_say_how_farmed(names):
    return ngettext(
        "Say how %(fields)s is farmed: until then its corn counts as not organic.",
        "Say how %(fields)s are farmed: until then their corn counts as not organic.",
        len(names),
    ) % {"fields": listed(names)}


def is_against(field, year, why):
    return _(
        "%(field)s is sown with wheat for %(year)d, though %(why)s; so this plan "
        "leaves it out."
    ) % {"field": field, "year": year, "why": why}


def no_field_takes_part():
    return _(
        "No field takes part in a cropping plan: they stay in grass, or are left out."
    )


def busiest(year):
    """The week with the least hours to spare: its first day, and its hours."""
    begins = datetime.date(year["year"], 1, 1) + (year["busiest_week"] - 1) * A_WEEK
    return _("%(day)s: %(hours).0f\u00a0h") % {
        "day": date_format(begins, "j M").replace(" ", "\u00a0"),
        "hours": year["busiest_week_h"],
    }


def pin_it(field, year, is_pinned):
    """What a tap on a square does, for those who hear the page."""
    says = (
        _("in %(field)s, %(year)d: free it")
        if is_pinned
        else _("in %(field)s, %(year)d: pin it")
    )
    return says % {"field": field, "year": year}


def free(pin):
    return _("Free %(field)s in %(year)d (%(crop)s)") % {
        "field": pin.field,
        "year": pin.harvest_year,
        "crop": pin.get_crop_display(),
    }


def want_no_longer(wanted, least, most):
    """What was wanted of a crop, to be let go."""
    limits = [
        *([_("at least %(area)s") % {"area": least}] if least else []),
        *([_("at most %(area)s") % {"area": most}] if most else []),
    ]
    return _("Any area of %(crop)s will do in %(year)d (now %(limits)s)") % {
        "crop": wanted.get_crop_display(),
        "year": wanted.harvest_year,
        "limits": listed(limits),
    }


def of_a_field(field, year):
    """Why it bears what it does in a year, and what else it might."""
    said = [_("%(crop)s in %(year)d: %(reason)s.")]
    if year["next_best"]:
        said.append(f"{capfirst(year['next_best']['why'])}.")
    # Crops that the same rule forbids are named together.
    why = {}
    for each in year["blocked"]:
        why.setdefault(each["why"], []).append(PlanCrop(each["crop"]).label)
    said += [
        _("No %(crops)s: %(why)s.") % {"crops": _or(crops), "why": reason}
        for reason, crops in why.items()
    ]
    first, *rest = said
    first %= {
        "crop": crop_says(year["crop"]),
        "year": year["year"],
        "reason": year["reason"],
    }
    return " ".join((f"{field}, {first}", *rest))


def crop_says(crop):
    return PlanCrop(crop).label if crop in PlanCrop else _("grass")


def _or(names):
    *most, last = map(str, names)
    if not most:
        return last
    return _("%(most)s or %(last)s") % {"most": ", ".join(most), "last": last}
