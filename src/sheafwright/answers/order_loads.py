"""Which bundles go on which load, in what order are they dropped, how high is it?"""

import dataclasses
import math

import numpy as np

from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows, steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.core.inputs.orders import Vehicle
from sheafwright.core.work.loading import (
    bundles_aboard,
    room,
    shared_out,
    shortest_round,
    way_round,
)
from sheafwright.feeds.orders import VEHICLES, loading, vehicle
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import joined, listed, mark, measured, say, say_n

BEARINGS = {
    "n": mark("north"),
    "ne": mark("north-east"),
    "e": mark("east"),
    "se": mark("south-east"),
    "s": mark("south"),
    "sw": mark("south-west"),
    "w": mark("west"),
    "nw": mark("north-west"),
}
CALLED = {"trailer": mark("trailer"), "lorry": mark("lorry")}
MOST_DROPS = 7
"""So many are tried in every order."""
CAUTION = mark(
    "Bundles slip: bind each layer in with its neighbours, butts out, the middle kept "
    "full, and rope or strap front, back and over the top before anybody drives. "
    "Nobody rides on the load, nobody throws off near a wire or a road. Sheet it "
    "against rain and sparks. Local codes and trained people first."
)
LAST_ON = mark("What is dropped first goes on last.")
STRAIGHT = mark(
    "Ways are reckoned straight, from how far and in which direction each buyer is; "
    "the roads may ask for another order."
)
CRAFT = mark("Ours: every order of the drops is tried")


@dataclasses.dataclass(frozen=True)
class Drop:
    """What somebody gets."""

    name: str
    kg: float
    """[kg]"""
    distance: float = 0.0
    """From the farm. [km]"""
    bearing: str = ""
    """One of ``BEARINGS``; none where nobody said."""

    def __post_init__(self):
        # Written so that NaN is refused too.
        if not 0 < self.kg <= 1e6:
            raise OutOfRange(
                "{name} gets {mass}; it should be more than nothing, up to {most}.",
                name=self.name,
                mass=measured(self.kg, "kg"),
                most=measured(1e6, "kg"),
            )
        if self.bearing and self.bearing not in BEARINGS:
            raise OutOfRange(
                "{name} lies {bearing}; it should be one of {bearings}.",
                name=self.name,
                bearing=repr(self.bearing),
                bearings=", ".join(BEARINGS),
            )

    @property
    def place(self):
        """East and north of the farm; north, where nobody said. [km]"""
        turn = math.radians(45 * list(BEARINGS).index(self.bearing or "n"))
        return self.distance * math.sin(turn), self.distance * math.cos(turn)


@dataclasses.dataclass(frozen=True)
class Load:
    """One load."""

    drops: tuple[tuple[str, int], ...]
    """Name and bundles, in the order of the drops. [1]"""
    kg: float
    high: float
    """Above the deck. [m]"""
    way: float
    """Round the drops and back. [km]"""

    @property
    def bundles(self):
        """On it."""
        return sum(bundles for _, bundles in self.drops)

    @property
    def sentence(self):
        """What is on it, and whither."""
        parts = [
            say_n(
                "{n} bundle to {name}",
                "{n} bundles to {name}",
                bundles,
                name=name,
            )
            for name, bundles in self.drops
        ]
        return say(
            "{drops}: {mass}, {high} above the deck, {way} round.",
            drops=listed(parts, "then"),
            mass=measured(self.kg, "kg", ",.0f"),
            high=measured(self.high, "m", ".1f"),
            way=measured(self.way, "km", ".0f"),
        )


