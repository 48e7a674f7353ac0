"""Every sentence that pages say of grain, milling and flour themselves.

What the engine says stands in its answers.
"""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sheafwright.answers.grain_wording import CHECKS
from sheafwright.feeds.grain import store
from sheafwright.feeds.telling import shown, told
from sheafwright.records.models import FlourCheck, Lot, StoreCheck
from sheafwright.records.wording import listed

UNKNOWN = "–"


def headline(held, weight):
    """What there is, by kind."""
    if not held.count:
        return _("No grain or flour in store.")
    kinds = [
        _("%(weight)s of %(what)s")
        % {"weight": weight(held.by_kind[kind]), "what": Lot.Kind(kind).label}
        for kind in (Lot.Kind.GRAIN, Lot.Kind.TAIL, Lot.Kind.FLOUR, Lot.Kind.BRAN)
        if kind in held.by_kind
    ]
    said = _("%(kinds)s in store.") % {"kinds": listed(kinds)}
    if held.set_apart:
        apart = _("Set apart: %(lots)s.") % {"lots": listed(held.set_apart)}
        return f"{said} {apart}"
    return said


def first_of_all(lot, step):
    """The most pressing thing, under the headline."""
    return _("First, %(lot)s: %(step)s") % {"lot": lot, "step": step.says}


# What to do next with a lot.


NAMED = 3
"""Lots of one step that are named; the others are counted."""


def lots_together(lots):
    """Lots whose next step is one and the same."""
    others = len(lots) - NAMED
    codes = [lot.code.replace("-", "\u2011") for lot in lots[:NAMED]]
    if others < 1:
        return listed(codes)
    return ngettext(
        "%(lots)s and %(others)d more", "%(lots)s and %(others)d more", others
    ) % {"lots": ", ".join(codes), "others": others}


def is_gone(day):
    """Of flour whose best days are over."""
    return _("%(day)s, gone by") % {"day": day}


def clear_or_write_off():
    return _("It is set apart: clear it, or write it off.")


def amiss(check):
    return _("%(found)s in %(where)s: see to it, then look again.") % {
        "found": check.get_found_display().capitalize(),
        "where": check.where,
    }


def take_its_moisture():
    return _("Take its moisture: nobody has.")


def dry_it(now, most):
    return _("Dry it: %(now).1f%%, and a mill takes up to %(most).1f%%.") % {
        "now": now,
        "most": most,
    }


def dress_it():
    return _("Dress it: nobody has cleaned it since the drum.")


def look_at_it(last, day):
    if last is None:
        return _("Look at it in its store for warmth, damp and insects.")
    days = (day - last.date).days
    return ngettext(
        "Look at it in its store, as nobody has for %(days)d day.",
        "Look at it in its store, as nobody has for %(days)d days.",
        days,
    ) % {"days": days}


def have_it_tested(names):
    called = {
        "protein_pct": _("protein"),
        "hagberg_s": _("falling number"),
        "specific_weight_kg_per_hl": _("bushel weight"),
        "admixture_pct": _("admixture"),
    }
    return _("Have it tested: %(tests)s.") % {
        "tests": listed([called[name] for name in names])
    }


def choose():
    return _("Choose: sell it, mill it, feed it, give it back or keep it for seed.")


def feed_or_sell():
    return _("Feed it, or sell it as feed.")


def bag_it():
    return _("Bag it, and print its labels.")


def finish_checklist(left):
    return ngettext(
        "Before it is sold: %(left)d thing of the flour list is not done.",
        "Before it is sold: %(left)d things of the flour list are not done.",
        left,
    ) % {"left": left}


def sell_it():
    return _("Sell it.")


# Of the same, where other things that want doing stand beside it.


def of_a_lot(lot, says):
    return _("%(lot)s: %(step)s") % {"lot": lot, "step": says}


def in_store(lot, grams):
    return _("%(weight)s of %(what)s in store, %(variety)s, %(year)d.") % {
        "weight": shown(grams / 1000, "mass"),
        "what": lot.get_kind_display(),
        "variety": lot.variety,
        "year": lot.harvest_year,
    }


def see_the_list():
    return _("See to what comes before flour is sold.")


def tell_the_run(lot):
    return _("Have %(lot)s milled, and write down the run.") % {"lot": lot}


def lies_at_the_mill(grams):
    return _("%(weight)s of it lie at the mill.") % {
        "weight": shown(grams / 1000, "mass")
    }


# What was done to a lot.


def dried(drying, weight):
    return _("%(day)s: dried from %(before).1f%% to %(after).1f%%, %(how)s.") % {
        "day": weight.day(drying.date),
        "before": drying.moisture_before_pct,
        "after": drying.moisture_after_pct,
        "how": drying.get_how_display(),
    }


