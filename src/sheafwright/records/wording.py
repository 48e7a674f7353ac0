"""Every sentence that the pages say of the record itself.

What the engine says stands in `sheafwright.answers.wording`.
"""

import datetime

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sheafwright.feeds.orders import allotting
from sheafwright.feeds.telling import first_sentence


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


def fit_between(dates):
    """The odds of the day, and what to look for."""
    walk = _("Walk it and look: nodes, the stem below the ear, milk under the nail.")
    if not (dates["p10"] and dates["p90"]):
        return walk
    early, late = (datetime.date.fromisoformat(dates[p]) for p in ("p10", "p90"))
    odds = _("8 chances in 10 that it comes from %(early)s to %(late)s.") % {
        "early": day(early),
        "late": day(late),
    }
    return f"{odds} {walk}"


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


def see_to_stooks(name):
    return _("See to the stooks of %(name)s.") % {"name": name}


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


def replayed(said):
    """What the advice would have done with the seasons on record, and a plain rule."""
    advice, rule = (said["policies"][n] for n in ("advice", said["best_plain_rule"]))
    told = _(
        "Of %(seasons)d seasons, crops spoiled: %(advice)d by this advice, %(rule)d by "
        "the plain rule."
    ) % {
        "seasons": said["seasons"],
        "advice": advice["spoiled"],
        "rule": rule["spoiled"],
    }
    if advice["mean"] > rule["mean"]:
        return told
    better = _("All in all the plain rule would have brought as much, or more.")
    return f"{told} {better}"


def growing_headline(crops):
    """What is next to be watched."""
    told = next((crop for crop in crops if crop.is_answered), None)
    if told:
        first, _rest = first_sentence(told.sentence)
        return f"{told.sowing.field}: {first}"
    if not crops:
        return _("No crop stands in the field.")
    return ngettext(
        "%(count)d crop stands in the field.",
        "%(count)d crops stand in the field.",
        len(crops),
    ) % {"count": len(crops)}


def stooks_headline(sets, first):
    if not sets:
        return _("Nothing stands in the stook.")
    return first or ngettext(
        "%(count)d block stands in the stook.",
        "%(count)d blocks stand in the stook.",
        len(sets),
    ) % {"count": len(sets)}


UNKNOWN = "–"


def nothing_written():
    return _("Nothing is written down yet.")


def nothing_moved():
    return _("Nothing has moved yet.")


# Ground.


def ground_headline(count):
    if not count:
        return _("No field yet: add the first.")
    return ngettext("%(count)d field.", "%(count)d fields.", count) % {"count": count}


def growing_now(sowings):
    if not sowings:
        return _("nothing sown")
    return listed([_("%(variety)s for %(year)d") % _sown(s) for s in sowings])


def _sown(sowing):
    return {"variety": sowing.seed_lot.variety, "year": sowing.harvest_year}


def field_odds(now, area):
    way = now.status.get_way_display() if now.status else _("farmed in no way said yet")
    return _("%(area)s, %(way)s.") % {"area": area, "way": way}


def sown_for(sowing):
    return _("Sown on %(day)s for the harvest of %(year)d") % {
        "day": day(sowing.date),
        "year": sowing.harvest_year,
    }


def where_it_went(field):
    return _("Where %(field)s went") % {"field": field}


def where_it_came_from(lot):
    return _("Where %(lot)s came from") % {"lot": lot}


# Ricks, the drum and lots.


def no_rick():
    return _("No rick stands.")


def rick_holds(now, held, capacity):
    if now.rick.capacity_kg:
        return _("%(held)s of the %(capacity)s that it holds.") % {
            "held": held,
            "capacity": capacity,
        }
    return _("It holds %(held)s.") % {"held": held}


def drum_cautions():
    return (
        _("Guards on every belt and on the drum; the feed mouth fenced."),
        _("Nobody alone; masks against dust; trousers tied at the ankle."),
        _("A fishy smell at the drum is bunt: stop, set apart, clean down."),
        _("Local codes and trained people first."),
    )


