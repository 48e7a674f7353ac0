"""What a program may write: the kinds of entry that pages take, said in JSON."""

import decimal
import typing
import uuid

from django.utils.translation import gettext_lazy as _
from ninja import Schema
from pydantic import Field

from sheafwright.accounts.rights import Right
from sheafwright.answers.question import STAGES
from sheafwright.feeds.crop import sign_ladders, variety_classes
from sheafwright.feeds.stems import LIMITS
from sheafwright.feeds.units import AREAS
from sheafwright.records import models
from sheafwright.records.services.stock import WAYS
from sheafwright.records.services.threshing import Outturn
from sheafwright.web.api.schemas import (
    LARGEST_DECIMAL,
    NO_NULS,
    Count,
    Day,
    Kg,
    Percent,
)
from sheafwright.web.forms.kinds import KINDS, Kind

BESIDES = {
    "undo": Kind(
        _("Undo an entry of the material book"), models.Movement, "stock:entry_undo",
        ("date", "note"), "book", Right.RUN,
    ),
}  # fmt: skip
API_KINDS = {
    name: kind for name, kind in (KINDS | BESIDES).items() if name != "weather"
}
"""Weather comes as files, through its page."""


class FromTheDrum(Schema):
    kind: typing.Literal[(*models.Lot.Kind.values[:4], "waste")]
    kg: Kg
    code: typing.Annotated[str, Field(max_length=20, pattern=r"^[^\x00]*$")] = ""
    moisture_pct: Percent | None = None
    grade: typing.Annotated[str, Field(max_length=60, pattern=r"^[^\x00]*$")] = ""
    length_cm: typing.Annotated[float, Field(ge=20, le=250)] | None = None
    bundles: Count | None = None


Measure = typing.Annotated[float, Field(allow_inf_nan=False)]
Stem = dict[typing.Literal[tuple(LIMITS)], Measure | None]
"""A row as `feeds.stems` reads it."""
SIGNS = {kind: typing.Literal[tuple(s.levels)] for kind, s in sign_ladders().items()}
AREA = typing.Annotated[float, Field(ge=AREAS[0], le=AREAS[1])]
WHY = typing.Annotated[str, Field(min_length=1, max_length=300, pattern=NO_NULS)]
MOISTURE = (Percent | None, None)
Money = typing.Annotated[
    decimal.Decimal, Field(ge=0, le=LARGEST_DECIMAL, decimal_places=3)
]
Rate = typing.Annotated[decimal.Decimal, Field(ge=0, le=100, decimal_places=2)]
Plan = dict[str, typing.Any]
"""A roof, in the words of its file."""
MORE = {
    "field": {"area_ha": AREA},
    "field-correction": {
        "field": uuid.UUID,
        "area_ha": (AREA | None, None),
        "why": WHY,
    },
    "seed-lot-correction": {"seed_lot": uuid.UUID, "why": WHY},
    "certificate-correction": {"certificate": uuid.UUID, "why": WHY},
    "germination": {
        "came_up": typing.Annotated[
            list[typing.Annotated[int, Field(ge=0, le=400)]],
            Field(min_length=1, max_length=16),
        ]
    },
    "plant-count": {
        "counts": typing.Annotated[
            list[typing.Annotated[int, Field(ge=0, le=5000)]],
            Field(min_length=1, max_length=100),
        ]
    },
    "sowing": {"variety_class": (typing.Literal[("", *variety_classes())], "")},
    "observation": {
        "stage": (typing.Literal[("", *STAGES)], ""),
        "signs": (dict[typing.Literal[tuple(SIGNS)], str] | None, None),
    },
    "cut": {
        "stooks": (Count | None, None),
        "sheaves_each": (typing.Annotated[float, Field(ge=2, le=24)] | None, None),
        "kg_per_sheaf": (Kg | None, None),
    },
    "sheaf-count": {
        "stook_set": uuid.UUID,
        "sheaves": Count,
        "kg_per_sheaf": (Kg | None, None),
    },
    "carting": {
        "stook_set": uuid.UUID,
        "rick": uuid.UUID,
        "kg": (Kg | None, None),
        "moisture_pct": MOISTURE,
    },
    "expect": {"sowing": uuid.UUID, "kg": Kg},
    "rick-correction": {"rick": uuid.UUID, "why": WHY},
    "machine-correction": {"machine": uuid.UUID, "why": WHY},
    "call-list": {
        "who": typing.Annotated[
            str, Field(min_length=1, max_length=500, pattern=NO_NULS)
        ]
    },
    "rick-empty": {"rick": uuid.UUID, "emptied": Day},
    "threshing": {
        "kg": (Kg | None, None),
        "outturn": (typing.Annotated[list[FromTheDrum], Field(max_length=20)], []),
    },
    "stem-sample": {
        "stems": typing.Annotated[list[Stem], Field(min_length=1, max_length=5000)]
    },
    "sale": {"kg": Kg},
    "loss": {"place": uuid.UUID, "kg": Kg},
    "weight": {"place": uuid.UUID, "kg": Kg},
    "grain-move": {"lot": uuid.UUID, "to": typing.Literal[tuple(WAYS)], "kg": Kg},
    "undo": {"movement": uuid.UUID},
    "purchase-strike": {"purchase": uuid.UUID},
    "delivery": {
        "lot": uuid.UUID,
        "date": Day,
        "kg": Kg,
        "bundles": (Count | None, None),
    },
    "enquiry": {"roof_plan": (Plan | None, None)},
    "enquiry-roof": {
        "enquiry": uuid.UUID,
        "plan": Plan,
        "roof": (typing.Annotated[str, Field(max_length=200, pattern=NO_NULS)], ""),
        "kg": (Kg | None, None),
        "why": WHY,
    },
    "order": {"roof_plan": (Plan | None, None)},
    "invoice": {"order": uuid.UUID},
    "credit-note": {
        "invoice": uuid.UUID,
        "net": (Money | None, None),
        "vat_pct": (Rate | None, None),
        "why": WHY,
    },
    "lot-paper": {
        "delivery": uuid.UUID,
        "kind": typing.Literal["certificate", "organic", "grain"],
    },
    "payment": {"invoice": uuid.UUID},
}
"""What a kind's service takes that is no field of its model."""

THINGS = {
    "certificate": models.Certificate,
    "delivery": models.Delivery,
    "enquiry": models.Enquiry,
    "field": models.Field,
    "invoice": models.Paper,
    "lot": models.Lot,
    "machine": models.Machine,
    "movement": models.Movement,
    "order": models.Order,
    "place": models.Place,
    "rick": models.Rick,
    "seed_lot": models.SeedLot,
    "sowing": models.Sowing,
    "stook_set": models.StookSet,
}
"""The models of ids among those."""


def outturn(rows):
    return tuple(Outturn(**row) for row in rows)