def dressed(run, weight):
    return _("%(day)s: dressed from lot %(lot)s to %(kg)s clean; %(out)s.") % {
        "day": weight.day(run.date),
        "lot": run.lot,
        "kg": weight.kg(run.clean_kg),
        "out": _("screenings were %(to)s") % {"to": run.get_screenings_to_display()},
    }


def looked_at(check, weight):
    found = [_("in %(where)s") % {"where": check.where}]
    if check.temperature_c is not None:
        found.append(weight.temperature(check.temperature_c))
    if check.moisture_pct is not None:
        found.append(_("%(pct).1f%% of water") % {"pct": check.moisture_pct})
    return _("%(day)s: looked at %(found)s; %(what)s.") % {
        "day": weight.day(check.date),
        "found": ", ".join(found),
        "what": check.get_found_display(),
    }


def milled(run, weight):
    return _("%(day)s: %(kg)s of %(what)s of lot %(lot)s, by %(miller)s.") % {
        "day": weight.day(run.date),
        "kg": weight.kg(run.flour_kg),
        "what": run.get_flour_display(),
        "lot": run.lot,
        "miller": miller(run),
    }


def bagged(each, weight):
    return ngettext(
        "%(day)s: %(bags)d bag of %(kg)s filled, best before %(until)s.",
        "%(day)s: %(bags)d bags of %(kg)s filled, best before %(until)s.",
        each.bags,
    ) % {
        "day": weight.day(each.date),
        "bags": each.bags,
        "kg": weight.kg(each.bag_kg),
        "until": weight.day(each.best_before),
    }


def miller(run):
    if run.uncertified_miller:
        return run.uncertified_miller
    return run.miller.holder if run.miller else _("your own mill")


# Milling.


def from_lot_to(run):
    return _("%(grain)s to %(flour)s") % {"grain": run.lot, "flour": run.flour_code}


def share_of_flour(came):
    """Flour, of the grain, and whether that is usual."""
    share = {"share": f"{came.extraction:.0%}"}
    return {
        "less": _("%(share)s, low") % share,
        "more": _("%(share)s, high") % share,
        "usual": f"{came.extraction:.0%}",
    }[came.level]


def not_organic_by_the_mill():
    return _(
        "Flour of a miller who isn't certified that day can't be sold as organic, nor "
        "its bran."
    )


def miller_not_told():
    """Of flour that an earlier release wrote down."""
    return _("Who milled it isn't told, so it can't be sold as organic.")


def much_lost(lost):
    return _("%(lost)s was neither flour nor bran: was all of it weighed?") % {
        "lost": lost
    }


def not_flushed():
    return _(
        "The mill was not said to be cleaned or flushed first: flour of others' grain "
        "may be in it."
    )


# Before flour is sold.


def checklist_headline(checks):
    left = [each for each in checks if not each.is_done]
    if not left:
        return _("All of it is done.")
    return ngettext(
        "%(left)d of %(all)d is still to be done.",
        "%(left)d of %(all)d are still to be done.",
        len(left),
    ) % {"left": len(left), "all": len(checks)}


def not_ready(checks):
    """What stands against selling flour now; '' if nothing does."""
    left = [each for each in checks if not each.is_done]
    if not left:
        return ""
    return _("Before flour is sold, this is not said to be done: %(what)s.") % {
        "what": listed([check_name(each) for each in left])
    }


def ask_the_authority():
    return _("Law of Great Britain, as remembered: ask your local authority.")


def check_name(checked):
    """In short."""
    return str(FlourCheck.What(checked.what).label)


def check_says(checked):
    """In full."""
    return told(CHECKS[checked.what])


def check_state(checked, day):
    last = checked.last
    if last is None:
        return _("to do")
    if not last.done:
        return _("no longer, since %(day)s") % {"day": day(last.date)}
    if not checked.is_done:
        return _("ended %(day)s") % {"day": day(last.until)}
    said = _("done %(day)s by %(who)s") % {"day": day(last.date), "who": last.who}
    if last.until:
        until = {"said": said, "until": day(last.until)}
        return _("%(said)s, until %(until)s") % until
    return said


# Prices, terms and what is owed.


def prices_are():
    """What a tonne is taken to be like."""
    return _(
        "A tonne of full quality, dressed and dry, at the prices of your sales, of "
        "your terms, or else as assumed."
    )


def owed_says(owed, weight):
    if not owed.loans:
        return _("No seed is said to have been lent to you.")
    if not owed.grams:
        return _("All that was owed for seed went back.")
    return _("%(weight)s of grain still go back to whoever lent you seed.") % {
        "weight": weight(owed.grams / 1000)
    }


def usual_terms():
    return _("as is usual, if no buyer says otherwise")


def look_every():
    return _(
        "A store is looked at every %(days)g days, damp or warm grain oftener."
    ) % {"days": store().look_every_d}


def is_amiss(check):
    return check is not None and check.found != StoreCheck.Found.NOTHING
