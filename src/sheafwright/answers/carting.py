"""In what order are the stooks carted, in how many loads, and into which rick?"""

import dataclasses
import datetime

from sheafwright.answers import wording
from sheafwright.answers.after_rain import AfterRain, after_rain
from sheafwright.answers.cartage import Band, Cartage, cartage
from sheafwright.answers.carting_question import CartingQuestion, StookSet, Store
from sheafwright.answers.carting_working import carting_steps
from sheafwright.answers.stooks import ENOUGH_TENTHS
from sheafwright.answers.work_working import span
from sheafwright.answers.working import steps_to_json
from sheafwright.core.inputs.work import Cart
from sheafwright.feeds import stooks
from sheafwright.feeds.telling import joined, mark, say, say_n
from sheafwright.feeds.work import WorkRates, work_rates

CAUTION = mark(
    "Nobody rides on a load or stands under one being pitched. Rope every load, and "
    "keep the middle of the rick highest. Local codes and trained people first."
)
FITS, PERHAPS, TOO_SMALL, UNKNOWN, NOWHERE = (
    "fits",
    "perhaps",
    "too_small",
    "unknown",
    "nowhere",
)
FIT = {
    FITS: mark("It fits {store}."),
    PERHAPS: mark("It may fit {store}: keep room elsewhere for {over} sheaves."),
    TOO_SMALL: mark("{store} is too small: {over} sheaves must go elsewhere."),
    UNKNOWN: mark("It goes to {store}, of which nobody has said what it holds."),
    NOWHERE: mark("No rick stands that it may go to."),
}


NONE_OVER = Band(0, 0)


@dataclasses.dataclass(frozen=True)
class Stored:
    """Where a set goes, and how it fits."""

    verdict: str
    """One of ``FIT``."""
    store: str = ""
    left: Band | None = None
    """Sheaves that still go on after it; None where nobody knows. [1]"""
    over: Band = NONE_OVER
    """Sheaves that must go elsewhere. [1]"""

    @property
    def sentence(self):
        """Where it goes in a sentence."""
        return say(FIT[self.verdict], store=self.store, over=span(self.over))


@dataclasses.dataclass(frozen=True)
class Carted:
    """One set of stooks."""

    stook_set: StookSet
    begins: datetime.date | None
    """None where none of the days ahead is likely enough fit."""
    ends: datetime.date | None
    """With the hands that come; None, too, where it goes on beyond the days ahead."""
    cartage: Cartage
    hours: Band
    """With the hands that come. [h]"""
    stored: Stored
    after_rain: AfterRain


@dataclasses.dataclass(frozen=True)
class Carting:
    """The answer."""

    question: CartingQuestion
    sets: tuple[Carted, ...]
    """In the order of carting; those with no day in sight come last."""
    cart: Cart
    rates: WorkRates

    @property
    def hands(self):
        """That come: as asked, or a whole crew at its fewest."""
        crew = self.sets[0].cartage.crew if self.sets else Band(0, 0)
        return self.question.hands or crew.low

    @property
    def sentence(self):
        """The answer in a few sentences."""
        if not self.sets:
            return say("Nothing stands in the stook.")
        first, *others = self.sets
        if first.begins is None:
            days = len(first.stook_set.fit) - 1
            last = self.question.as_of + datetime.timedelta(days)
            return say(
                "Nothing is likely fit to cart by {day}.", day=wording.near_date(last)
            )
        then = [each for each in others if each.begins]
        return joined(
            self._first(first),
            self._loads(first),
            first.stored.sentence,
            *map(_then, then),
        )

    def _first(self, first):
        day = (first.begins - self.question.as_of).days
        return say(
            "Cart {name} first, on {day}: {odds} that it is fit by then.",
            name=first.stook_set.name,
            day=wording.weekday(first.begins),
            odds=wording.odds(first.stook_set.fit_by[day]),
        )

    def _loads(self, first):
        most, loads = first.cartage.loads.high, span(first.cartage.loads)
        return say(
            "That is {loads}, {hours} hours with {carts} and {hands}.",
            loads=say_n("{loads} load", "{loads} loads", most, loads=loads),
            hours=hours_said(first.hours),
            carts=say_n("{n} cart", "{n} carts", self.cart.carts),
            hands=say_n("{n} hand", "{n} hands", self.hands),
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return carting_steps(self)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "caution": say(CAUTION),
            "as_of": self.question.as_of.isoformat(),
            "carts": self.cart.carts,
            "hands": self.hands,
            "sets": [_set_to_json(each) for each in self.sets],
            "working": steps_to_json(self.working),
        }


def carting(question):
    """The answer to a `CartingQuestion`, `Carting`."""
    rates = work_rates()
    carts = question.carts or rates.cart.carts
    cart = dataclasses.replace(rates.cart, carts=carts)
    loads = {each.name: _cartage(each, cart, rates, question) for each in question.sets}
    hours = {
        name: Band(*(rates.day.fit_hours * days for days in each.days))
        for name, each in loads.items()
    }
    longest = {name: each.high for name, each in hours.items()}
    days = _days(question.sets, longest, rates.day.fit_hours)
    stores = list(question.stores)
    carted = tuple(
        _carted(
            each,
            question,
            days.get(each.name),
            loads[each.name],
            hours[each.name],
            _stored(each.sheaves, stores),
        )
        for each in _in_order(question.sets, days)
    )
    return Carting(question, carted, cart, rates)


