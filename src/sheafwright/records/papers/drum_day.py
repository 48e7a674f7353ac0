"""The drum's sheet: who comes today, the rick that is next, and what it should give."""

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from sheafwright.documents.drum_day import DrumDay
from sheafwright.feeds import outturns
from sheafwright.feeds.threshing import threshing
from sheafwright.feeds.units import show
from sheafwright.records import drum_wording as wording
from sheafwright.records.clock import today
from sheafwright.records.models import Machine
from sheafwright.records.selectors.drum_order import order_of_ricks
from sheafwright.records.selectors.hands import (
    THRESHING,
    briefed,
    hands_now,
    who_comes,
)
from sheafwright.records.selectors.runs import (
    days_at_drum,
    own_rates,
    reed_expected,
)

TO_FILL = "." * 60
LINES = 3
"""To write names on, where nobody has said that they come."""
AFTER = 3
"""Ricks named after the next."""


def drum_day_of(*, holding, units):
    """The `DrumDay` of today."""
    day, order = today(holding), order_of_ricks(holding=holding)
    rick = order.next
    later = [each for each in order.turns if each is not rick][:AFTER]
    return DrumDay(
        holding=holding.name,
        day=date_format(day, "l j F Y"),
        made_on=day,
        hands=tuple(_hands(holding)),
        rick=_rick(rick, units) if rick else _("No rick may be opened today"),
        why=(*rick.why, *rick.why_so) if rick else (),
        order=TO_FILL,
        target=tuple(_target(holding, rick is None or rick.combed, units)),
        stop=wording.outside_stop(),
        then=tuple(each.sentence for each in later),
        cautions=wording.sheet_cautions(),
    )


def _hands(holding):
    """Those who may thresh and come today, else all who may; lines to fill, if none."""
    came = {
        each.hand.pk: each
        for half in who_comes(holding=holding, days=1)
        for each in half.who_may(THRESHING)
    }
    may = [each for each in hands_now(holding=holding) if THRESHING in each.may]
    drums = Machine.objects.filter(holding=holding, kind=Machine.Kind.DRUM)
    shown, drums = briefed(holding=holding), [drum.pk for drum in drums]
    for each in came.values() or may:
        was_shown = any((each.hand.pk, drum) in shown for drum in drums)
        yield wording.hand_said(each.name, was_shown)
    if not came and not may:
        yield from [TO_FILL] * LINES


def _rick(turn, units):
    return _("%(rick)s, %(held)s: %(how)s") % {
        "rick": turn.asked.name,
        "held": show(turn.asked.kg, "mass", units),
        "how": wording.how(turn),
    }


def _target(holding, combed, units):
    """What it should give, by own runs if there are enough of them."""
    if not combed:
        yield wording.long_straw_usual(*outturns.usual_shares(False)["long_straw"])
    elif own := reed_expected(holding=holding):
        yield wording.target_known(own.limits.low, own.limits.high, own.runs)
    else:
        yield wording.target_usual(*outturns.usual_shares(True)["reed"])
    rates = own_rates(days_at_drum(holding=holding))
    if rates:
        low, high = (show(each, "mass", units) for each in (min(rates), max(rates)))
        yield wording.a_day(low, high)
    few, many = threshing().drum_day.crew
    yield wording.crew_wanted(few, many)
