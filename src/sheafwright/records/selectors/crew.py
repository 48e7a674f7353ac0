"""What the crew's next half-days are asked with, from the book as it now is.

A few sums over answers that were kept: no weather is worked out.
"""

import dataclasses
import datetime
import statistics
from collections import Counter, defaultdict
from typing import NamedTuple

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from sheafwright.feeds.crew_day import (
    TASKS,
    BinderAsked,
    Comes,
    CrewQuestion,
    HalfAsked,
    Standing,
    Stooked,
    of_outlook,
    of_stooks,
    of_turns,
    with_turns,
)
from sheafwright.feeds.sheaves import sheaves
from sheafwright.records.clock import now, today
from sheafwright.records.models import Breakdown, Machine, Place, SavedAnswer, Shower
from sheafwright.records.models.hands import Half
from sheafwright.records.saved import saved
from sheafwright.records.selectors.cutting import crops_standing
from sheafwright.records.selectors.hands import half_days, hands_now, who_comes
from sheafwright.records.selectors.in_hand import stooks_in_hand
from sheafwright.records.selectors.machines import machines_now

KEPT, TURNS = "crew", "turns"
DAYS = 3
NOON, EVENING = 13, 19
"""Hours from which a morning, and a day, is past."""
SOON = datetime.timedelta(7)
"""A crop that a binder may begin on so soon after the plan is spoken of."""
METRES = 1000
BROKEN = Breakdown.State.BROKEN


@dataclasses.dataclass(frozen=True)
class CrewAsked:
    """All that a plan for the crew rests on, and what it wants yet."""

    question: CrewQuestion | None
    """None where there is nothing to plan, or nobody."""
    words: int
    """Of breakdowns and showers, ever: what was said anew is planned anew."""
    binders: tuple["BinderNow", ...]
    wants_hands: bool = False
    """Nobody is written down who may come."""
    wants_weather: bool = False
    """No answer was kept yet that tells of the days ahead."""


@dataclasses.dataclass(frozen=True)
class TurnsAsked:
    """What is asked of which field can wait: all that is soon ripe, and who comes."""

    standing: tuple[tuple, ...]
    """Each sowing with what it is called, and what is left of it. [ha]"""
    first: datetime.date
    until: datetime.date
    """First and last day of the plan."""
    hands: int
    """That come on a day, on average."""
    binders: tuple[str, ...]
    """Broken ones too: they are mended before long."""
    carts: int | None
    distance: dict


class BinderNow(NamedTuple):
    """A binder that is here."""

    machine: Machine
    broken: tuple[str, ...]
    """Half-days of the plan."""
    is_broken: bool
    """In the first of them."""


def crew_asked(*, holding):
    """`CrewAsked` from the book as it now is."""
    days = _half_days(holding)
    binders = tuple(_binders(holding, days))
    words = sum(
        kind.objects.filter(holding=holding).count() for kind in (Breakdown, Shower)
    )
    fields, dry = _fields(holding, days)
    stooks, showery = _stooks(holding, days)
    people = tuple(_people(holding, days))
    asked = CrewAsked(None, words, binders, wants_hands=not hands_now(holding=holding))
    if not (fields or stooks) or not people:
        return asked
    chances = _dry_chances(days, dry, showery)
    if not chances:
        return dataclasses.replace(asked, wants_weather=True)
    question = CrewQuestion(
        half_days=tuple(
            HalfAsked(each.date, each.half, chances[each.date]) for each in days
        ),
        fields=tuple(standing for standing, _way in fields),
        stooks=tuple(stooked for stooked, _way in stooks),
        people=people,
        binders=tuple(
            BinderAsked(each.machine.name, broken=each.broken) for each in binders
        ),
        carts=_carts(holding),
        showers=tuple(_showers(holding, days)),
        **_distance([way for _each, way in (*fields, *stooks)]),
    )
    kept = turns_kept(holding=holding)
    if kept is not None:
        question = with_turns(question, of_turns(kept.said))
    return dataclasses.replace(asked, question=question)


