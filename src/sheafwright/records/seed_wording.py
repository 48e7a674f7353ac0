"""Every sentence that the pages say of seed and of sowing."""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sheafwright.records.wording import day, listed

MOST_NAMED = 3


def headline(lots, sown, area):
    """What wants doing first; what was sown, where nothing does.

    Parameters
    ----------
    lots : tuple of SeedLotSeen
    sown : SownFor
    area : str
        That was sown, in the reader's units.
    """
    if not lots:
        return _("No seed lot yet: add the first.")
    return _pressing(lots) or sown_so_far(sown, area)


def beneath(lots, sown, area):
    """What comes next after that."""
    if not lots:
        return ""
    if _pressing(lots):
        return sown_so_far(sown, area)
    to_sow = [seen.lot.name for seen in lots if not seen.is_sown]
    if to_sow:
        return _("Tested and to be sown: %(lots)s.") % {"lots": _named(to_sow)}
    if sown.fields:
        return ""
    return _("No seed waits to be sown: add the lot that you kept back or bought.")


def _pressing(lots):
    """What is to be done before a lot is sown; nothing, where all may be."""
    to_sow = [seen for seen in lots if not seen.is_sown]
    for presses, says in (
        (lambda s: s.sick, _("Sow none of %(lots)s: a test found disease.")),
        (lambda s: s.smelt, _("Sow none of %(lots)s: the drum smelt of fish.")),
        (
            lambda s: s.untested,
            _("Test %(lots)s for bunt, smut and ergot before it is sown."),
        ),
        (
            lambda s: not s.germination,
            _("Count what comes up of %(lots)s before it is sown."),
        ),
    ):
        if names := [seen.lot.name for seen in to_sow if presses(seen)]:
            return says % {"lots": _named(names)}
    return ""


def sown_so_far(sown, area):
    """How much is sown for a harvest."""
    if not sown.fields:
        return _("Nothing is sown yet for the harvest of %(year)d.") % {
            "year": sown.harvest_year
        }
    says = ngettext(
        "%(n)d field is sown for the harvest of %(year)d: %(area)s, on %(last)s.",
        "%(n)d fields are sown for the harvest of %(year)d: %(area)s, the last on "
        "%(last)s.",
        sown.fields,
    )
    return says % {
        "n": sown.fields,
        "year": sown.harvest_year,
        "area": area,
        "last": day(sown.last),
    }


def _named(names):
    more = len(names) - MOST_NAMED
    if more <= 0:
        return listed(names)
    others = ngettext("%(n)d other lot", "%(n)d other lots", more) % {"n": more}
    return listed([*names[:MOST_NAMED], others])


def lot_said(seen):
    """Whether it comes up, and whether it is well."""
    came_up = seen.germination.sentence if seen.germination else _("Not tested yet.")
    return " ".join((came_up, *_found(seen), *_not_known(seen)))


def cautions(seen):
    """What stands against sowing a lot."""
    name = {"lot": seen.lot.name}
    said = _found(seen)
    if said:
        said = [_("Don't sow %(lot)s.") % name, *said]
    return [*said, *(f"{seen.lot.name}: {says}" for says in _not_known(seen))]


def _found(seen):
    found = [
        _("%(sickness)s was found on %(day)s.")
        % {"sickness": test.get_sickness_display().capitalize(), "day": day(test.date)}
        for test in seen.sick
    ]
    if seen.smelt:
        found.append(
            _(
                "It came from a drum that smelt of fish, and that is bunt: have it "
                "tested before any is sown."
            )
        )
    return found


def _not_known(seen):
    if not seen.untested:
        return []
    return [
        _("Nobody looked for %(what)s yet.")
        % {"what": listed([str(name) for name in seen.untested])}
    ]


def not_tested(lot, weight, share):
    """What to write down of a seed lot first."""
    wanted = [
        *([_("the weight of a thousand grains")] if weight is None else []),
        *([_("a germination test")] if share is None else []),
    ]
    return _("Of %(lot)s this is not written down yet: %(wanted)s.") % {
        "lot": lot,
        "wanted": listed(wanted),
    }


def no_record_to_compare():
    return _(
        "Add the weather record, and dates of sowing are set side by side over all "
        "its seasons."
    )
