"""Who comes to the demo's harvest, with which machines; all of them invented."""

import datetime

from sheafwright.records.demo.crop import NEIGHBOURS
from sheafwright.records.models import Insurance
from sheafwright.records.services.hands import (
    briefing_record,
    coming_say,
    hand_add,
    insurance_add,
    machine_add,
    machine_check_record,
    machine_correct,
    machine_move,
    spare_count,
    tying_record,
)
from sheafwright.records.services.inspection import cleaning_record

DAY = datetime.timedelta(1)
DAN, EVE = NEIGHBOURS
ALL = {"may_stook": True, "may_cart": True}
HANDS = (
    ("Rowan Pike", "", ALL | {"may_bind": True, "may_thresh": True}),
    (DAN, "Tarrow's", ALL | {"may_bind": True}),
    (EVE, "Coppin's", ALL | {"may_bind": True}),
    ("Tansy Holm", "", {"may_stook": True}),
)
SOUND = "sound"
CHECKS = {
    "Red binder": {
        "canvas": "worn",
        "knotter": SOUND,
        "knife": SOUND,
        "belts": SOUND,
        "guards": SOUND,
    },
    "Barn drum": {"belts": SOUND, "guards": SOUND},
}
SPARES = (
    ("knotter", "bill hook", 1, DAN),
    ("knife", "knife sections", 12, ""),
    ("canvas", "slats", 8, ""),
    ("twine", "balls of twine", 9, ""),
)
DECK = {"deck_length_m": 5.5, "deck_width_m": 2.3, "payload_kg": 3000.0}
COMES = (
    ("Rowan Pike", 0, 4, "day", True),
    (DAN, 0, 2, "afternoon", True),
    (EVE, 1, 2, "day", True),
    ("Tansy Holm", 0, 6, "morning", True),
    ("Tansy Holm", 2, 2, "day", False),
)
"""Who, from which day on and until which, counted from today."""


def hands_story(book):
    """From the spring of the year that the holding is looked at."""
    as_of = book.holding.looked_at_as_of
    spring, june = (datetime.date(as_of.year, month, 14) for month in (4, 6))
    yield spring
    hands = {name: _hand(book, name, farm, may) for name, farm, may in HANDS}
    binder, drum = _machines(book)
    _insured(book, spring)
    yield june
    for machine in (binder, drum):
        _look_over(book, machine, june)
    _count_spares(book, binder, june)
    for name in ("Rowan Pike", DAN):
        _show(book, hands[name], binder, june)
    _show(book, hands["Rowan Pike"], drum, june)
    yield as_of - 9 * DAY
    _lend(book, binder, as_of - 9 * DAY, as_of - 5 * DAY)
    yield as_of - 3 * DAY
    _watch(book, binder, as_of - 3 * DAY)
    yield as_of
    for name, first, last, when, can_come in COMES:
        days = {"date": as_of + first * DAY, "until": as_of + last * DAY}
        book.write(
            coming_say,
            f"{name} comes {first} {when}",
            hand=hands[name],
            when=when,
            can_come=can_come,
            **days,
        )


def _hand(book, name, farm, may):
    person = book.hand if name == book.hand.name else None
    return book.write(
        hand_add, f"hand {name}", name=name, farm=farm, person=person, **may
    )


def _machines(book):
    said = {"cut_width_m": 1.83, "speed_km_per_h": 5.0, "shared_with": f"{DAN}"}
    said |= {"kind": "binder", "name": "Red binder", "stands": "the cart shed"}
    binder = book.write(machine_add, "binder", **said)
    drum, trailers = (
        book.write(machine_add, name, kind=kind, name=name, stands="the barn")
        for kind, name in (("drum", "Barn drum"), ("cart", "Two trailers"))
    )
    # Said later than the trailers themselves, as most people would.
    why = "measured, and read off the plate; both are alike"
    book.write(machine_correct, "decks", machine=trailers, why=why, **DECK)
    return binder, drum


def _insured(book, day):
    ends = day.replace(year=day.year + 1)
    covers = Insurance.Covers.EMPLOYERS
    book.write(insurance_add, "insured", covers=covers, since=day, runs_to=ends)


def _look_over(book, machine, day):
    book.note(
        machine_check_record,
        f"{machine} looked over",
        machine=machine,
        date=day,
        **CHECKS[machine.name],
    )


def _count_spares(book, binder, day):
    for part, what, count, holder in SPARES:
        book.note(
            spare_count,
            f"spare {what}",
            machine=binder,
            date=day,
            part=part,
            what=what,
            count=count,
            holder=holder,
        )


def _show(book, hand, machine, day):
    book.write(
        briefing_record,
        f"{hand} shown {machine}",
        hand=hand,
        machine=machine,
        date=day,
        by=book.owner.name,
        signed=True,
    )


def _lend(book, binder, goes, comes):
    """It works for a neighbour, and is cleaned down when it is back."""
    book.write(machine_move, "binder lent", machine=binder, since=goes, holder=DAN)
    book.write(
        machine_move, "binder back", machine=binder, since=comes, stands="Hanger Piece"
    )
    book.note(
        cleaning_record,
        "binder cleaned down",
        date=comes,
        what=binder.name,
        machine=binder,
        how="brushed and blown, weed seed swept up",
    )


def _watch(book, binder, day):
    said = {"machine": binder, "date": day}
    book.note(tying_record, "ties", sheaves=240, mis_ties=7, **said)
    book.note(tying_record, "twine", twine_kg=5.6, area_ha=2.0, **said)