def turns_asked(*, holding):
    """`TurnsAsked` from the book as it now is; None where there is nothing to ask."""
    days = _half_days(holding)
    crops = _answered(holding)
    soon = [crop.sowing for crop, _told in _soon(crops, days)]
    names = crop_names(crop.sowing for crop in crops)
    people, binders = tuple(_people(holding, days)), tuple(_binders(holding, days))
    if not (soon and people and binders):
        return None
    there = [sum(half.name not in p.away for p in people) for half in days]
    return TurnsAsked(
        standing=tuple(
            (sowing, names[sowing.pk], _area_left(sowing)) for sowing in soon
        ),
        first=days[0].date,
        until=days[-1].date,
        hands=max(1, round(statistics.mean(there))),
        binders=tuple(each.machine.name for each in binders),
        carts=_carts(holding),
        distance=_distance([_way(sowing.field) for sowing in soon]),
    )


def turns_kept(*, holding):
    """Which field can wait until after the plan, as last kept; None while it is not."""
    until = _half_days(holding)[-1].date
    kept = SavedAnswer.objects.filter(
        holding=holding, question=TURNS, subject=holding.pk, said__until=str(until)
    )
    return kept.order_by("-made_at").first()


def crew_kept(*, holding, hashed=None):
    """The plan kept of just this, or else the last; None while there is none."""
    kept = SavedAnswer.objects.filter(
        holding=holding, question=KEPT, subject=holding.pk
    )
    found = hashed and kept.filter(inputs_sha256=hashed).first()
    last = kept.filter(said__has_key="half_days").order_by("-made_at")
    return found or last.first()


def _half_days(holding):
    """Those of today that are not past, and of the days after."""
    all_of_them = half_days(today(holding), DAYS)
    if holding.looked_at_as_of is not None:
        # An invented day stands still.
        return all_of_them
    hour = now(holding).hour
    return all_of_them[(hour >= NOON) + (hour >= EVENING) :]


def _fields(holding, days):
    """Each `Standing` with its way to the rick, and what dry days were foretold."""
    crops, standing, dry = _answered(holding), [], defaultdict(list)
    names = crop_names(crop.sowing for crop in crops)
    for crop in crops:
        for day in crop.said["by_cutting_day"]:
            dry[day["date"]].append(1 - day["chance_of_rain"])
    for crop, told in _soon(crops, days):
        sowing = crop.sowing
        stands = Standing(names[sowing.pk], _area_left(sowing), **told)
        standing.append((stands, _way(sowing.field)))
    return standing, dry


def _answered(holding):
    return [crop for crop in crops_standing(holding=holding) if crop.is_answered]


def _soon(crops, days):
    """Each crop that a binder may begin on soon, with what its outlook tells."""
    for crop in crops:
        told = of_outlook(crop.said)
        if _is_soon(told, days):
            yield crop, told


def _is_soon(told, days):
    last = days[-1].date
    begins = min(told["worth"], default=told["ripe"])
    return begins is not None and begins <= last + SOON


def _area_left(sowing):
    return round(sowing.area_ha - sum(cut.area_ha for cut in sowing.cuts.all()), 2)


def _stooks(holding, days):
    """Each `Stooked` with its way to the rick, and what rain was foretold."""
    stooked, dry = [], defaultdict(list)
    sets = list(stooks_in_hand(holding=holding))
    kept, left = saved(question="stooks", about=sets), _left(holding, sets)
    names = _names(sets)
    for each in sets:
        said = kept[each.pk].said if each.pk in kept else {}
        if "carting_by_day" in said:
            for day in said["carting_by_day"]:
                dry[day["date"]].append(1 - day["chance_of_rain"])
            area = round(each.cut.area_ha * left[each.pk], 2)
            told = Stooked(names[each.pk], max(0.01, area), **of_stooks(said))
            stooked.append((told, _way(each.cut.sowing.field)))
    return stooked, dry


