"""How long will it take, and with whom? Cutting, stooking and carting of one crop."""

import dataclasses
import math
from typing import NamedTuple

import numpy as np

from sheafwright.answers.cartage import Band, Cartage, band, cartage
from sheafwright.answers.limits import SHEAVES, Limit, check_given
from sheafwright.answers.work_working import span, work_steps
from sheafwright.answers.working import steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.core.inputs.work import Binder
from sheafwright.core.work.field import (
    days_behind,
    field_capacity,
    hand_hours,
    hands_to_keep_up,
)
from sheafwright.core.work.twine import sheaf_twine, tying_hours, untied
from sheafwright.feeds.sheaves import sheaves as sheaves_taken
from sheafwright.feeds.telling import joined, mark, measured, say, say_n
from sheafwright.feeds.units import in_unit
from sheafwright.feeds.work import work_rates

CAUTION = mark(
    "Stop the binder before anyone touches knotter or knife, and keep its guards on. "
    "Nobody rides on a load or stands under one being pitched; lift with the legs, and "
    "take turns. Local codes and trained people first."
)
LIMITS = {
    "area": Limit(mark("{measure} to cut"), 0.01, 500, "ha"),
    "hands": Limit(mark("{value:g} hands"), 1, 100, mark("hands")),
    "distance": Limit(mark("A rick {measure} away"), 0, 100, "km"),
    "sheaves": SHEAVES,
    "carts": Limit(mark("{value:g} carts"), 1, 50, mark("carts")),
    "cut_width": Limit(mark("A binder that cuts {measure}"), 0.5, 6, "m"),
    "binder_speed": Limit(mark("A binder at {measure}"), 0.5, 15, "km/h"),
    "mis_ties": Limit(mark("{value:g} sheaves in 100 untied"), 0, 100, mark("in 100")),
}


@dataclasses.dataclass(frozen=True)
class WorkQuestion:
    """One crop; what is not given is as the tables have it."""

    area: float
    """[ha]"""
    hands: int
    """That come. [1]"""
    distance: float
    """From field to rick. [km]"""
    sheaves: int | None = None
    """In all."""
    carts: int | None = None
    cut_width: float | None = None
    """Of the binder. [m]"""
    binder_speed: float | None = None
    """[km h⁻¹]"""
    mis_ties: float | None = None
    """Sheaves that come untied. [in 100]"""

    def __post_init__(self):
        check_given(self, LIMITS)


class Tying(NamedTuple):
    """Twine, and what it fails at."""

    metres: float
    """Of twine. [m]"""
    mis_ties: float
    """[in 100]"""
    by_hand: float
    """Sheaves to tie by hand. [1]"""
    hours: float
    """Of hands, to tie them. [h]"""


class Field(NamedTuple):
    """Cutting and stooking."""

    capacity: float
    """Of the binder. [ha h⁻¹]"""
    binder_hours: float
    """[h]"""
    keep_up: Band
    """Hands that stook as fast as it cuts. [1]"""
    stook_hours: Band
    """Of hands, with the tying. [h]"""
    days: Band
    """Until all is cut and stooked by the hands that come. [d]"""