@dataclasses.dataclass(frozen=True)
class OrderLoads:
    """The answer."""

    vehicle: str
    bundle: float
    """[kg]"""
    most: int
    """Bundles that one load carries."""
    by_weight: bool
    """Whether weight, and not room, says so."""
    loads: tuple[Load, ...]
    own: Vehicle | None = None
    """Where it is one's own, and not of the tables."""
    left_out: int = 0
    """Drops that wait for another round."""

    @property
    def sentence(self):
        """How many loads, and how."""
        if not self.loads:
            return say("Nothing is to be delivered.")
        return joined(
            self._count(),
            say(LAST_ON) if any(len(load.drops) > 1 for load in self.loads) else "",
            self._small_last(),
            self._left_out(),
        )

    @property
    def called(self):
        """What goes: a name of one's own, or that of the tables."""
        return self.vehicle if self.own else say(CALLED[self.vehicle])

    def _count(self):
        if self.own:
            return say_n(
                "{n} load on {name}.",
                "{n} loads on {name}.",
                len(self.loads),
                name=self.vehicle,
            )
        return say_n(
            "{n} load on the {vehicle}.",
            "{n} loads on the {vehicle}.",
            len(self.loads),
            vehicle=self.called,
        )

    @property
    def has_small_last(self):
        """Whether the last of several loads is hardly worth its way.

        The others are as full as they may be, so it can't be shared out among them.
        """
        few = loading().worth_going * self.most
        return len(self.loads) > 1 and self.loads[-1].bundles < few

    def _small_last(self):
        if not self.has_small_last:
            return ""
        return say_n(
            "The last load is only {n} bundle: it may wait, or go with another drop.",
            "The last load is only {n} bundles: they may wait, or go with another "
            "drop.",
            self.loads[-1].bundles,
        )

    def _left_out(self):
        if not self.left_out:
            return ""
        return say_n(
            "{n} more drop waits for another round.",
            "{n} more drops wait for another round.",
            self.left_out,
        )

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        rows = shipped("orders")
        return (
            self._deck(),
            step_from_rows(
                say(
                    "Bundles weigh {density} of their room, and fill {filled:.0%} of "
                    "the room above the deck.",
                    density=measured(loading().density, "kg/m³", ".0f"),
                    filled=loading().filled,
                ),
                rows["loading"]["density"],
                rows["loading"]["filled"],
                rows["loading"]["bundle"],
            ),
            *self._worth_going(rows["loading"]["worth_going"]),
            Step(STRAIGHT, CRAFT, "assumed"),
            Step(LAST_ON, YOU, GIVEN),
        )

    def _worth_going(self, row):
        if self.has_small_last:
            says = say(
                "A last load of less than {share:.0%} of what one load may be is "
                "pointed out.",
                share=loading().worth_going,
            )
            yield step_from_rows(says, row)

    def _deck(self):
        """What the vehicle takes, and why no more."""
        said = {
            "most": self.most,
            "bundle": measured(self.bundle, "kg", ".1f"),
            "limit": say("its weight") if self.by_weight else say("its room"),
        }
        if self.own:
            words = say(
                "{name}, a deck of {length} by {width} for {payload}, takes {most} "
                "bundles of {bundle}: {limit} says so.",
                name=self.vehicle,
                length=measured(self.own.length, "m", ".1f"),
                width=measured(self.own.width, "m", ".1f"),
                payload=measured(self.own.payload, "kg", ",.0f"),
                **said,
            )
            return Step(words, YOU, GIVEN)
        deck, rows = rows_of(self.vehicle), shipped("orders")
        words = say(
            "A {vehicle} takes {most} bundles of {bundle}: {limit} says so.",
            vehicle=self.called,
            **said,
        )
        names = ("length", "width", "payload")
        rows = (*(deck[name] for name in names), rows["loading"]["most_high"])
        return step_from_rows(words, *rows)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        return {
            "sentence": self.sentence,
            "caution": say(CAUTION),
            "vehicle": self.vehicle,
            "own_vehicle": self.own is not None,
            "drops_left_out": self.left_out,
            "bundle_kg": round(self.bundle, 3),
            "most_bundles": self.most,
            "loads": [
                {
                    "sentence": load.sentence,
                    "drops": [
                        {"name": name, "bundles": bundles}
                        for name, bundles in load.drops
                    ],
                    "kg": round(load.kg, 1),
                    "high_m": round(load.high, 2),
                    "way_km": round(load.way, 1),
                }
                for load in self.loads
            ],
            "working": steps_to_json(self.working),
        }


def rows_of(name):
    """Rows of a vehicle."""
    return shipped("orders")[name]


def order_loads(drops, on="trailer", bundle=None, own=None):
    """The `OrderLoads` of what is to be dropped.

    Parameters
    ----------
    drops : iterable of Drop
    on : str
        One of ``VEHICLES``, or what one's own is called.
    bundle : float, optional
        Of one's own bundles; the tables' if not given. [kg]
    own : Vehicle, optional
        One's own.
    """
    drops = tuple(drops)
    _check(drops, on, bundle, own)
    deck = own or vehicle(on)
    bundle = bundle or loading().bundle
    most, by_weight = _most(deck, bundle)
    if most < 1:
        raise OutOfRange(
            "{name} can't carry one bundle of {mass}; its deck should be larger.",
            name=on,
            mass=measured(bundle, "kg"),
        )
    order = shortest_round([drop.place for drop in drops])
    drops = tuple(drops[n] for n in order)
    wanted = [math.ceil(drop.kg / bundle - 1e-9) for drop in drops]
    loads = tuple(_load(drops, row, deck, bundle) for row in shared_out(wanted, most))
    return OrderLoads(on, bundle, most, by_weight, loads, own)


def _check(drops, on, bundle, own):
    if own is None and on not in VEHICLES:
        raise OutOfRange(
            "{name} is no vehicle that is known; it should be one of {names}.",
            name=repr(on),
            names=", ".join(VEHICLES),
        )
    if len(drops) > MOST_DROPS:
        raise OutOfRange(
            "{n} drops are too many for one day's round; it should be {most} at most.",
            n=len(drops),
            most=MOST_DROPS,
        )
    if bundle is not None and not 1 <= bundle <= 50:
        raise OutOfRange(
            "A bundle of {mass} is odd; it should weigh {least} to {most}.",
            mass=measured(bundle, "kg"),
            least=measured(1, "kg"),
            most=measured(50, "kg"),
        )


def _most(deck, bundle):
    """Bundles that a deck carries, and whether weight says so."""
    straw = loading()
    space = room(deck.length, deck.width, straw.most_high, straw.filled)
    most = int(bundles_aboard(space, deck.payload, straw.density, bundle))
    return most, bool(deck.payload < space * straw.density)


def _load(drops, row, deck, bundle):
    on = np.flatnonzero(row)
    straw, kg = loading(), float(row.sum() * bundle)
    floor = deck.length * deck.width * straw.filled
    return Load(
        drops=tuple((drops[n].name, int(row[n])) for n in on),
        kg=kg,
        high=kg / straw.density / floor,
        way=way_round([drops[n].place for n in on]),
    )