def _in_order(sets, days):
    """As they are carted; those that no day is in sight for last, as they were cut."""
    order = list(days)
    return sorted(
        sets,
        key=lambda each: (
            order.index(each.name) if each.name in days else len(order),
            each.cut,
        ),
    )


def _carted(stook_set, question, days, loads, hours, stored):
    begins, ends = (_date(question, day) for day in days or (None, None))
    return Carted(
        stook_set=stook_set,
        begins=begins,
        ends=ends,
        cartage=loads,
        hours=hours,
        stored=stored,
        after_rain=after_rain(stook_set, question.as_of, begins == question.as_of),
    )


def hours_said(band):
    """Hours, to the half: 2½ to 4."""
    low, high = (round(2 * each) / 2 or 0.5 for each in band)
    return span((low, high))


def _then(carted):
    return joined(
        say(
            "Then {name}, on {day}.",
            name=carted.stook_set.name,
            day=wording.weekday(carted.begins),
        ),
        carted.stored.sentence,
    )


def _cartage(stook_set, cart, rates, question):
    way = stooks.order().way if stook_set.distance is None else stook_set.distance
    return cartage(stook_set.sheaves, way, cart, rates, question.hands)


def _days(sets, hours, fit_hours):
    """Name of each set that is carted, in order, to the days on which it begins and
    ends; an end beyond the days ahead is None.
    """
    left, begun, days = dict(hours), [], {}
    for day in range(max((len(each.fit) for each in sets), default=0)):
        spare = fit_hours
        for each in sorted(_ready(sets, left, day), key=_turn(day, begun)):
            if spare <= 0:
                break
            worked = min(spare, left[each.name])
            spare, left[each.name] = spare - worked, left[each.name] - worked
            if each.name not in days:
                begun.append(each.name)
                days[each.name] = (day, None)
            if left[each.name] <= 0:
                days[each.name] = (days[each.name][0], day)
    return days


def _ready(sets, left, day):
    """Those not yet home, that are likely enough to have been fit by that day."""
    return [
        each
        for each in sets
        if left[each.name] > 0
        and day < len(each.fit_by)
        and round(10 * each.fit_by[day]) >= ENOUGH_TENTHS
    ]


def _turn(day, begun):
    """What is begun is finished; then the likeliest fit, then the most at risk."""
    after = stooks.order().risk_days

    def turn(each):
        later = each.fit[day + 1 : day + 1 + after]
        waits_well = sum(later) / len(later) if later else 1.0
        tenths = round(10 * each.fit[day])
        return each.name not in begun, -tenths, waits_well, each.cut, each.name

    return turn


def _stored(sheaves, stores):
    """Where so many go; the stores are left with that much less room."""
    cool = [n for n, store in enumerate(stores) if not store.hot]
    known = [n for n in cool if stores[n].low is not None]
    surely = [n for n in known if stores[n].low >= sheaves]
    perhaps = [n for n in known if stores[n].high >= sheaves]
    unknown = [n for n in cool if stores[n].low is None]
    if surely:
        # The tightest that does, so that the larger stay free for the larger.
        return _put(sheaves, stores, min(surely, key=lambda n: stores[n].low), FITS)
    if perhaps:
        return _put(sheaves, stores, max(perhaps, key=lambda n: stores[n].low), PERHAPS)
    if unknown:
        return Stored(UNKNOWN, stores[unknown[0]].name)
    if known:
        return _put(
            sheaves, stores, max(known, key=lambda n: stores[n].high), TOO_SMALL
        )
    return Stored(NOWHERE)


def _put(sheaves, stores, at, verdict):
    store = stores[at]
    left = Band(max(0, store.low - sheaves), max(0, store.high - sheaves))
    over = Band(max(0, sheaves - store.high), max(0, sheaves - store.low))
    stores[at] = Store(store.name, *left)
    if verdict == PERHAPS:
        # At the tightest none is over: room is kept for the loosest.
        over = Band(over.high, over.high)
    return Stored(verdict, store.name, left, over)


def _date(question, day):
    return None if day is None else question.as_of + datetime.timedelta(day)


def _set_to_json(each):
    stored, cart = each.stored, each.cartage
    return {
        "name": each.stook_set.name,
        "sheaves": each.stook_set.sheaves,
        "begins": each.begins and each.begins.isoformat(),
        "ends": each.ends and each.ends.isoformat(),
        "loads_low": cart.loads.low,
        "loads_high": cart.loads.high,
        "hours_low_h": round(each.hours.low, 2),
        "hours_high_h": round(each.hours.high, 2),
        "verdict": stored.verdict,
        "store": stored.store or None,
        "room_left_sheaves_low": stored.left and stored.left.low,
        "room_left_sheaves_high": stored.left and stored.left.high,
        "over_sheaves_low": stored.over.low,
        "over_sheaves_high": stored.over.high,
        "after_rain": each.after_rain.to_json(),
    }