@dataclasses.dataclass(frozen=True)
class WorkDay:
    """The answer."""

    question: WorkQuestion
    sheaves: int
    binder: Binder
    tying: Tying
    field: Field
    cartage: Cartage

    @property
    def hand_hours(self):
        """Hours of all hands: cutting, stooking and carting. [h]"""
        cutting = self.field.binder_hours * self.binder.hands
        tasks = zip(
            self.field.stook_hours, self.cartage.hours, self.cartage.crew, strict=True
        )
        return Band(*(cutting + stooking + hours * n for stooking, hours, n in tasks))

    @property
    def sentence(self):
        """The answer in a few sentences."""
        return joined(self._cutting(), self._carting(), self._tying())

    def _cutting(self):
        asked, field = self.question, self.field
        return say(
            "With {hands} hands, {area} are cut and stooked in {days} of fit weather: "
            "{at_binder} at the binder for {hours:.1f} hours, and {keep_up} stooking "
            "keep up with it.",
            hands=asked.hands,
            area=measured(asked.area, "ha"),
            days=_days(field.days),
            at_binder=self.binder.hands,
            hours=field.binder_hours,
            keep_up=span(field.keep_up),
        )

    def _carting(self):
        cart = self.cartage
        most, loads = cart.loads.high, span(cart.loads)
        return say(
            "Carting is {loads}, {days} with {carts}; a whole crew is {crew}.",
            loads=say_n("{loads} load", "{loads} loads", most, loads=loads),
            days=_days(cart.days),
            carts=say_n("{n} cart", "{n} carts", cart.carts),
            crew=span(cart.crew),
        )

    def _tying(self):
        return say(
            "It takes {twine} of twine, {each} an acre; about {sheaves:,.0f} sheaves "
            "come untied and are tied by hand.",
            twine=measured(self.tying.metres / 1000, "km", ",.1f"),
            each=measured(self._twine_per_acre(), "m", ",.0f"),
            sheaves=self.tying.by_hand,
        )

    def _twine_per_acre(self):
        return self.tying.metres / in_unit(self.question.area, "area", "acre")

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        return work_steps(self)

    def to_json(self):
        """The answer as it leaves Python: every name with its unit."""
        field, cart, tying = self.field, self.cartage, self.tying
        return {
            "sentence": self.sentence,
            "caution": say(CAUTION),
            "area_ha": self.question.area,
            "hands": self.question.hands,
            "distance_km": self.question.distance,
            "sheaves": self.sheaves,
            "binder_hands": self.binder.hands,
            "binder_capacity_ha_per_h": round(field.capacity, 4),
            "binder_hours_h": round(field.binder_hours, 2),
            **_ends("stookers", field.keep_up),
            **_ends("stooking_hand_hours_h", field.stook_hours),
            **_ends("cut_and_stooked_d", field.days),
            "carts": cart.carts,
            **_ends("load_sheaves", cart.a_load),
            **_ends("loads", cart.loads),
            **_ends("carting_crew", cart.crew),
            **_ends("carting_hours_h", cart.hours),
            **_ends("carting_d", cart.days),
            **_ends("hand_hours_h", self.hand_hours),
            "twine_m": round(tying.metres, 1),
            "twine_m_per_ha": round(tying.metres / self.question.area, 1),
            "twine_m_per_acre": round(self._twine_per_acre(), 1),
            "mis_ties_in_100": tying.mis_ties,
            "tied_by_hand_sheaves": round(tying.by_hand),
            "tying_hand_hours_h": round(tying.hours, 2),
            "working": steps_to_json(self.working),
        }


def work_day(question):
    """The answer to a `WorkQuestion`, `WorkDay`."""
    rates = work_rates()
    binder = _own(rates.binder, width=question.cut_width, speed=question.binder_speed)
    if question.hands < binder.hands:
        raise OutOfRange(
            "Hands: {hands}; it should be at least {least}, as many as the binder "
            "wants.",
            hands=question.hands,
            least=binder.hands,
        )
    taken = sheaves_taken()
    sheaves = question.sheaves or math.ceil(
        question.area * taken.crop_kg_per_ha / taken.kg_per_sheaf
    )
    tying = _tied(sheaves, _own(rates.twine, mis_ties=question.mis_ties))
    return WorkDay(
        question=question,
        sheaves=sheaves,
        binder=binder,
        tying=tying,
        field=_field(question, binder, tying, rates),
        cartage=cartage(
            sheaves,
            question.distance,
            _own(rates.cart, carts=question.carts),
            rates,
            question.hands,
        ),
    )


def _own(rates, **given):
    """The rates, with what is given in place of the table's."""
    own = {name: value for name, value in given.items() if value is not None}
    return dataclasses.replace(rates, **own)


def _tied(sheaves, twine):
    by_hand = float(untied(sheaves, twine.mis_ties))
    return Tying(
        metres=float(sheaves * sheaf_twine(twine.diameter, twine.spare)),
        mis_ties=twine.mis_ties,
        by_hand=by_hand,
        hours=float(tying_hours(by_hand, twine.tying)),
    )


def _field(question, binder, tying, rates):
    day = rates.day
    capacity = float(field_capacity(binder.width, binder.speed, binder.efficiency))
    binder_hours = question.area / capacity
    # The quickest hand first.
    paces = np.array(rates.stooking.area_a_day[::-1])
    hours = hand_hours(question.area, paces, day.hand_hours) + tying.hours
    days = days_behind(
        binder_hours / day.fit_hours,
        hours,
        question.hands,
        binder.hands,
        day.hand_hours,
    )
    return Field(
        capacity=capacity,
        binder_hours=binder_hours,
        keep_up=band(hands_to_keep_up(capacity, day.fit_hours, paces), int),
        stook_hours=band(hours),
        days=band(days),
    )


def _days(band):
    """Two times in half days, as plans are made: 1½ to 2 days."""
    low, high = (math.ceil(2 * each) / 2 for each in band)
    if high == 0.5:
        return say("half a day")
    most, halves = math.ceil(high), _halves(high)
    if low == high:
        return say_n("{days} day", "{days} days", most, days=halves)
    return say_n(
        "{low} to {high} day",
        "{low} to {high} days",
        most,
        low=_halves(low),
        high=halves,
    )


def _halves(days):
    return f"{int(days) or ''}{'½' * (days % 1 > 0)}"


def _ends(name, band):
    return {f"{name}_low": round(band.low, 2), f"{name}_high": round(band.high, 2)}
