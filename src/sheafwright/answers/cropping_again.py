"""A plan made again from what was kept of it, to go on from."""

import dataclasses

from sheafwright.answers.cropping import CroppingAnswer, with_others
from sheafwright.answers.cropping_problem import problem_of
from sheafwright.core.inputs.cropping import Pin
from sheafwright.planning.cropping.solve import solve

ROUNDED = 1e-5
"""So much a kept gap may have lost. [1]"""


def kept_answer(question, said):
    """The `CroppingAnswer` whose JSON this is, without its hours and comparisons.

    Parameters
    ----------
    question : CroppingQuestion
        The same, but for its pins.
    said : mapping
    """
    grown = {
        Pin(field["field"], year["year"], year["crop"])
        for field in said["fields"]
        if not field["kept_in_grass"]
        for year in field["years"]
    }
    plan = solve(problem_of(question), grown)
    pins = frozenset(Pin(**pin) for pin in said["pins"])
    gap = (said["gap_share"] + ROUNDED) * max(1.0, abs(plan.score))
    plan = dataclasses.replace(plan, pins=pins).bounded(plan.score + gap)
    return CroppingAnswer(question, plan, {}, {})


def compared(question, said):
    """The same plan, every other crop tried in every field for the first harvest."""
    return with_others(question, kept_answer(question, said).plan)
