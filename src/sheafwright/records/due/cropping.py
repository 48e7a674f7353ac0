"""Which field grows what over the next years, and what else might.

The plan comes first and soon; what every other crop would cost takes longer, and is
told of the plan that was kept.
"""

import dataclasses
import enum

from sheafwright import __version__
from sheafwright.records.due import Due, sha256_of, tables_sha256
from sheafwright.records.models import SavedAnswer

KEPT = "cropping"


class Depth(enum.IntEnum):
    """How far the plan was gone into."""

    PLAN = 0
    COMPARED = 1


FEW = 20
"""Fields for which a plan is soon made from nothing."""


@dataclasses.dataclass(frozen=True)
class Told:
    """A plan, and what it rests on but for its pins: the next may begin from it."""

    plan: object
    but_for_pins_sha256: str

    def to_json(self):
        return self.plan.to_json() | {"but_for_pins_sha256": self.but_for_pins_sha256}


def plan_due(holding, question, depth):
    """`Due` of a `CroppingQuestion` of a holding."""
    asks = _asks(question) | {"compared_years": int(depth)}
    but_for_pins = _but_for_pins(question)

    def answer(_folder):
        from sheafwright.answers.cropping import cropping
        from sheafwright.answers.cropping_again import compared, kept_answer

        if depth is Depth.COMPARED:
            said = plan_told(holding, question).said
            return Told(compared(question, said), but_for_pins), None
        before = _before(holding, question)
        begun = kept_answer(question, before.said) if before else None
        return Told(cropping(question, begun, compared_years=0), but_for_pins), None

    return Due(KEPT, holding, asks, answer, found_by_inputs=True)


def plan_told(holding, question):
    """The plan kept of just this question; None where there is none."""
    hashed = plan_due(holding, question, Depth.PLAN).inputs_sha256()
    return _told(holding, inputs_sha256=hashed)


def is_soon_told(holding, question):
    """Whether it takes some seconds at most: so few fields, or other pins alone."""
    return len(question.fields) <= FEW or _before(holding, question) is not None


def _before(holding, question):
    """The last plan kept of the same but for its pins."""
    return _told(holding, said__but_for_pins_sha256=_but_for_pins(question))


def _but_for_pins(question):
    return sha256_of(_asks(dataclasses.replace(question, pins=())))


def _asks(question):
    return {
        "tables": tables_sha256(),
        "engine": __version__,
        "question": dataclasses.asdict(question),
    }


def _told(holding, **asked):
    kept = SavedAnswer.objects.filter(
        holding=holding, question=KEPT, subject=holding.pk, said__has_key="fields"
    )
    return kept.filter(**asked).order_by("-made_at").first()
