"""From any lot back to its field and seed, and from any field on to its buyers."""

import dataclasses
from collections import defaultdict

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from sheafwright.charts.walk_rows import Node
from sheafwright.feeds.telling import shown
from sheafwright.records.models import Movement, Place, Sowing, StookSet
from sheafwright.records.models.material import SOURCES
from sheafwright.records.selectors.flows import flows, net
from sheafwright.records.selectors.places import name_of, subjects_of

Kind = Place.Kind
PASSED = (Kind.STANDING, Kind.STOOKS, Kind.RICK, Kind.DRUM, Kind.LOT, Kind.MILL)
"""Places that material passes through, and a walk with it."""


@dataclasses.dataclass(frozen=True)
class Went:
    """What went from one node to the next; no weight where none was written down."""

    start: str
    end: str
    grams: int | None = None


@dataclasses.dataclass(frozen=True)
class Walk:
    """Where material came from or went; what was undone is not in it."""

    nodes: tuple[Node, ...]
    went: tuple[Went, ...]


def walk_back(*, lot):
    """From a lot to everything that may be in it."""
    start = Place.objects.filter(holding=lot.holding_id, kind=Kind.LOT, subject=lot.pk)
    return _walk(start, _trace(start, back=True), Sowing.objects.none())


def walk_on(*, field, harvest_years=None, with_buyers=True):
    """From a field to everyone who may have some of it, or of some harvests of it.

    Without buyers it is told that some was sold, but not to whom.
    """
    sowings = Sowing.objects.filter(field=field)
    if harvest_years is not None:
        sowings = sowings.filter(harvest_year__in=harvest_years)
    stooks = StookSet.objects.filter(cut__sowing__in=sowings)
    places = Place.objects.filter(holding=field.holding_id)
    start = places.filter(kind=Kind.STANDING, subject__in=sowings.values("pk"))
    start |= places.filter(kind=Kind.STOOKS, subject__in=stooks.values("pk"))
    walk = _walk((), _trace(start, back=False), sowings)
    return walk if with_buyers else _without_buyers(walk)


def origins(*, places):
    """Each place's id to the ids of all sowings that may be in it; a few looks at all.

    Parameters
    ----------
    places : query of Place
        Of lots, of ricks.
    """
    start = list(places)
    before = defaultdict(set)
    for giver, taker in _trace(start, back=True):
        before[taker].add(giver)
    behind = {place.pk: _all_before(place, before) for place in start}
    passed = set().union(*behind.values())
    stooks = [place.subject for place in passed if place.kind == Kind.STOOKS]
    sown = dict(
        StookSet.objects.filter(pk__in=stooks).values_list("pk", "cut__sowing_id")
    )
    return {
        pk: {sown[place.subject] for place in its if place.kind == Kind.STOOKS}
        for pk, its in behind.items()
    }


def sown_behind(places):
    """Each place's subject to the sowings that may be in it, with their fields.

    Parameters
    ----------
    places : query of Place
        Of lots, of ricks.
    """
    places = list(places)
    behind = origins(places=places)
    sowings = Sowing.objects.filter(pk__in=set().union(*behind.values()))
    known = {
        sowing.pk: sowing
        for sowing in sowings.select_related("field", "seed_lot").prefetch_related(
            "field__statuses"
        )
    }
    return {
        place.subject: [known[pk] for pk in behind[place.pk] if pk in known]
        for place in places
    }


def traced(start):
    """(from, to) to grams of every step that led to some places."""
    return _trace(start, back=True)


def _all_before(place, before):
    seen, here = set(), {place}
    while here:
        seen |= here
        here = set().union(*(before[each] for each in here)) - seen
    return seen


def _trace(start, *, back):
    """(from, to) to grams, for every step on the way; one look at the book a step."""
    steps, seen = {}, set(start)
    here = set(seen)
    while here:
        touched = Movement.objects.filter(lines__place__in=here)
        ahead = set()
        for (giver, taker), amount in net(flows(touched)).items():
            near, far = (taker, giver) if back else (giver, taker)
            # What was grown above the guess joins a walk that goes on, too.
            joins = giver.kind in SOURCES and taker in here
            if (near in here and taker.kind not in SOURCES) or joins:
                steps[giver, taker] = amount
                ahead |= {far} if far.kind in PASSED else set()
        here = ahead - seen
        seen |= here
    return steps