def _left(holding, sets):
    """Id of each set to the share of it that still stands, by the book."""
    places = Place.objects.filter(
        holding=holding, kind=Place.Kind.STOOKS, subject__in=[each.pk for each in sets]
    )
    grams = dict(places.values_list("subject", "balance__grams"))
    a_sheaf = METRES * sheaves().kg_per_sheaf
    return {
        each.pk: min(1.0, grams[each.pk] / (a_sheaf * each.cut.sheaves))
        if each.cut.sheaves and each.pk in grams
        else 1.0
        for each in sets
    }


def crop_names(sowings):
    """Id of each sowing to its field's name, and its day where there are others."""
    sown = [(each.pk, each.field.name, each.date) for each in sowings]
    return _told_apart(sown, _("%(field)s sown on %(day)s"))


def _names(sets):
    """The same of sets of stooks, and the days that they were cut."""
    cuts = [(each.pk, each.cut.sowing.field.name, each.cut.date) for each in sets]
    return _told_apart(cuts, _("%(field)s of %(day)s"))


def _told_apart(each, with_day):
    fields, said, names = Counter(field for _pk, field, _day in each), Counter(), {}
    for pk, name, day in each:
        if fields[name] > 1:
            name = with_day % {"field": name, "day": date_format(day, "j F")}
        said[name] += 1
        names[pk] = name if said[name] == 1 else f"{name} ({said[name]})"
    return names


def _way(field):
    return field.to_rick_m


def _distance(ways):
    """The mean, of fields of which it is known."""
    known = [way for way in ways if way is not None]
    return {"distance_km": statistics.mean(known) / METRES} if known else {}


def _dry_chances(days, *told):
    """Date to its chance of being dry, the mean of what was said of it."""
    said = {
        each.date: [p for by_day in told for p in by_day[each.date.isoformat()]]
        for each in days
    }
    known = [p for chances in said.values() for p in chances]
    if not known:
        return {}
    # Of a day that none speaks of nothing is planned; the others stand in for it.
    return {
        date: min(1.0, statistics.mean(chances or known))
        for date, chances in said.items()
    }


def _people(holding, days):
    """Those who may do some of it; a neighbour only when they said that they come."""
    week = {each.half_day.name: each for each in who_comes(holding=holding, days=DAYS)}
    for hand in hands_now(holding=holding):
        may = tuple(task for task in TASKS if task in hand.may)
        away = tuple(day.name for day in days if not _is_there(hand, week[day.name]))
        if may and len(away) < len(days):
            yield Comes(hand.name, may, away)


def _is_there(hand, said):
    if hand in said.comes:
        return True
    return not hand.farm and hand not in said.away


def _binders(holding, days):
    words = defaultdict(list)
    for word in Breakdown.objects.filter(holding=holding):
        words[word.machine_id].append(word)
    for each in machines_now(holding=holding):
        if each.machine.kind == Machine.Kind.BINDER and not each.holder:
            said = words[each.machine.pk]
            broken = tuple(d.name for d in days if _is_broken(each, said, d))
            yield BinderNow(each.machine, broken, days[0].name in broken)


def _is_broken(binder, words, half_day):
    """By the last word before a half-day ends, or by a part found broken since."""
    said = [word for word in words if _when(word) <= _when(half_day)]
    last = max(said, key=lambda word: (*_when(word), word.made_at), default=None)
    if last is not None and last.state == BROKEN:
        return True
    found = max((binder.parts[part].date for part in binder.broken), default=None)
    return found is not None and (last is None or last.date < found)


def _when(said):
    return said.date, Half.values.index(said.half)


def _carts(holding):
    """None where none is written down: then it is as the table has it."""
    carts = [
        each
        for each in machines_now(holding=holding)
        if each.machine.kind == Machine.Kind.CART and not each.holder
    ]
    return len(carts) or None


def _showers(holding, days):
    dates = {each.date for each in days}
    names = {each.name for each in days}
    for shower in Shower.objects.filter(holding=holding, date__in=dates):
        name = f"{shower.date:%Y-%m-%d} {shower.half}"
        # A shower this morning shortens the afternoon, past as the morning may be.
        if name in names or shower.half == Half.MORNING:
            yield name
