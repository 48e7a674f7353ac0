"""The material book's entries as events for other people's systems.

Told are harvests, carting and other moves, threshing, milling, and what was sent off.
Not told is what only the book knows: crops expected, weights put right, losses.
An entry that was undone is told with its withdrawal; undoing it is no event itself.
"""

import datetime
import functools

from django.db.models import Q
from django.utils import timezone

from sheafwright.answers.organic import ORGANIC
from sheafwright.documents import epcis
from sheafwright.documents.epcis import Amount, Withdrawal
from sheafwright.records.clock import zone_of
from sheafwright.records.models import Milling, Movement, Place, StookSet
from sheafwright.records.papers.standing import certificate_on, may_be_sold_as
from sheafwright.records.selectors.flows import flows, net
from sheafwright.records.selectors.milled import milled_organically, own_certificates
from sheafwright.records.selectors.places import subjects_of
from sheafwright.records.selectors.walk import origins

Kind = Place.Kind
HERE = ""
"""The holding's own address."""
NOON = datetime.time(12)
OF_SUBJECTS = {Kind.STOOKS: "stooks", Kind.RICK: "ricks", Kind.LOT: "lots"}
"""Places with an address each; any other kind is one to the holding."""
THINGS = {Kind.STOOKS: "sheaves", Kind.LOT: "lots", Kind.MILL: "lots"}
"""What is in places of a kind, a thing to each subject."""


NOT_MADE = (Kind.UNEXPLAINED, Kind.MILLING, Kind.SCREENINGS)


def events_of(*, holding, begins, ends):
    """Each `sheafwright.documents.epcis.Event` of the days from one to another.

    An entry undone on one of those days is told again, whenever it was made.
    """
    entries = _entries(holding, begins, ends)
    book = _Book(holding, entries)
    told = (TELLERS[entry.kind](book, entry) for entry in entries)
    return [event for event in told if event]


def _entries(holding, begins, ends):
    days = (begins, ends)
    found = Movement.objects.filter(
        Q(date__range=days) | Q(reversed_by__date__range=days),
        holding=holding,
        kind__in=TELLERS,
    )
    return list(
        found.select_related("reversed_by")
        .prefetch_related("lines__place")
        .order_by("date", "seq")
    )


class _Book:
    """What the entries speak of."""

    def __init__(self, holding, entries):
        self.holding = holding
        places = {x.place_id: x.place for entry in entries for x in entry.lines.all()}
        self._subjects = subjects_of(places.values())
        # The drum is filled by one movement and emptied by another.
        self.filling = {
            entry.subject: entry for entry in entries if entry.pk != entry.subject
        }
        self.organic_code = functools.cache(self._organic_code)
        self.carted = functools.cache(self._carted)

    @functools.cached_property
    def stook_sets(self):
        sets = StookSet.objects.filter(holding=self.holding)
        return (
            sets.select_related("cut__sowing__field", "cut__sowing__seed_lot")
            .prefetch_related("cut__sowing__field__statuses")
            .in_bulk()
        )

    def subject(self, line):
        return self._subjects[line.place_id]

    def threshed(self, run):
        """Stook set to what of it was in what a run threshed, or to a like share."""
        return self.carted(run.rick_id) if run.rick_id else {run.stook_set_id: 1}

    def sowings(self, stook_sets):
        return {self.stook_sets[pk].cut.sowing for pk in stook_sets}

    def common(self, entry):
        return {"id": entry.pk, "at": self._at(entry), "withdrawn": self._undone(entry)}

    def grown_into(self, place):
        """Sowings behind a lot, wherever it is."""
        lots = Place.objects.filter(
            holding=self.holding, kind=Kind.LOT, subject=place.subject
        )
        found = origins(places=lots)
        sown = {pk for its in found.values() for pk in its}
        return {
            each.cut.sowing
            for each in self.stook_sets.values()
            if each.cut.sowing_id in sown
        }

    def origin(self, entry, sowings):
        organic = may_be_sold_as(sowings) == ORGANIC and self.is_by_the_mill(entry)
        return epcis.Origin(
            field=_listed(sowing.field.name for sowing in sowings),
            variety=_listed(sowing.seed_lot.variety for sowing in sowings),
            harvest_year=_listed(str(sowing.harvest_year) for sowing in sowings),
            organic_code=self.organic_code(entry.date) if organic else "",
        )

    def is_by_the_mill(self, entry):
        """Whether what an entry made may be organic by who milled it, if any did."""
        if entry.kind != Movement.Kind.MILL:
            return True
        return milled_organically(self.millings.get(entry.pk), own=self.own)

    @functools.cached_property
    def millings(self):
        runs = Milling.objects.filter(holding=self.holding)
        return runs.select_related("miller").in_bulk()

    @functools.cached_property
    def own(self):
        return list(own_certificates(self.holding))

    def _at(self, entry):
        """Noon of its day, or when it was written if that was before."""
        zone = zone_of(self.holding)
        noon = datetime.datetime.combine(entry.date, NOON, zone)
        return min(noon, entry.made_at.astimezone(zone))

    def _undone(self, entry):
        if not hasattr(entry, "reversed_by"):
            return None
        at = timezone.localtime(entry.reversed_by.made_at, zone_of(self.holding))
        return Withdrawal(at, "did_not_occur")

    def _organic_code(self, day):
        own = certificate_on(holding=self.holding, begins=day, ends=day)
        # Sheaves are straw and grain: neither is called organic unless both may be.
        return own.code if own and own.covers_straw else ""

    def _carted(self, rick_id):
        """Stook set to what was carted from it to a rick. [g]"""
        touched = Movement.objects.filter(
            lines__place__kind=Kind.RICK, lines__place__subject=rick_id
        )
        return {
            giver.subject: grams
            for (giver, taker), grams in net(flows(touched)).items()
            if giver.kind == Kind.STOOKS and taker.subject == rick_id
        }