def _walk(start, steps, sowings):
    places = {place for pair in steps for place in pair} | set(start)
    subjects = subjects_of(places)
    nodes = {
        _id(place): _node(place, subjects[place.pk])
        for place in places
        if place.kind not in (*SOURCES, Kind.STANDING)
    }
    sown = {sowing.pk: sowing for sowing in _with_seed(sowings)}
    sown |= _sown(places, subjects)
    went = defaultdict(int)
    for (giver, taker), amount in steps.items():
        if taker.kind == Kind.STANDING:
            continue
        if giver.kind in SOURCES and taker.kind == Kind.STOOKS:
            went[str(subjects[taker.pk].cut.sowing_id), _id(taker)] += amount
        else:
            went[_id(giver), _id(taker)] += amount
            if giver.kind in SOURCES:
                nodes[_id(giver)] = _more(giver)
    for sowing in sown.values():
        for node in _before(sowing):
            nodes[node.id] = node
            went[node.id, str(sowing.pk)] = None
        nodes[str(sowing.pk)] = _sowing(sowing)
    return Walk(tuple(nodes.values()), tuple(Went(*k, g) for k, g in went.items()))


def _without_buyers(walk):
    sold = str(Kind.SOLD.label)
    nodes = (
        dataclasses.replace(node, name=sold, detail="") if node.kind == sold else node
        for node in walk.nodes
    )
    return dataclasses.replace(walk, nodes=tuple(nodes))


def _with_seed(sowings):
    return sowings.select_related("field", "seed_lot__grown_as")


def _sown(places, subjects):
    """The sowings of the crops and the stooks among the places."""
    crops = {place.subject for place in places if place.kind == Kind.STANDING}
    stooks = [subjects[place.pk] for place in places if place.kind == Kind.STOOKS]
    pks = crops | {stook_set.cut.sowing_id for stook_set in stooks}
    found = _with_seed(Sowing.objects.filter(pk__in=pks))
    return {sowing.pk: sowing for sowing in found}


def _id(place):
    # A crop is its sowing, which is there before the book knows a kilogram of it.
    return str(place.subject if place.kind == Kind.STANDING else place.pk)


def _sowing(sowing):
    return Node(
        str(sowing.pk),
        _("sowing"),
        str(sowing),
        f"{sowing.seed_lot.variety}, {_day(sowing.date)}",
    )


def _before(sowing):
    field, seed = sowing.field, sowing.seed_lot
    whence = seed.supplier or seed.get_came_display()
    if seed.grown_as:
        whence = _("kept from lot %(lot)s") % {"lot": seed.grown_as}
    yield Node(str(field.pk), _("field"), field.name, shown(field.area_ha, "area"))
    yield Node(str(seed.pk), _("seed lot"), str(seed), whence)


def _more(grown):
    return Node(_id(grown), str(grown), _("more than was guessed"))


def _node(place, subject):
    kind, detail = str(place), ""
    if place.kind == Kind.LOT:
        kind = subject.get_kind_display()
        detail = f"{subject.variety}, {subject.harvest_year}"
    elif place.kind == Kind.SOLD:
        return Node(_id(place), kind, subject.buyer_name, _sent(subject))
    elif place.kind == Kind.STOOKS:
        cut = subject.cut
        return Node(_id(place), kind, str(cut.sowing.field), _day(cut.date))
    elif place.kind == Kind.RICK:
        detail = _day(subject.built)
    elif place.kind == Kind.DRUM:
        return Node(_id(place), kind, _day(subject.date))
    return Node(_id(place), kind, name_of(place, subject), detail)


def _sent(sale):
    """When it was sent, and for which roof."""
    delivery = getattr(sale, "delivery", None)
    roof = delivery.order.roof if delivery else ""
    return ", ".join(filter(None, (_day(sale.date), roof)))


def _day(date):
    return date_format(date, "j F Y")
