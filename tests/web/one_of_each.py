"""One entry of every kind on a holding, every text of it marked as that holding's."""

import datetime
import uuid

from django.apps import apps
from django.core.files.base import ContentFile
from django.db import models

from sheafwright.accounts.models import Membership, Person, Token
from sheafwright.accounts.rights import Role
from sheafwright.records.models import (
    Correction,
    Customer,
    Enquiry,
    GerminationTest,
    GrainTerms,
    Lot,
    MeterReading,
    Movement,
    Paper,
    Photograph,
    Place,
    PlantCount,
    Rick,
    Sale,
    SavedAnswer,
    Sowing,
    StemSample,
    StookSet,
    Threshing,
    Tracing,
)
from sheafwright.records.models.entry import Entry
from sheafwright.records.services.book import Step, movement_write, place_of

DAY = datetime.date(2026, 7, 1)
TRACED = {
    **{"number": 1, "on": 1, "length_mm": 1050, "length_error_mm": 1},
    **dict.fromkeys(("butt_diameter_mm", "butt_diameter_error_mm"), 4),
    **dict.fromkeys(("middle_diameter_mm", "middle_diameter_error_mm"), 3),
    **dict.fromkeys(("top_diameter_mm", "top_diameter_error_mm"), None),
    **{"taper_mm_per_m": 2, "sharpest_bend_deg": 1, "dog_leg": False},
    **dict.fromkeys(("crushed_mm", "split_mm", "mouldy_mm"), 0),
    **{"leaf_left_on_mm": 0, "hidden_mm": 0, "green_share": 0},
}
"""A stem as it is told of in a tracing."""
OUGHT = {
    Correction: dict.fromkeys(
        ("certificate", "seed_lot", "rick", "machine", "enquiry")
    ),
    Enquiry: {
        "roof_plan": {"outline_m": [[0, 0], [9, 0], [9, 6], [0, 6]], "pitch_deg": 50}
    },
    GrainTerms: {
        "price": 300,
        "protein_full_pct": 13,
        "hagberg_full_s": 250,
        "hagberg_least_s": 200,
        "weight_full_kg_per_hl": 76,
        "weight_least_kg_per_hl": 70,
        "protein_least_pct": 12,
    },
    GerminationTest: {"came_up": [90, 91, 92, 93]},
    MeterReading: {"grain_pct": 20},
    Photograph: {
        "lines": {
            "size": [2400, 1800],
            "view": [0, 600, 2400, 600],
            "stems": [[[300, 900], [2100, 950]]],
            "rejected": [],
            "bends": [],
        }
    },
    Paper: {"number": 1, "kind": "invoice", "said": {"lines": [], "rates": []}},
    PlantCount: {"counts": [20, 25, 22]},
    StemSample: {"stems": [{"length_mm": 1050}, {"length_mm": 990}]},
    Threshing: {"stook_set": None},
    Tracing: {
        "said": {
            "sentence": "1 stem measured.",
            "photos": [{"warnings": []}],
            "stems": [TRACED],
            **{"refused": [], "rejected": [], "warnings": [], "working": []},
        }
    },
}
"""What a field's own kind doesn't tell."""
SUBJECTS = {
    Place.Kind.STANDING: Sowing,
    Place.Kind.STOOKS: StookSet,
    Place.Kind.RICK: Rick,
    Place.Kind.DRUM: Threshing,
    Place.Kind.LOT: Lot,
    Place.Kind.MILL: Lot,
    Place.Kind.SOLD: Sale,
}
"""What a kind of place is one of."""
SIZES = {"harvest_year": 2026, "seeds_each": 100, "length_cm": 100}


class OneOfEach:
    """What there is of a holding: ``of(Rick)``, ``people["hand"]``."""

    def __init__(self, holding, mark):
        self.holding, self.mark, self.made = holding, mark, {}
        self.people = {role: self._person(role) for role in Role.values}
        for kind in apps.get_app_config("records").get_models():
            if issubclass(kind, Entry) and kind is not Movement:
                self.of(kind)
        self._stock()
        self._answers()

    def of(self, kind):
        """The holding's one of a kind."""
        if kind not in self.made:
            self.made[kind] = kind.objects.create(**self._said(kind))
        return self.made[kind]

    def _person(self, role):
        name = f"{self.mark} {role}"
        email = f"{role}@{self.holding.slug}.example.org"
        person = Person.objects.create(email=email, name=name)
        said = {"person": person, "holding": self.holding, "role": role}
        membership = Membership.objects.create(**said)
        key = f"{self.mark}-{role}"
        token = Token.objects.create(person=person, label=key, key_sha256=key)
        if role == Role.OWNER:
            self.made |= {Membership: membership, Token: token}
        return person

    def _said(self, kind):
        said = {f.name: self._value(f) for f in kind._meta.fields if not f.primary_key}
        said = {name: value for name, value in said.items() if value is not None}
        return said | OUGHT.get(kind, {})

    def _value(self, field):
        if isinstance(field, models.ForeignKey):
            return self._other(field)
        if isinstance(field, models.FileField):
            return ContentFile(b"\0", f"{self.mark}.bin")
        if field.has_default():
            return None
        if isinstance(field, models.JSONField):
            return None if field.null else {}
        if isinstance(field, models.CharField):
            return field.choices[0][0] if field.choices else self._text(field)
        for kind, value in {
            models.DateTimeField: datetime.datetime(2026, 7, 1, 9, tzinfo=datetime.UTC),
            models.DateField: DAY,
            models.BooleanField: True,
            models.IntegerField: SIZES.get(field.name, 10),
            models.FloatField: SIZES.get(field.name, 20),
            models.DecimalField: 10,
        }.items():
            if isinstance(field, kind):
                return value
        raise TypeError(f"What is a {type(field).__name__} of {field.model}?")

    def _text(self, field):
        return f"{self.mark} {field.name}"[: field.max_length]

    def _other(self, field):
        if field.name == "holding":
            return self.holding
        if field.related_model is Person:
            buys = field.name == "buyer" or field.model is Customer
            return self.people[Role.BUYER if buys else Role.OWNER]
        if field.related_model is field.model:
            return None
        return self.of(field.related_model)

    def _stock(self):
        """Something in every kind of place, from what was grown."""
        owner = self.people[Role.OWNER]
        grown = place_of(holding=self.holding, kind=Place.Kind.GROWN)
        for kind in Place.Kind.values:
            subject = self.of(SUBJECTS[kind]).pk if kind in SUBJECTS else None
            place = place_of(holding=self.holding, kind=kind, subject=subject)
            if place == grown:
                continue
            self.made[Place] = place
            self.made[Movement] = movement_write(
                id=uuid.uuid4(),
                holding=self.holding,
                made_by=owner,
                kind=Movement.Kind.MOVE,
                date=DAY,
                steps=[Step(grown, -9000), Step(place, 9000)],
                subject=subject,
                note=self.mark,
            )

    def _answers(self):
        for question in ("outlook", "cutting", "stooks"):
            SavedAnswer.objects.create(
                holding=self.holding,
                question=question,
                subject=uuid.uuid4(),
                day=DAY,
                inputs_sha256=question,
                tables_sha256="",
                engine_version="",
                seed=1,
                said={"refused": self.mark},
            )
