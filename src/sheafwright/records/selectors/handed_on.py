"""How what a lot cost goes on with the grain that was dressed or milled of it.

By weight: what went through takes its costs with it, and what came of it bears them,
less what was lost. Sold, fed, sown or given back, grain keeps its costs in its lot, and
so does what is left in store or at the mill.
"""

import collections

from sheafwright.records.models import Movement, Place
from sheafwright.records.selectors.flows import flows

Kind = Place.Kind
HOLDS = (Kind.LOT, Kind.MILL)
GONE = (Kind.SOLD, Kind.FED, Kind.SEED, Kind.OWED)


def handed_on(*, holding, codes):
    """Code of each lot to the lots that bear its costs, and how much of them. [0–1]

    Parameters
    ----------
    holding : Holding
    codes : dict
        Id of each lot of a harvest to its code.
    """
    places = Place.objects.filter(holding=holding, kind__in=HOLDS, subject__in=codes)
    held = {place: place.balance.grams for place in places.select_related("balance")}
    touched = Movement.objects.filter(lines__place__in=held, reversed_by=None)
    found = flows(touched.exclude(kind=Movement.Kind.REVERSE).distinct())
    passed, kept = _went(found, held)
    bearers = _Bearers(codes, passed, kept)
    return {
        codes[place.subject]: bearers.of(place)
        for place in held
        if place.kind == Kind.LOT
    }


def _went(found, held):
    """From each place to what went on to other places, and to what its lot keeps. [g]

    What was lost of an entry is borne by the rest of it.
    """
    passed, kept = collections.defaultdict(collections.Counter), {**held}
    entries = collections.defaultdict(dict)
    for flow in found:
        entries[flow.movement, flow.taken_from][flow.given_to] = flow.grams
    for (_movement, giver), takers in entries.items():
        if giver in held:
            for taker, grams in _borne(takers).items():
                if taker in held:
                    passed[giver][taker] += grams
                else:
                    kept[giver] += grams
        elif giver.kind in GONE:
            # What came back is in store again.
            for taker, grams in takers.items():
                kept[taker] = kept.get(taker, 0) - grams
    return passed, kept


def _borne(takers):
    """Each that bears costs to what it bears, losses and all. [g]"""
    bear = {to: grams for to, grams in takers.items() if to.kind in (*HOLDS, *GONE)}
    whole, through = sum(bear.values()), sum(takers.values())
    return {to: through * grams / whole for to, grams in bear.items()}


class _Bearers:
    """Who bears what a place cost."""

    def __init__(self, codes, passed, kept):
        self.codes, self.passed, self.kept = codes, passed, kept
        self.known = {}

    def of(self, place):
        if place not in self.known:
            self.known[place] = self._of(place)
        return self.known[place]

    def _of(self, place):
        own, passed = self.codes[place.subject], self.passed[place]
        kept = max(self.kept[place], 0)
        whole = kept + sum(passed.values())
        if not passed:
            return {own: 1.0}
        bear = collections.Counter({own: kept / whole} if kept else {})
        for taker, grams in passed.items():
            for code, share in self.of(taker).items():
                bear[code] += share * grams / whole
        return dict(bear)
