"""What happened to the straw and grain, as a GS1 EPCIS 2.0 document (JSON-LD).

EPCIS is an open standard, also ISO/IEC 19987: each event says what, when, where, why.
"""

import functools
from dataclasses import dataclass
from datetime import datetime
from typing import Literal
from urllib.parse import quote
from uuid import UUID

from sheafwright.core.errors import OutOfRange

CONTEXT = "https://ref.gs1.org/standards/epcis/2.0.0/epcis-context.jsonld"
KILOGRAM = "KGM"
"""UNECE Recommendation 20."""
GRAMS = 1000
"""In a kilogram."""


@dataclass(frozen=True)
class Amount:
    """So much of one thing.

    ``thing`` is its address below the holding's own, as ``lots/25-07``; so are places
    and people in the events.
    """

    thing: str
    grams: int


@dataclass(frozen=True)
class Origin:
    """What stays true of a lot from its making; empty lines are left out."""

    field: str = ""
    variety: str = ""
    harvest_year: str = ""
    grade: str = ""
    organic_code: str = ""


@dataclass(frozen=True)
class Withdrawal:
    """Why an event that was told is not to be believed, and what is told instead."""

    declared_at: datetime
    reason: Literal["did_not_occur", "incorrect_data"]
    corrected_by: tuple[UUID, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Event:
    """What every event has."""

    id: UUID
    at: datetime
    withdrawn: Withdrawal | None = None


@dataclass(frozen=True, kw_only=True)
class Harvest(Event):
    """Sheaves come to be."""

    amounts: tuple[Amount, ...]
    field: str
    origin: Origin


@dataclass(frozen=True, kw_only=True)
class Move(Event):
    """Carted, or moved from store to store."""

    amounts: tuple[Amount, ...]
    taken_from: str
    given_to: str


@dataclass(frozen=True, kw_only=True)
class Transformation(Event):
    """Sheaves become reed, straw, grain and waste; grain becomes flour."""

    inputs: tuple[Amount, ...]
    outputs: tuple[Amount, ...]
    place: str
    origin: Origin


@dataclass(frozen=True, kw_only=True)
class Sale(Event):
    """Sent to a buyer."""

    amounts: tuple[Amount, ...]
    place: str
    seller: str
    buyer: str


def epcis_document(events, *, base_url, made_at):
    """The events as one EPCIS 2.0 document.

    Parameters
    ----------
    events : iterable of Event
    base_url : str
        The address, ``https://…/``, below which things, places and people are named.
    made_at : datetime.datetime
        With its zone.

    Returns
    -------
    dict
    """
    base = base_url.rstrip("/")
    return {
        "@context": [CONTEXT, {"sheafwright": f"{base}/terms/"}],
        "type": "EPCISDocument",
        "schemaVersion": "2.0",
        "creationDate": _moment(made_at),
        "epcisBody": {"eventList": [_event(each, base) for each in events]},
    }


def _event(event, base):
    said = {
        "eventID": event.id.urn,
        "eventTime": _moment(event.at),
        "eventTimeZoneOffset": _offset(event.at),
    }
    if event.withdrawn:
        said["errorDeclaration"] = _withdrawal(event.withdrawn)
    return said | _what_happened(event, base)


@functools.singledispatch
def _what_happened(event, base):
    raise TypeError(f"{event!r} is no event of the book.")


@_what_happened.register
def _(event: Harvest, base):
    return {
        "type": "ObjectEvent",
        "action": "ADD",
        "bizStep": "commissioning",
        "disposition": "active",
        "quantityList": _quantities(event, event.amounts, base),
        "readPoint": _place(event.field, base),
        "ilmd": _origin(event.origin),
    }


@_what_happened.register
def _(event: Move, base):
    return {
        "type": "ObjectEvent",
        "action": "OBSERVE",
        "bizStep": "storing",
        "disposition": "in_progress",
        "quantityList": _quantities(event, event.amounts, base),
        "bizLocation": _place(event.given_to, base),
        "sourceList": [_end("source", "location", event.taken_from, base)],
        "destinationList": [_end("destination", "location", event.given_to, base)],
    }


@_what_happened.register
def _(event: Transformation, base):
    return {
        "type": "TransformationEvent",
        "transformationID": event.id.urn,
        "bizStep": "commissioning",
        "disposition": "active",
        "inputQuantityList": _quantities(event, event.inputs, base),
        "outputQuantityList": _quantities(event, event.outputs, base),
        "readPoint": _place(event.place, base),
        "ilmd": _origin(event.origin),
    }


@_what_happened.register
def _(event: Sale, base):
    return {
        "type": "ObjectEvent",
        "action": "OBSERVE",
        "bizStep": "shipping",
        "disposition": "in_transit",
        "quantityList": _quantities(event, event.amounts, base),
        "readPoint": _place(event.place, base),
        "sourceList": [_end("source", "owning_party", event.seller, base)],
        "destinationList": [_end("destination", "owning_party", event.buyer, base)],
    }


def _quantities(event, amounts, base):
    if not amounts:
        raise OutOfRange(f"The event {event.id} names no amount: give one or more.")
    return [
        {
            "epcClass": _address(each.thing, base),
            "quantity": each.grams / GRAMS,
            "uom": KILOGRAM,
        }
        for each in amounts
    ]


def _place(path, base):
    return {"id": _address(path, base)}


def _end(side, kind, path, base):
    return {"type": kind, side: _address(path, base)}


def _address(path, base):
    return f"{base}/{quote(path, errors='replace')}"


def _origin(origin):
    """The facts of a lot by our own terms, whose meaning the context names."""
    terms = {
        "field": origin.field,
        "variety": origin.variety,
        "harvestYear": origin.harvest_year,
        "grade": origin.grade,
        "organicCode": origin.organic_code,
    }
    return {f"sheafwright:{term}": said for term, said in terms.items() if said}


def _withdrawal(withdrawn):
    return {
        "declarationTime": _moment(withdrawn.declared_at),
        "reason": withdrawn.reason,
        "correctiveEventIDs": [each.urn for each in withdrawn.corrected_by],
    }


def _offset(when):
    signed = f"{when:%z}"
    return f"{signed[:3]}:{signed[3:5]}"


def _moment(when):
    if when.utcoffset() is None:
        raise OutOfRange(f"The time {when} has no zone: say which it is in.")
    return when.isoformat()