def _harvest(book, entry):
    stooks = _to(entry, Kind.STOOKS)
    sowing = book.stook_sets[stooks.place.subject].cut.sowing
    return epcis.Harvest(
        **book.common(entry),
        amounts=(_amount(stooks),),
        field=f"fields/{sowing.field_id}",
        origin=book.origin(entry, {sowing}),
    )


def _move(book, entry):
    taken, given = _from(entry), _to(entry)
    # What comes back from a buyer is of the lot that it comes back to.
    of = given if taken.place.kind == Kind.SOLD else taken
    return epcis.Move(
        **book.common(entry),
        amounts=(Amount(_thing(of.place), given.grams),),
        taken_from=_address(taken.place),
        given_to=_address(given.place),
    )


def _threshing(book, entry):
    if entry.pk != entry.subject:
        return None
    threshing = book.subject(_from(entry))
    sets = book.threshed(threshing)
    filled = _to(book.filling[entry.subject], Kind.DRUM)
    return epcis.Transformation(
        **book.common(entry),
        inputs=tuple(_sheaves(filled.grams, sets)) or (_amount(filled),),
        outputs=tuple(_amount(line) for line in _outputs(entry)),
        place=f"ricks/{threshing.rick_id}" if threshing.rick_id else "drum",
        origin=book.origin(entry, book.sowings(sets)),
    )


def _milling(book, entry):
    return _made_of_a_lot(book, entry, "mill")


def _dressing(book, entry):
    return _made_of_a_lot(book, entry, HERE)


def _made_of_a_lot(book, entry, place):
    used, made = _from(entry), _outputs(entry)
    if not made:
        return None
    return epcis.Transformation(
        **book.common(entry),
        inputs=(Amount(_thing(used.place), -used.grams),),
        outputs=tuple(_amount(line) for line in made),
        place=place,
        origin=book.origin(entry, book.grown_into(used.place)),
    )


def _sale(book, entry):
    sale = book.subject(_to(entry))
    return _shipped(book, entry, f"buyers/{sale.buyer_id or sale.buyer_name}")


def _give_back(book, entry):
    return _shipped(book, entry, "owner-of-the-seed")


def _shipped(book, entry, buyer):
    return epcis.Sale(
        **book.common(entry),
        amounts=(Amount(_thing(_from(entry).place), _to(entry).grams),),
        place=HERE,
        seller=HERE,
        buyer=buyer,
    )


TELLERS = {
    Movement.Kind.CUT: _harvest,
    Movement.Kind.CART: _move,
    Movement.Kind.MOVE: _move,
    Movement.Kind.KEEP_SEED: _move,
    Movement.Kind.THRESH: _threshing,
    Movement.Kind.DRESS: _dressing,
    Movement.Kind.MILL: _milling,
    Movement.Kind.SELL: _sale,
    Movement.Kind.GIVE_BACK: _give_back,
}


def _from(entry):
    """The line that material was taken by; what was grown above the guess, last."""
    taken = (line for line in entry.lines.all() if line.grams < 0)
    return min(taken, key=lambda line: line.place.kind == Kind.GROWN)


def _to(entry, kind=None):
    return next(
        line
        for line in entry.lines.all()
        if line.grams > 0 and kind in (None, line.place.kind)
    )


def _outputs(entry):
    """What was made; what was lost isn't, but for waste."""
    lines = (line for line in entry.lines.all() if line.grams > 0)
    return [line for line in lines if line.place.kind not in NOT_MADE]


def _sheaves(grams, sets):
    """An amount of each stook set's sheaves, in the shares that they were carted."""
    whole, so_far, told = sum(sets.values()), 0, 0
    for stook_set, carted in sorted(sets.items()):
        so_far += carted
        until = grams * so_far // whole
        yield Amount(f"{THINGS[Kind.STOOKS]}/{stook_set}", until - told)
        told = until


def _amount(line):
    return Amount(_thing(line.place), line.grams)


def _thing(place):
    return _below(THINGS, place)


def _address(place):
    return _below(OF_SUBJECTS, place)


def _below(names, place):
    name = names.get(place.kind)
    return f"{name}/{place.subject}" if name else place.kind


def _listed(words):
    return ", ".join(sorted(set(words)))
