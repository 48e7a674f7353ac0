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


FIELDS = dataclasses.fields(Step)


def steps_to_json(steps):
    """A working as it leaves Python."""
    return [
        {field.name: told(getattr(step, field.name)) for field in FIELDS}
        for step in steps
    ]


def step_from_rows(says, *rows):
    """A step resting on table rows: all their sources, and the weakest standing."""
    sources = dict.fromkeys(row.source for row in rows)
    return Step(
        says=says,
        source=joined(*(told(each) for each in sources), by="; "),
        standing=max((row.standing for row in rows), key=STANDINGS.index),
    )
