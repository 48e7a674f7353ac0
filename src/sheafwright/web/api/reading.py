"""Reading: entries as they were written, and what the book makes of them."""

import datetime
import typing
import uuid

from django.db.models import F
from django.http import Http404
from ninja import Query, Schema
from pydantic import Field

from sheafwright.accounts.rights import Right
from sheafwright.accounts.selectors import memberships_of
from sheafwright.records import models
from sheafwright.records.selectors.lots import lot_of
from sheafwright.records.selectors.walk import walk_back
from sheafwright.web.api.door import REFUSALS, door, member
from sheafwright.web.api.kinds import API_KINDS, MORE
from sheafwright.web.api.schemas import to_read
from sheafwright.web.forms.money_kinds import MONEY_KINDS
from sheafwright.web.forms.trade_kinds import TRADE_KINDS

EITHER = (Right.SEE_WORK, Right.SEE_BOOK)
BOOK_ONLY = ("sale", "labour", "labour-rate", "loss", "complaint")
"""What is between the owner, the adviser and the inspector."""
TRADE_ONLY = ("papers", "grain-terms", *TRADE_KINDS, *MONEY_KINDS)
"""What no inspector asks after: who wants what, and at which price."""
PRICES = {models.Sale: ("price",)}
"""Left out for whoever may not see them."""
UNTRADED = {
    models.Correction: {"enquiry": None},
    models.GradeRule: {"buyer_name": ""},
}
"""What is kept of a kind besides what buyers asked for."""
MADE_BY_OTHERS = (models.Movement, models.Lot, models.LotStanding, models.Paper)
"""Kinds that more than one service makes; they are read under their own names."""
MOST = 1000


class Page(Schema):
    limit: typing.Annotated[int, Field(ge=1, le=MOST)] = 200
    offset: typing.Annotated[int, Field(ge=0, le=10**9)] = 0

    def of(self, found):
        return list(found[self.offset : self.offset + self.limit])


class Holding(Schema):
    slug: str
    name: str
    role: str


class InPlace(Schema):
    id: uuid.UUID
    kind: str
    subject: uuid.UUID
    grams: int


class Said(Schema):
    question: str
    subject: uuid.UUID
    day: datetime.date
    made_at: datetime.datetime
    said: dict


class MovedLine(Schema):
    place_id: uuid.UUID
    grams: int
    moisture_pct: float | None
    estimated: bool


class Moved(Schema):
    id: uuid.UUID
    seq: int
    kind: str
    date: datetime.date
    subject: uuid.UUID | None
    reverses_id: uuid.UUID | None
    note: str
    seal: str
    lines: list[MovedLine]

    @staticmethod
    def resolve_lines(movement):
        return list(movement.lines.all())


class WalkNode(Schema):
    id: str
    kind: str
    name: str
    detail: str


class WalkStep(Schema):
    start: str
    end: str
    grams: int | None


class Walk(Schema):
    nodes: list[WalkNode]
    went: list[WalkStep]


@door.get("/holdings/", response={200: list[Holding], **REFUSALS})
def holdings(request):
    """The holdings that this token's person has something to do with."""
    return [
        {"slug": m.holding.slug, "name": m.holding.name, "role": m.role}
        for m in memberships_of(person=request.auth)
    ]


@door.get("/{slug:slug}/stock/", response={200: list[InPlace], **REFUSALS})
def stock(request, slug: str):
    """What is in every place of the material book."""
    holding = member(request, slug, *EITHER).holding
    return models.Place.objects.filter(holding=holding).values(
        "id", "kind", "subject", grams=F("balance__grams")
    )


@door.get("/{slug:slug}/movements/", response={200: list[Moved], **REFUSALS})
def movements(request, slug: str, page: Query[Page]):
    """The material book, in its order."""
    holding = member(request, slug, Right.SEE_BOOK).holding
    found = models.Movement.objects.filter(holding=holding)
    return page.of(found.prefetch_related("lines"))


@door.get("/{slug:slug}/answers/", response={200: list[Said], **REFUSALS})
def answers(request, slug: str, page: Query[Page]):
    """The answers kept for the pages, the last first."""
    holding = member(request, slug, Right.SEE_WORK).holding
    found = models.SavedAnswer.objects.filter(holding=holding).defer("chart", "charts")
    return page.of(found.order_by("-made_at"))


@door.get("/{slug:slug}/lots/{uuid:lot_id}/walk/", response={200: Walk, **REFUSALS})
def walk(request, slug: str, lot_id: uuid.UUID):
    """A lot, back to its field, its sowing and its seed."""
    lot = lot_of(membership=member(request, slug, Right.SEE_LOT), id=lot_id)
    if lot is None:
        raise Http404
    return walk_back(lot=lot)


def _reader(model, rights):
    def read(request, slug: str, page: Query[Page]):
        membership = member(request, slug, *rights)
        # By key at last, so that no part of a list overlaps the next.
        order = (*model._meta.ordering, "pk")
        written = model.objects.filter(holding=membership.holding)
        if membership.may(Right.SEE_TRADE):
            return page.of(written.order_by(*order))
        written = written.filter(**UNTRADED.get(model, {}))
        return _unpriced(model, page.of(written.order_by(*order)))

    return read


def _unpriced(model, found):
    for each in found:
        for name in PRICES.get(model, ()):
            setattr(each, name, None)
    return found


def _rights(name):
    """Any of these opens what is written under a name."""
    if name in TRADE_ONLY:
        return (Right.SEE_TRADE,)
    return (Right.SEE_BOOK,) if name in BOOK_ONLY else EITHER


WRITTEN = {
    name: (kind.model, [*kind.fields, *MORE.get(name, ())])
    for name, kind in API_KINDS.items()
    if kind.model not in MADE_BY_OTHERS and not kind.corrects
}
MADE = {
    "lots": (
        models.Lot,
        (
            *("code", "kind", "variety", "harvest_year", "grade", "length_cm"),
            *("bundles", "set_apart", "note"),
        ),
    ),
    "lot-standings": (models.LotStanding, ("lot", "date", "set_apart", "why", "note")),
    "corrections": (
        models.Correction,
        (
            *("date", "field", "certificate", "seed_lot", "rick"),
            *("machine", "enquiry"),
            *("was", "now", "why", "note"),
        ),
    ),
    "papers": (
        models.Paper,
        (
            *("kind", "number", "date", "customer", "order", "lot", "corrects"),
            *("currency", "net", "vat", "gross", "said", "note"),
        ),
    ),
    "stook-sets": (models.StookSet, ("cut", "stooks", "sheaves_each")),
}
"""What comes of other entries."""

for name, (model, fields) in (WRITTEN | MADE).items():
    door.get(
        f"/{{slug:slug}}/{name}/",
        response={200: list[to_read(model, fields)], **REFUSALS},
        operation_id=f"read_{name.replace('-', '_')}",
        summary=f"As written: {model._meta.verbose_name_plural}",
    )(_reader(model, _rights(name)))
