"""What a store of sheaves was filled from."""

import dataclasses

from sheafwright.records.models import Movement, Place, Sowing
from sheafwright.records.selectors.flows import flows, net


@dataclasses.dataclass(frozen=True)
class Origin:
    """Whence sheaves are: their sowings, and what those say of a lot."""

    sowings: tuple[Sowing, ...]
    variety: str
    harvest_year: int


def origin_of(store, date):
    """`Origin` of a rick or of stooks, as of a day if nothing was carted in."""
    sowings = tuple(_sowings(store).select_related("seed_lot", "field"))
    varieties = sorted({sowing.seed_lot.variety for sowing in sowings})
    years = [sowing.harvest_year for sowing in sowings]
    return Origin(sowings, _named(varieties), max(years, default=date.year))


def _sowings(store):
    sets = [store.subject]
    if store.kind == Place.Kind.RICK:
        went = net(flows(Movement.objects.filter(lines__place=store)))
        sets = [
            giver.subject
            for giver, taker in went
            if taker == store and giver.kind == Place.Kind.STOOKS
        ]
    return Sowing.objects.filter(cuts__stook_set__pk__in=sets).distinct()


def _named(varieties):
    if not varieties:
        return "not known"
    together = " and ".join(varieties)
    longest = 60
    return together if len(together) <= longest else "mixed"