def threshing_headline(runs):
    if not runs:
        return _("Nothing threshed yet.")
    last = runs[0]
    if last.outturn is None:
        return run_of_the_drum(last.threshing)
    return last.outturn.sentence


def run_of_the_drum(threshing):
    if threshing.rick:
        return _("%(rick)s, %(day)s") % {
            "rick": threshing.rick,
            "day": day(threshing.date),
        }
    return _("From the stooks, %(day)s") % {"day": day(threshing.date)}


def smelt_of_fish():
    return _("It smelt of fish: its lots are set apart. Clean down before the next.")


def lots_headline(title, held, weight):
    if not held.count:
        return _("No %(what)s in store.") % {"what": title.lower()}
    said = _("%(weight)s of %(what)s in store.") % {
        "weight": weight,
        "what": title.lower(),
    }
    if held.set_apart:
        apart = _("Set apart: %(lots)s.") % {"lots": listed(held.set_apart)}
        return f"{said} {apart}"
    return said


def lot_kind(lot):
    kind = lot.get_kind_display()
    return f"{kind}, {lot.grade}" if lot.grade else kind


def lot_headline(lot):
    return _("%(code)s: %(kind)s of %(variety)s, harvest of %(year)d.") % {
        "code": lot.code,
        "kind": lot.get_kind_display(),
        "variety": lot.variety,
        "year": lot.harvest_year,
    }


def lot_odds(lot, known, length):
    """How long a lot's straw is and how that is known, and whether it may go.

    Parameters
    ----------
    known : LengthKnown
    length : str
    """
    said = [_long(known, length)] if known.by else []
    if lot.set_apart:
        said.append(_("Set apart: not for sale until it is cleared."))
    return " ".join(said)


def _long(known, length):
    if known.by == "stems":
        tenths = f"{10 * allotting().long_enough:g}"
        said = {"tenths": tenths, "length": length, "count": known.stems}
        return (
            _("%(tenths)s stems in 10 are %(length)s or longer, by %(count)d measured.")
            % said
        )
    if known.by == "handful":
        return _("A handful of it was %(length)s long.") % {"length": length}
    return _("%(length)s long as written down; nobody measured it.") % {
        "length": length
    }


def length_in_short(known, length):
    """How long it is, as a cell has it: what nobody measured is told apart."""
    if known.by != "written":
        return length
    return _("%(length)s, as written") % {"length": length}


def seconds(value):
    return UNKNOWN if value is None else f"{value:.0f}\u00a0s"


# The record book.


def certificate(certificate):
    said = (certificate.body, certificate.code, certificate.number)
    return ", ".join(filter(None, said))


def stands(lot):
    return _("set apart") if lot.set_apart else _("cleared")


def book_headline(certificate, unexplained):
    """Whether the book holds together, and what nobody can account for."""
    said = _("Every kilogram is somewhere: %(unexplained)s is unexplained.") % {
        "unexplained": unexplained
    }
    if certificate is None:
        return said
    if certificate.has_ended:
        return _("The certificate has run out.") + f" {said}"
    return said


def bought_headline(count):
    if not count:
        return _("Nothing was sold to you yet.")
    return ngettext(
        "%(count)d lot was sold to you.", "%(count)d lots were sold to you.", count
    ) % {"count": count}


def nothing_to_settle():
    return _("Every entry fits the book.")


def period(begins, ends):
    return _("From %(begins)s to %(ends)s.") % {
        "begins": date_format(begins, "j F Y"),
        "ends": date_format(ends, "j F Y"),
    }


def losses(listed_losses):
    if listed_losses == UNKNOWN:
        return _("Nothing was lost.")
    return _("Lost: %(losses)s.") % {"losses": listed_losses}


def hours_between(hours):
    if hours > 0:
        return _("owes us %(hours)g h") % {"hours": hours}
    return _("we owe %(hours)g h") % {"hours": -hours}


def entry(said):
    return f"{said.movement} ({_('undone')})" if said.is_undone else str(said.movement)


def of_harvest(material, year):
    return _("%(material)s of %(year)d") % {"material": material, "year": year}


def older_lots(count):
    return ngettext("%(n)d older lot", "%(n)d older lots", count) % {"n": count}
