"""What fields bore, harvest by harvest, and what the rotation makes of it."""

import datetime
import functools
import itertools

from sheafwright.planning.cropping.rotation import (
    CORN,
    LEY,
    ROOTS,
    WHEAT,
    first_state,
    grown,
)
from sheafwright.records.models import PastCrop
from sheafwright.records.models.plan import PlanCrop

LOOKED_BACK = 6
"""The rules ask for nothing earlier. [a]"""
MIDSUMMER = (6, 20)
"""A ley that lies then is that harvest's crop: its hay is cut."""
A_YEAR = datetime.timedelta(365)
BORE = {
    PastCrop.Crop.WHEAT: PlanCrop.AUTUMN_WHEAT,
    PastCrop.Crop.OATS: PlanCrop.OATS,
    PastCrop.Crop.ROOTS: PlanCrop.ROOTS,
    PastCrop.Crop.POTATOES: PlanCrop.ROOTS,
}
"""A past crop as the plan calls it; to its rules any other is corn."""
KINDS = {
    PlanCrop.AUTUMN_WHEAT: WHEAT,
    PlanCrop.LATE_WHEAT: WHEAT,
    PlanCrop.ROOTS: ROOTS,
    PlanCrop.LEY: LEY,
}

ONE_OF_A_KIND = PlanCrop.AUTUMN_WHEAT, PlanCrop.OATS, PlanCrop.ROOTS, PlanCrop.LEY


def borne(field, until):
    """What a field bore in the harvests before a year, oldest first; None if unsaid.

    Parameters
    ----------
    field : Field
        With ``sowings``, ``leys`` and ``past_crops``.
    until : int
    """
    said = {p.harvest_year: BORE.get(p.crop, p.crop) for p in field.past_crops.all()}
    # Wheat over an undersown ley is that harvest's crop.
    said |= {each.harvest_year: wheat_of(each) for each in field.sowings.all()}
    leys = list(_leys(field, until))
    return tuple(
        said.get(year, PlanCrop.LEY if _lay(leys, year) else None)
        for year in range(until - LOOKED_BACK, until)
    )


def wheat_of(sowing):
    """Which wheat it is, by when it was sown."""
    in_autumn = sowing.date.year < sowing.harvest_year
    return PlanCrop.AUTUMN_WHEAT if in_autumn else PlanCrop.LATE_WHEAT


def state_after(crops, rules):
    """What the rules know of a field that bore these crops, None being taken as corn.

    Parameters
    ----------
    crops : iterable of str or None
        The oldest first.
    rules : Rotation
    """
    kinds = (KINDS.get(crop, CORN) for crop in crops)
    return functools.reduce(lambda s, k: grown(s, k, rules), kinds, first_state(rules))


def unsaid(crops, until, rules):
    """Harvests nobody told of, where what was borne may change what may be grown."""
    first = until - len(crops)
    return tuple(first + place for place in _telling(crops, rules))


# Many fields lack the same, and to try all that may have been takes a while.
@functools.cache
def _telling(crops, rules):
    """Places of what is unsaid, of which some other crop might leave another state."""
    places = [place for place, crop in enumerate(crops) if crop is None]
    states = {}
    for might in itertools.product(ONE_OF_A_KIND, repeat=len(places)):
        said = dict(zip(places, might, strict=True))
        whole = (said.get(place, crop) for place, crop in enumerate(crops))
        states[might] = state_after(whole, rules)
    return tuple(
        place
        for n, place in enumerate(places)
        if any(
            states[might] != states[(*might[:n], other, *might[n + 1 :])]
            for might in states
            for other in ONE_OF_A_KIND
        )
    )


def _lay(leys, year):
    return any(begun <= datetime.date(year, *MIDSUMMER) < end for begun, end in leys)


def _leys(field, until):
    """First and last day of each; one summer of what nobody said more of."""
    for ley in field.leys.all():
        end = ley.ploughed or _ploughed_later(field, ley) or datetime.date.max
        last = min(end, datetime.date(until - 1, 12, 31))
        yield ley.sown or last - A_YEAR, end


def _ploughed_later(field, ley):
    """When it was ploughed, if that was written down as a ley of its own."""
    ends = (
        each.ploughed
        for each in field.leys.all()
        if each.ploughed
        and (each.ploughed >= ley.sown if ley.sown else each.made_at > ley.made_at)
    )
    return min(ends, default=None)
