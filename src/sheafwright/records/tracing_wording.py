"""Every sentence that pages say of stems traced on photographs."""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sheafwright.feeds.telling import by_family, capital, joined, say, shown
from sheafwright.records.services.tracings import KEPT_DAYS

UNKNOWN = "–"
MM_A_METRE_TO_IN_A_FOOT = 0.012
MOSTLY_GREEN = 0.5


def headline(tracing, sample):
    """The one thing that matters: that it waits for an eye, or what came of it."""
    if sample is None:
        count = len(tracing.said["stems"])
        return ngettext(
            "%(count)d stem was traced: look whether that is right.",
            "%(count)d stems were traced: look whether each is right.",
            count,
        ) % {"count": count}
    count = len(sample.stems)
    return ngettext(
        "%(count)d stem of %(lot)s was measured from photographs.",
        "%(count)d stems of %(lot)s were measured from photographs.",
        count,
    ) % {"count": count, "lot": tracing.lot}


def is_a_draft():
    return ngettext(
        "Nothing is in the book until you accept it. Left for %(days)d day, the "
        "photographs are thrown away.",
        "Nothing is in the book until you accept it. Left for %(days)d days, the "
        "photographs are thrown away.",
        KEPT_DAYS,
    ) % {"days": KEPT_DAYS}


def how_to_look():
    return _(
        "Each line should run along one whole stem, from cut to cut. Untick a stem "
        "whose line doesn't."
    )


def how_many_struck(count):
    return ngettext(
        "%(count)d more was traced and struck out by eye.",
        "%(count)d more were traced and struck out by eye.",
        count,
    ) % {"count": count}


def not_used(name, why):
    return joined(say("{photo} was not used.", photo=capital(name)), why)


def photo_heading(number, count):
    if count == 1:
        return _("The photograph")
    return _("Photograph %(number)d") % {"number": number}


def shows(number):
    """For those who can't see it."""
    return _("Photograph %(number)d, with a numbered line along each stem.") % {
        "number": number
    }


def signs(has_rejected, has_bends, has_struck):
    """What the signs in the picture mean, but for those that aren't in it."""
    said = [
        has_rejected and _("Yellow: left out."),
        has_bends and _("Ring: dog-leg."),
        has_struck and _("Black: struck out."),
    ]
    return " ".join(filter(None, said))


def written(count):
    return ngettext(
        "%(count)d stem is written down.", "%(count)d stems are written down.", count
    ) % {"count": count}


def thrown_away():
    return _("The photographs were thrown away; nothing was written down.")


def stem_name(number):
    return _("Stem %(number)d") % {"number": number}


def cells(stem):
    """A stem's measures, in the order of the table's columns."""
    return (
        _sized(stem["length_mm"], stem["length_error_mm"]),
        _diameters(stem),
        _taper(stem["taper_mm_per_m"]),
        _bend(stem),
        _damage(stem),
    )


def _sized(mm, error_mm):
    return _("%(size)s ± %(error)s") % {
        "size": shown(mm, "depth"),
        "error": shown(error_mm, "depth"),
    }


def _diameters(stem):
    """Of butt, middle and top, and the largest of their errors."""
    ends = [f"{at}_diameter" for at in ("butt", "middle", "top")]
    errors = [each for at in ends if (each := stem[f"{at}_error_mm"]) is not None]
    sizes = [_shown(stem[f"{at}_mm"]) for at in ends]
    if not errors:
        return UNKNOWN
    return _("%(butt)s, %(middle)s, %(top)s ± %(error)s") % {
        "butt": sizes[0],
        "middle": sizes[1],
        "top": sizes[2],
        "error": shown(max(errors), "depth"),
    }


def _shown(mm):
    return UNKNOWN if mm is None else shown(mm, "depth")


def _taper(mm_per_m):
    return by_family(
        say("{taper:.1f} mm a metre", taper=mm_per_m),
        say("{taper:.2f} in a foot", taper=mm_per_m * MM_A_METRE_TO_IN_A_FOOT),
    )


def _bend(stem):
    angle = {"angle": f"{stem['sharpest_bend_deg']:.0f}°"}
    return _("%(angle)s, dog-leg") % angle if stem["dog_leg"] else angle["angle"]


def _damage(stem):
    named = (
        ("crushed_mm", _("crushed")),
        ("split_mm", _("split")),
        ("mouldy_mm", _("mouldy")),
        ("leaf_left_on_mm", _("leaf left on")),
    )
    found = [f"{name} {shown(stem[key], 'depth')}" for key, name in named if stem[key]]
    if stem["green_share"] > MOSTLY_GREEN:
        found.append(_("green"))
    return ", ".join(found) or _("nothing")


def is_hurt(stem):
    return _damage(stem) != _("nothing")


def all_sound(count):
    """Of stems none of which an eye need rest on."""
    return ngettext(
        "%(count)d stem, neither doubted, bent nor hurt.",
        "%(count)d stems, none doubted, bent or hurt.",
        count,
    ) % {"count": count}


def the_others(count):
    return ngettext("%(count)d sound stem", "%(count)d sound stems", count) % {
        "count": count
    }


def left_out(rejected):
    """Why pieces were left out: how many of each, in a sentence."""
    whys = [each["says"] for each in rejected]
    return [
        say("{n}: {why}", n=whys.count(why), why=why) for why in dict.fromkeys(whys)
    ]


def of_lot(tracing, day):
    """Where the stems came from, and when."""
    said = {"lot": tracing.lot, "day": day, "bundle": tracing.bundle}
    if tracing.bundle:
        return _("Bundle %(bundle)d of %(lot)s, %(day)s.") % said
    return _("%(lot)s, %(day)s.") % said


def look_at(day):
    """A draft that waits, as a button names it."""
    return _("Look at the stems photographed on %(day)s") % {"day": day}
