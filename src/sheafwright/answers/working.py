"""How an answer was worked out: one step a sentence, with where it comes from."""

import dataclasses

from sheafwright.feeds.tables import STANDINGS
from sheafwright.feeds.telling import joined, mark, told

MEASURED, GIVEN = mark("measured"), mark("given")
YOU, THE_RECORD = mark("You"), mark("The weather record")


@dataclasses.dataclass(frozen=True)
class Step:
    """One step of the working."""

    says: str
    source: str
    standing: str
    """A standing of the tables, ``measured`` for what the record itself holds, or
    ``given`` for what the grower says."""


def steps_to_json(steps):
    """A working as it leaves Python.

    Sources and standings, which are always the same words, are told by the page.
    """
    return [dataclasses.asdict(step) | {"says": told(step.says)} for step in steps]


def step_from_rows(says, *rows):
    """A step resting on table rows: all their sources, and the weakest standing."""
    first, *others = dict.fromkeys(row.source for row in rows)
    sources = joined(*(told(each) for each in (first, *others)), by="; ")
    return Step(
        says=says,
        source=sources if others else first,
        standing=max((row.standing for row in rows), key=STANDINGS.index),
    )
