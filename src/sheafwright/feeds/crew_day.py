"""What a grower asks of the crew's next half-days, from a TOML file."""

import dataclasses
import datetime
import json
from collections.abc import Mapping
from functools import partial
from pathlib import Path

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds.shapes import read_as, read_listed
from sheafwright.feeds.tables import read_text, read_toml

BINDING, STOOKING, CARTING = "binding", "stooking", "carting"
TASKS = BINDING, STOOKING, CARTING
HALVES = MORNING, AFTERNOON = "morning", "afternoon"


@dataclasses.dataclass(frozen=True)
class HalfAsked:
    """A morning or an afternoon."""

    day: datetime.date
    half: str
    """One of ``HALVES``."""
    dry_chance: float
    """That it is dry enough to cut and to carry. [0–1]"""
    fit_hours: float | None = None
    """Fit to cut and to carry, if it stays dry; None as the table has it. [h]"""

    @property
    def name(self):
        """As files name it: 2026-08-06 morning."""
        return half_day(self.day, self.half)


@dataclasses.dataclass(frozen=True)
class Standing:
    """A field that is not cut yet."""

    name: str
    area_ha: float
    worth: Mapping[datetime.date, float]
    """What may be expected of cutting on each day that it can be cut on, those after
    the last half-day too: a share of a perfect crop. [0–1]"""
    farm: str = ""
    waiting: float | None = None
    """What waiting on the day of the advice may be expected to bring. [0–1]"""
    as_of: datetime.date | None = None
    """The day of that advice."""
    action: str = ""
    """What that advice was."""
    ripe: datetime.date | None = None
    """When a binder may likely begin."""
    perfect_gbp_per_ha: float | None = None
    """Of a perfect crop; None as the table has it."""
    if_left: float | None = None
    """What leaving it until after the last half-day brings, net of what it then costs
    the others; None where nobody followed that. A share of a perfect crop. [1]"""


@dataclasses.dataclass(frozen=True)
class Stooked:
    """Stooks of a field that are not carted yet."""

    field: str
    area_ha: float
    fit_chance: Mapping[datetime.date, float]
    """That they are fit to cart on each day. [0–1]"""
    rain_chance: Mapping[datetime.date, float]
    """Of rain on them on each day. [0–1]"""
    farm: str = ""
    cut: datetime.date | None = None
    """The day that they were set up."""
    perfect_gbp_per_ha: float | None = None


@dataclasses.dataclass(frozen=True)
class Comes:
    """Somebody who comes."""

    name: str
    may: tuple[str, ...] = TASKS
    away: tuple[str, ...] = ()
    """Days, or half-days, on which they can't."""


@dataclasses.dataclass(frozen=True)
class BinderAsked:
    """A binder, and where it stands."""

    name: str
    farm: str = ""
    broken: tuple[str, ...] = ()
    """Days, or half-days, on which it can't run."""


@dataclasses.dataclass(frozen=True)
class CrewQuestion:
    """Who does what in these half-days?"""

    half_days: tuple[HalfAsked, ...]
    fields: tuple[Standing, ...] = ()
    stooks: tuple[Stooked, ...] = ()
    people: tuple[Comes, ...] = ()
    binders: tuple[BinderAsked, ...] = ()
    distance_km: float = 1.0
    """From field to rick."""
    carts: int | None = None
    """None as the table has it."""
    showers: tuple[str, ...] = ()
    """Half-days in which a shower came."""


def half_day(day, half):
    """A half-day's name."""
    return f"{day.isoformat()} {half}"


def is_within(half_day, said):
    """Whether a half-day's name is one that is said, or lies in the day that is."""
    return half_day == said or half_day.startswith(f"{said} ")


