"""What an entry is in JSON, from what its model already says of it."""

import datetime
import decimal
import typing
import uuid

from django.core import validators
from django.db import models
from ninja import Schema
from pydantic import AwareDatetime, Field, create_model

LARGEST_WHOLE = 2**31 - 1
"""The most that PostgreSQL keeps in a whole number."""
LARGEST_DECIMAL = 99_999_999
NO_NULS = r"^[^\x00]*$"
"""No database keeps a NUL in a text."""
FIRST_DAY = datetime.date(1800, 1, 1)
LAST_DAY = datetime.date(2199, 12, 31)

TYPES = {
    models.BooleanField: bool,
    models.CharField: str,
    models.DateField: datetime.date,
    models.DateTimeField: AwareDatetime,
    models.DecimalField: decimal.Decimal,
    models.FloatField: float,
    models.ForeignKey: uuid.UUID,
    models.IntegerField: int,
    models.JSONField: typing.Any,
    models.PositiveIntegerField: int,
    models.PositiveSmallIntegerField: int,
    models.UUIDField: uuid.UUID,
}
"""Every kind of field that an entry says something in, but files."""

Kg = typing.Annotated[float, Field(gt=0, le=1e7, allow_inf_nan=False)]
Percent = typing.Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)]
Day = typing.Annotated[datetime.date, Field(ge=FIRST_DAY, le=LAST_DAY)]
Count = typing.Annotated[int, Field(ge=1, le=1_000_000)]


def model_fields(model, names):
    """Those of a model's fields that JSON can say."""
    known = {field.name: field for field in model._meta.fields}
    fields = (known.get(name) for name in names)
    return [field for field in fields if type(field) in TYPES]


def to_send(name, model, names, more, is_part=False):
    """The schema of what a program sends to write an entry, or to change part of it."""
    said = {field.name: _sent(field) for field in model_fields(model, names)}
    if is_part:
        said = {name: (kind, None) for name, (kind, _default) in said.items()}
    given = {key: _optional(said) for key, said in more.items()}
    return create_model(name, __base__=Schema, id=(uuid.UUID, ...), **(said | given))


def to_read(model, names):
    """The schema of an entry as it is kept."""
    name = f"{model.__name__}Kept"
    kept = {field.attname: _kept(field) for field in model_fields(model, names)}
    when = {"made_at": (datetime.datetime, ...), "made_by_id": (uuid.UUID, ...)}
    return create_model(name, __base__=Schema, id=(uuid.UUID, ...), **kept, **when)


def _sent(field):
    kind = _limited(field)
    if field.null:
        return (kind | None, None)
    if field.has_default():
        return (kind, field.get_default())
    return (kind, "" if field.blank else ...)


def _kept(field):
    kind = TYPES[type(field)]
    return (kind | None, None) if field.null else (kind, ...)


def _optional(said):
    """A pair of type and default, or a type that has to be there."""
    return said if isinstance(said, tuple) else (said, ...)


def _limited(field):
    kind = TYPES[type(field)]
    if field.choices:
        values = [value for value, _ in field.flatchoices]
        return typing.Literal[tuple(["", *values] if field.blank else values)]
    limits = _limits(kind, field)
    return typing.Annotated[kind, Field(**limits)] if limits else kind


def _limits(kind, field):
    if kind is str:
        least = {} if field.blank else {"min_length": 1}
        return least | {"max_length": field.max_length, "pattern": NO_NULS}
    if kind is datetime.date:
        return {"ge": FIRST_DAY, "le": LAST_DAY}
    if kind is AwareDatetime:
        first, last = (
            datetime.datetime.combine(day, datetime.time(), datetime.UTC)
            for day in (FIRST_DAY, LAST_DAY)
        )
        return {"ge": first, "le": last}
    if kind is decimal.Decimal:
        return {"ge": 0, "le": LARGEST_DECIMAL, "decimal_places": field.decimal_places}
    if kind not in (int, float):
        return {}
    finite = {"allow_inf_nan": False} if kind is float else {}
    return _between(field) | finite


def _between(field):
    least, most = 0, LARGEST_WHOLE
    for check in field.validators:
        if isinstance(check, validators.MinValueValidator):
            least = check.limit_value
        elif isinstance(check, validators.MaxValueValidator):
            # A database's own range is among them, and SQLite's is the larger.
            most = min(most, check.limit_value)
    return {"ge": least, "le": most}
