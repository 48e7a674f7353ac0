"""Every sentence that pages and papers say of the drum; the engine's in its answers."""

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sheafwright.records.wording import day

UNKNOWN = "–"


def looks_odd(run):
    """Over what is odd of the last run, before the next is begun."""
    return _("Before the next rick: %(run)s") % {"run": run}


def turn(each):
    """A rick's turn, in a word or two."""
    if each.verdict == "barred":
        return _("not yet: it is hot")
    if each.verdict == "not_yet":
        return _("not before %(day)s") % {"day": day(each.from_day)}
    if each.probe_first:
        return _("probe it first")
    return _("may be opened")


def how(each):
    return _("comb") if each.combed else _("long straw")


def no_orders():
    return _("No order in the book waits for a rick; one that does goes by its day.")


def winter_waits():
    return _("The days that are fit for the comb are still being worked out.")


def no_weather():
    return _("Without a weather record nobody can tell which days are fit.")


def weeks_are():
    return _(
        "Days of each week likely fit for the comb (few to many, 4 winters in 5), and "
        "the share of its days that each thing spoils."
    )


def days_of(few, likely, many):
    """Fit days of a week: likely, few and many."""
    return _("%(likely).1f (%(few).0f to %(many).0f)") % {
        "likely": likely,
        "few": few,
        "many": many,
    }


def short_run(threshing):
    """A run in a table."""
    where = threshing.rick or _("stooks")
    said = {"where": where, "day": date_format(threshing.date, "j M Y")}
    return _("%(where)s, %(day)s") % said


def shares_of(check):
    """Straw and its limits, grain, tail and waste of a run, as a table has them."""
    by_product = {each.product: each for each in check.shares}
    straw = by_product.get("reed") or by_product.get("long_straw")
    rest = (by_product.get(name) for name in ("grain", "tail", "waste"))
    return (_share(straw), _between(straw), *(_share(each) for each in rest))


def _share(each):
    if each is None:
        return UNKNOWN
    words = {0: "%(share)s", -1: _("%(share)s, low"), 1: _("%(share)s, high")}
    return words[each.odd] % {"share": f"{100 * each.share:.1f}%"}


def _between(each):
    if each is None or not each.is_judged:
        return UNKNOWN
    low, high = (100 * limit for limit in (each.limits.low, each.limits.high))
    return _("%(low).0f to %(high).0f%%") % {"low": low, "high": high}


def limits_are():
    return _(
        "Each run is held against your own before it: low and high are outside of "
        "what they gave, by three standard deviations."
    )


def crew_of(each):
    """How many threshed, for how long."""
    if not each.crew:
        return UNKNOWN
    hands = ngettext("%(count)d hand", "%(count)d hands", each.crew)
    return _("%(hands)s, %(hours).0f h") % {
        "hands": hands % {"count": each.crew},
        "hours": each.hours,
    }


def days_said(days, mean):
    return ngettext(
        "On your own last day at the drum %(mean)s of sheaves went through.",
        "On your own last %(count)d days at the drum %(mean)s of sheaves went through "
        "a day.",
        days,
    ) % {"count": days, "mean": mean}


# The day's sheet.


def target_known(low, high, runs):
    return ngettext(
        "Reed %(low).0f to %(high).0f%% of the sheaves' weight, by your own %(count)d "
        "run.",
        "Reed %(low).0f to %(high).0f%% of the sheaves' weight, by your own %(count)d "
        "runs.",
        runs,
    ) % {"low": 100 * low, "high": 100 * high, "count": runs}


def target_usual(low, high):
    return _("Reed %(low).0f to %(high).0f%% of the sheaves' weight is usual.") % {
        "low": 100 * low,
        "high": 100 * high,
    }


def long_straw_usual(low, high):
    return _(
        "Long straw %(low).0f to %(high).0f%% of the sheaves' weight is usual."
    ) % {"low": 100 * low, "high": 100 * high}


def outside_stop():
    return _(
        "Weigh the first ten bundles and the grain of them. Outside of that: stop, and "
        "look at the comb."
    )


def a_day(low, high):
    return _("%(low)s to %(high)s of sheaves in a day.") % {"low": low, "high": high}


def crew_wanted(few, many):
    return _("A crew is %(few)d to %(many)d.") % {"few": few, "many": many}


def hand_said(name, was_shown):
    if was_shown:
        return name
    return _("%(name)s: show them the drum first, and sign") % {"name": name}


def sheet_cautions():
    return (
        _(
            "Guards on every belt, pulley and shaft, and over the feed mouth, before "
            "it runs. Nobody feeds from above an open drum."
        ),
        _(
            "Stop it, and wait until everything stands still, before anybody clears, "
            "oils or reaches in. One person alone starts it, and calls first."
        ),
        _(
            "Dust of straw and mould scars lungs for good (farmer's lung): masks that "
            "fit and stop fine dust, doors open to the wind, mouldy sheaves left out. "
            "Fever or tight breath the same evening: tell a doctor about the dust."
        ),
        _("Ear protection for everybody within call of the drum."),
        _(
            "No smoking and no hot engine near: exhaust away from straw, a charged "
            "extinguisher and water by the drum, chaff swept up, bearings felt every "
            "hour."
        ),
        _(
            "Trousers tied at the ankle, no loose cloth, long hair under a cap. Ladder "
            "tied, nobody alone on the rick: sheaves slump."
        ),
        _("A fishy smell is bunt: stop, set its lots apart, clean down."),
        _("Local codes and trained people first."),
    )
