"""Which field's sheaves came to which lot, by weight.

A rick is taken as well mixed: whatever leaves it is of its fields as they went in.
What the drum gave bears its sheaves by weight, without cavings and waste; what was
dressed or milled hands them on.
"""

import collections
import dataclasses
import functools

from sheafwright.records.models import Lot, Place, StookSet
from sheafwright.records.selectors.handed_on import handed_on
from sheafwright.records.selectors.walk import traced

Kind = Place.Kind
STORES = (Kind.STOOKS, Kind.RICK)
THROUGH = (*STORES, Kind.DRUM, Kind.LOT, Kind.MILL)
NONE = collections.Counter()


@dataclasses.dataclass(frozen=True)
class SheafShares:
    """Of one harvest."""

    of_lot: dict[str, dict]
    """Code to its sowings' ids, and how much of it is of each. [0–1]"""
    in_lot: dict[str, dict]
    """Code to its sowings' ids, and how much of each one's sheaves is in it. [0–1]"""
    handed: dict[str, dict] = dataclasses.field(default_factory=dict)
    """Code to the lots that bear its costs, and how much of them. [0–1]"""

    def borne_by(self, code):
        """Which lots bear what a lot cost: it itself, unless it was dressed or milled.

        Returns
        -------
        dict
            Code to share. [0–1]
        """
        return self.handed.get(code, {code: 1.0})


def sheaf_shares(*, holding, harvest_year):
    """`SheafShares` of what the drum gave and of what stands yet."""
    lots = Lot.objects.filter(holding=holding, harvest_year=harvest_year)
    codes = dict(lots.values_list("pk", "code"))
    places = Place.objects.filter(holding=holding)
    given = places.filter(kind=Kind.LOT, subject__in=codes)
    stored = places.filter(kind__in=STORES, balance__grams__gt=0)
    start = list((given | stored).select_related("balance"))
    came = _Came(traced(start))
    lot_places = [place for place in start if place.kind == Kind.LOT]
    of_lot = {codes[p.subject]: came.mix(p) for p in lot_places}
    sheaves = {codes[p.subject]: came.sheaves(p) for p in lot_places}
    whole = sum(sheaves.values(), collections.Counter())
    for place in start:
        if place.kind in STORES:
            whole += came.times(place, place.balance.grams)
    handed = handed_on(holding=holding, codes=codes)
    in_lot = {
        code: {sowing: grams / whole[sowing] for sowing, grams in parts.items()}
        for code, parts in _handed(sheaves, handed).items()
    }
    return SheafShares(of_lot, in_lot, handed)


def _handed(sheaves, handed):
    """Code to the sheaves that a lot bears, once what was dressed or milled went on."""
    found = {code: collections.Counter() for code in sheaves}
    for code, parts in sheaves.items():
        for bearer, share in handed[code].items():
            for sowing, grams in parts.items():
                found[bearer][sowing] += share * grams
    return found


class _Came:
    """What came into each place, and so what is in it."""

    def __init__(self, steps):
        self.into, self.out = (collections.defaultdict(dict) for _ in range(2))
        for (giver, taker), grams in steps.items():
            if giver.kind in THROUGH:
                self.into[taker][giver] = grams
                self.out[giver][taker] = grams
        stooks = [p.subject for pair in steps for p in pair if p.kind == Kind.STOOKS]
        found = StookSet.objects.filter(pk__in=stooks)
        self.sown = dict(found.values_list("pk", "cut__sowing_id"))
        self.mix = functools.cache(self._mix)

    def _mix(self, place):
        """Ids of sowings to their shares in a place; none where nobody knows. [0–1]"""
        if place.kind == Kind.STOOKS:
            sowing = self.sown.get(place.subject)
            return {sowing: 1.0} if sowing else {}
        into, mixed = self.into[place], collections.Counter()
        for giver, grams in into.items():
            for sowing, share in self.mix(giver).items():
                mixed[sowing] += share * grams
        whole = sum(mixed.values())
        return {sowing: grams / whole for sowing, grams in mixed.items()}

    def times(self, place, grams):
        """So much of a place, by sowing. [g]"""
        parts = {sowing: share * grams for sowing, share in self.mix(place).items()}
        return collections.Counter(parts)

    def sheaves(self, lot):
        """Of each sowing, that a lot took at the drum. [g]"""
        drums = [giver for giver in self.into[lot] if giver.kind == Kind.DRUM]
        return sum((self._at(drum, lot) for drum in drums), collections.Counter())

    def _at(self, drum, lot):
        made = sum(g for to, g in self.out[drum].items() if to.kind == Kind.LOT)
        went_in = sum(self.into[drum].values())
        return self.times(drum, went_in * self.out[drum][lot] / made)