def of_outlook(said):
    """What a field's `Standing` takes from the JSON of its outlook."""
    advice = said["advice"]
    ripe = said["stages"]["soft_dough"]["p50"]
    return {
        "worth": {
            datetime.date.fromisoformat(day["date"]): day["worth_mean"]
            for day in said["by_cutting_day"]
        },
        "waiting": advice["worth_waiting"],
        "action": advice["action"],
        "as_of": datetime.date.fromisoformat(said["as_of"]),
        "ripe": datetime.date.fromisoformat(ripe) if ripe else None,
    }


def of_stooks(said):
    """What a field's `Stooked` takes from the JSON of its stooks' answer."""
    days = {datetime.date.fromisoformat(d["date"]): d for d in said["carting_by_day"]}
    return {
        "fit_chance": {date: day["chance_fit"] for date, day in days.items()},
        "rain_chance": {date: day["chance_of_rain"] for date, day in days.items()},
        "cut": datetime.date.fromisoformat(said["cut"]),
    }


def of_turns(said):
    """What each field loses by waiting, by the JSON of `sheafwright turns`. [1]"""
    return {each["field"]: float(each["lost_by_waiting"]) for each in said["fields"]}


def with_turns(question, lost):
    """A `CrewQuestion` whose fields know what leaving them brings.

    Parameters
    ----------
    question : CrewQuestion
    lost : mapping
        From `of_turns`; fields that it lacks, and that say it themselves, stay.
    """
    fields = tuple(
        dataclasses.replace(
            field, if_left=if_left(field.worth, lost[field.name], question.half_days)
        )
        if field.if_left is None and field.name in lost
        else field
        for field in question.fields
    )
    return dataclasses.replace(question, fields=fields)


def if_left(worth, lost, half_days):
    """What leaving a field brings, by what that loses over cutting it in the plan.

    None where it can't be cut in these half-days anyway. [1]

    Parameters
    ----------
    worth : mapping
        As in `Standing`.
    lost : float
        By waiting, from the JSON of `sheafwright.answers.turns`. [1]
    half_days : sequence of HalfAsked
    """
    days = sorted({half.day for half in half_days} & worth.keys())
    return worth[days[0]] - lost if days else None


def read_question(path):
    """The `CrewQuestion` of a TOML file."""
    said = dict(read_toml(path))
    turns = said.pop("turns", None)
    parts = {
        name: tuple(read_listed(kind, said, name, path, partial(_answered, path)))
        for name, kind in LISTED.items()
        if name in said
    }
    question = read_as(CrewQuestion, said | parts, str(path))
    if turns is None:
        return question
    file = Path(path).parent / str(turns)
    return with_turns(question, _of_file(file, of_turns, str(path)))


def read_before(path):
    """An earlier answer's JSON."""
    try:
        said = json.loads(read_text(path))
    except json.JSONDecodeError as error:
        raise UnreadableInput(
            "{path} is not JSON: {error}.", path=str(path), error=str(error)
        ) from None
    if not isinstance(said, dict) or not said.keys() >= {"half_days", "binders"}:
        raise UnreadableInput(
            "{path} should be an earlier answer, as --json prints it.", path=str(path)
        )
    return said


LISTED = {
    "half_days": HalfAsked,
    "fields": Standing,
    "stooks": Stooked,
    "people": Comes,
    "binders": BinderAsked,
}
ANSWERED = {"outlook": of_outlook, "cart": of_stooks}
"""A file of another command's answer, and what it stands for."""


def _answered(path, said, where):
    """With what another command's answer says, where its file is named."""
    for name, of_answer in ANSWERED.items():
        if name in said:
            said = dict(said)
            file = Path(path).parent / str(said.pop(name))
            said = _of_file(file, of_answer, where) | said
    return said


def _of_file(file, of_answer, where):
    try:
        return of_answer(json.loads(read_text(file)))
    except (ValueError, LookupError, TypeError, AttributeError):
        raise UnreadableInput(
            "{where}: {file} is not an answer of the kind that is wanted; it should "
            "be as the command prints it with --json.",
            where=where,
            file=str(file),
        ) from None
