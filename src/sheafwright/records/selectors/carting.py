"""What is asked of carting, from the stooks and ricks in the book.

A few sums over answers that were kept: no weather is worked out.
"""

import datetime
from collections import Counter

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from sheafwright.answers.carting_question import CartingQuestion, StookSet, Store
from sheafwright.answers.limits import SHEAVES
from sheafwright.feeds.sheaves import sheaves
from sheafwright.records.clock import today
from sheafwright.records.models import Place
from sheafwright.records.saved import saved
from sheafwright.records.selectors.heat import ricks_in_danger
from sheafwright.records.selectors.in_hand import stooks_in_hand
from sheafwright.records.selectors.room import room_of
from sheafwright.records.selectors.store import ricks_now


def carting_asked(*, holding, sets=None, kept=None, hands=None, carts=None):
    """The `CartingQuestion` of today, and the book's set of each name in it.

    Stooks of which no answer is kept, or that the answer was refused for, are left out.

    Parameters
    ----------
    sets, kept : optional
        `stooks_in_hand`, and the answers kept for them, where they are at hand.
    """
    sets = list(stooks_in_hand(holding=holding)) if sets is None else sets
    kept = saved(question="stooks", about=sets) if kept is None else kept
    day, held = today(holding), _sheaves(holding, sets)
    names = _names(sets)
    told = {
        each.pk: _told(names[each.pk], each, held[each.pk], kept[each.pk].said, day)
        for each in sets
        if each.pk in kept and each.pk in held
    }
    told = {pk: each for pk, each in told.items() if each}
    question = CartingQuestion(
        as_of=day,
        sets=tuple(told.values()),
        stores=_stores(holding),
        hands=hands,
        carts=carts,
    )
    return question, {told[e.pk].name: e for e in sets if e.pk in told}


def _sheaves(holding, sets):
    """Id of each set to the sheaves that stand there by the book."""
    places = Place.objects.filter(
        holding=holding,
        kind=Place.Kind.STOOKS,
        subject__in=[each.pk for each in sets],
    )
    a_sheaf = sheaves().kg_per_sheaf
    counted = {
        pk: max(1, round(grams / 1000 / a_sheaf))
        for pk, grams in places.values_list("subject", "balance__grams")
    }
    # What nobody could cart in a harvest is no count to reckon with.
    return {pk: n for pk, n in counted.items() if n <= SHEAVES.most}


def _names(sets):
    """Id of each set to its field's name, and what tells it from the field's others."""
    fields = Counter(each.cut.sowing.field.name for each in sets)
    said, names = Counter(), {}
    for each in sets:
        field = each.cut.sowing.field.name
        name = field if fields[field] == 1 else _of_a_day(field, each.cut.date)
        said[name] += 1
        names[each.pk] = name if said[name] == 1 else f"{name} ({said[name]})"
    return names


def _of_a_day(field, day):
    return _("%(field)s of %(day)s") % {"field": field, "day": date_format(day, "j F")}


def _told(name, stook_set, held, said, day):
    """A `StookSet` from the answer kept for it; None where it tells of no day ahead."""
    ahead = [e for e in said.get("carting_by_day", ()) if _day(e) >= day]
    if not ahead:
        return None
    behind = [e for e in said["moisture_by_day"] if e["known"] and _day(e) <= day]
    way = stook_set.cut.sowing.field.to_rick_m
    return StookSet(
        name=name,
        sheaves=held,
        cut=stook_set.cut.date,
        fit=tuple(each["chance_fit"] for each in ahead),
        fit_by=tuple(each["chance_fit_by"] for each in ahead),
        rain_ahead=tuple(each["chance_of_rain"] for each in ahead),
        rain=tuple(each["rain_mm"] for each in behind),
        grain=behind[-1]["grain_moisture_p50_share"] if behind else None,
        distance=None if way is None else way / 1000,
    )


def _stores(holding):
    hot = {each.rick.pk for each in ricks_in_danger(holding=holding)}
    return tuple(_store(now, now.rick.pk in hot) for now in ricks_now(holding=holding))


def _store(now, is_hot):
    room = room_of(now.rick, now.kg)
    ends = (None, None) if room is None else (room.low, room.high)
    return Store(now.rick.name, *ends, hot=is_hot)


def _day(row):
    return datetime.date.fromisoformat(row["date"])
