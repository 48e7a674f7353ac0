"""The card of how a stook is built: what is published, and what is custom."""

from django.utils.translation import gettext as _

from sheafwright.documents.harvest_day import ALONE, HEAT, LIFTING
from sheafwright.documents.stook_card import Rule, StookCard
from sheafwright.feeds.sheaves import sheaves
from sheafwright.feeds.stook_building import stook_building
from sheafwright.records.clock import today

BRITANNICA = "Encyclopædia Britannica, 9th ed., vol. 1, p. 363"
LOW = "D. Low, Elements of Practical Agriculture, 1838, p. 214"


def stook_card_of(*, holding):
    """The `StookCard` of a holding."""
    each = sheaves().sheaves_per_stook
    return StookCard(
        holding=holding.name,
        made_on=today(holding),
        rules=tuple(_rules(each, stook_building())),
        cautions=(_binder(), *map(str, (LIFTING, HEAT, ALONE)), _trained()),
        pairs=round(each / 2),
    )


def _rules(each, known):
    (few, more), (least, most), weeks = known.quick, known.custom, known.weeks
    yield Rule(
        _(
            "Pull out what is not tied, and what is full of green weed; tie it by hand "
            "and set it by itself."
        ),
        _custom(),
    )
    yield Rule(
        _(
            "Set two sheaves up together: butts hard down and well apart, ears leaning "
            "into each other. They must stand by themselves before the next two come."
        ),
        _custom(),
    )
    yield Rule(
        _("Add pair by pair in a straight row; leave both ends open to the wind."),
        _custom(),
    )
    yield Rule(
        _("Let the row run near north and south, so that both sides get the sun."),
        _published(LOW),
    )
    yield Rule(
        _(
            "%(each)d sheaves a stook unless you are told otherwise. To dry fast: "
            "small loose sheaves, only %(few)d to %(more)d together."
        )
        % {"each": each, "few": few, "more": more},
        _(
            "%(each)d is assumed, for customs go from %(least)d to %(most)d and more; "
            "the rest is published: %(source)s"
        )
        % {"each": each, "least": least, "most": most, "source": BRITANNICA},
    )
    yield Rule(
        _(
            "No caps on wheat that soon comes in. Two hood sheaves keep rain off in a "
            "wet time, but it dries more slowly under them."
        ),
        _published(f"{LOW}; {BRITANNICA}"),
    )
    yield Rule(
        _("Keep the rows far enough apart for the cart to come between."), _custom()
    )
    yield Rule(
        _("Walk the stooks every day and set up again what leans or has fallen."),
        _published(BRITANNICA),
    )
    yield Rule(
        _(
            "They stand some days to %(low)d or %(high)d weeks: the moisture meter "
            "says when, not the calendar."
        )
        % {"low": weeks[0], "high": weeks[1]},
        _("Published accounts disagree: a few days, or three Sundays"),
    )


def _custom():
    return _("Common practice")


def _published(source):
    return _("Published: %(source)s") % {"source": source}


def _binder():
    return _("Keep away from the binder while it runs, and from the corn before it.")


def _trained():
    return _("Local codes and trained people first.")
