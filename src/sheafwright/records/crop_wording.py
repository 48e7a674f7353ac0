"""Every sentence that the pages say of a field's ground and of a crop that stands.

What the engine says stands in its answers.
"""

from django.utils.formats import date_format
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sheafwright.answers.wording import odds
from sheafwright.feeds.telling import measured
from sheafwright.records.wording import day, listed

NO_BREAK, JOINED = "\u00a0", "\u2060"


def to_say_of_the_ground(lacks, year):
    """What is to be written down before its nitrogen can be told."""
    wanted = {
        "soil": _("what kind of soil it is"),
        "last_crop": _("what it bore for the harvest of %(year)d") % {"year": year - 1},
        "ley": _("when its ley was sown, of what, and how it was used"),
        "rain": _("which weather record it has"),
    }
    said = [wanted[each] for each in wanted if each in lacks]
    return _(
        "Say %(wanted)s: what the ground gives and the crop may yield turns on it."
    ) % {"wanted": listed(said)}


def ground_gives(year):
    return _("What the ground gives the crop of %(year)d") % {"year": year}


def ground_would_give(year):
    return _("What the ground would give a wheat of %(year)d") % {"year": year}


def harvest_of(year):
    return _("harvest of %(year)d") % {"year": year}


def of_a_ley(ley):
    """What it was, and when it ended."""
    ended = ley.ploughed and _("ploughed %(day)s") % {
        "day": date_format(ley.ploughed, "j M Y")
    }
    said = (ended, ley.get_sward_display(), ley.get_use_display(), ley.note)
    return "; ".join(filter(None, said))


def nothing_counted():
    return _("Count them at about three leaves: too few can still be mended then.")


def counted_on(count):
    return _("Counted on %(day)s: %(said)s") % {
        "day": day(count.on),
        "said": count.sentence,
    }


def known_by(grown):
    """How thick, how high and on what ground a crop stands, and how that is known."""
    plants = {
        "seen": _("%(n).0f plants/m² as counted"),
        "rate": _("%(n).0f plants/m² by the seed rate"),
        "usual": _("%(n).0f plants/m² as is usual"),
    }
    height = {
        "seen": _("%(height)s high as measured"),
        "variety": _("%(height)s high as its variety was here"),
        "usual": _("%(height)s high as is usual"),
    }
    index = {
        "seen": _("nitrogen index %(n)d by its ground"),
        "usual": _("nitrogen index %(n)d as is usual"),
    }
    known = (
        (plants, grown.plants),
        (height, grown.height),
        (index, grown.nitrogen_index),
    )
    tall = measured(grown.height.value, "cm", ".0f")
    what = [said[k.by.value] % {"n": k.value, "height": tall} for said, k in known]
    return _("Reckoned with %(what)s.") % {"what": listed(what)}


def will_stand(prospect):
    """The odds that it goes down, and what lies already."""
    said = []
    if prospect.standing is None:
        said.append(_("Whether it will stand was not worked out yet."))
    elif refused := prospect.standing.said.get("refused"):
        said.append(refused)
    else:
        told = prospect.standing.said
        said.append(
            _(
                "%(odds)s that more than a tenth of it goes down before it is cut; "
                "%(reference)s on a usual field."
            )
            % {
                "odds": capfirst(odds(told["chance_over_tenth"])),
                "reference": odds(told["against_reference"]["chance_over_tenth"]),
            }
        )
    if prospect.lay:
        said.append(
            _("On %(day)s %(share).0f%% of it lay.")
            % {"day": day(prospect.lay.date), "share": prospect.lay.lodged_pct}
        )
    return " ".join(said)


def gusts_are_made():
    return _(
        "The weather record has no gusts of its own, so they are made from the wind: "
        "trust the comparison only."
    )


def lodging_why(chance, in_ear):
    """Why a crop that may lodge is spoken of, and what helps."""
    says = _("%(odds)s that more than a tenth of it goes down before it is cut.") % {
        "odds": capfirst(odds(chance))
    }
    if in_ear:
        helps = _(
            "Write down what lies: it is cut apart, dries slowly and keeps worse."
        )
    else:
        helps = _(
            "Once the ear is out nothing helps; until then nitrogen makes it worse."
        )
    return f"{says} {helps}"


def spare_manure(field):
    return _("Spread no manure on %(field)s.") % {"field": field}


def walk_after_gale(field):
    return _("Walk %(field)s after the next gale.") % {"field": field}


def will_yield(said, made, grain):
    """What a hectare or an acre may give.

    Parameters
    ----------
    said : mapping
        As the engine told it.
    made, grain : tuple of str
        Low, likely and high, in the reader's units.
    """
    return _(
        "Expect %(made)s of %(product)s and %(grain)s of grain: 8 chances in 10 that "
        "the %(product)s comes to %(from_to)s."
    ) % {
        "product": product(said),
        "made": made[1],
        "grain": grain[1],
        "from_to": from_to(made[0], made[2]),
    }


def from_to(low, high):
    """Two quantities of one unit, said once and never parted."""
    return f"{low.partition(NO_BREAK)[0]}{JOINED}–{JOINED}{high}"


def product(said):
    """What is made of the straw, of a yield that was told."""
    return _("reed") if said["product"] == "reed" else _("long straw")


def of_the_crop(said, area, weights, money):
    """What all of it may give.

    Parameters
    ----------
    said : mapping
        As the engine told it.
    area, money : str
        Money may be None.
    weights : list of str
        Of what is made of the straw, and of grain.
    """
    made, grain = weights
    says = _("Of all %(area)s that is %(made)s of %(product)s and %(grain)s of grain")
    says %= {"area": area, "made": made, "product": product(said), "grain": grain}
    if money is None:
        return f"{says}."
    return _("%(says)s, about %(money)s.") % {"says": says, "money": money}


def yield_known_by(said):
    """What the yield rests on, and a warning of too much nitrogen."""
    own = said["own_harvests"]
    rests = _(
        "This rests on an old experiment and on an assumed level: as you thresh, your "
        "own weights take over."
    )
    if own:
        rests = ngettext(
            "%(n)d harvest of your own counts, and the book as about %(book).0f more.",
            "%(n)d harvests of your own count, and the book as about %(book).0f more.",
            own,
        ) % {"n": own, "book": said["book_worth_own_harvests"]}
    if said["too_rich"]:
        rests += " " + _("What lodges for too much nitrogen is not taken off.")
    return rests


def all_of(field):
    return _("All of %(field)s") % {"field": field}
