"""When would another scheme of development have the crop in flower, and hard?

It is told the same weather and the same day of emergence, and nothing of stages seen
or of past dates on the farm. Where it parts from the first by more than either doubts,
the season lies outside what both were tried on.
"""

from typing import NamedTuple

import numpy as np

from sheafwright.answers import wording
from sheafwright.answers.bands import BAND
from sheafwright.answers.working import step_from_rows
from sheafwright.core.chance.quantiles import weighted_quantiles
from sheafwright.core.crop.wang_engel import flowering_and_hard_dough
from sheafwright.feeds import crop
from sheafwright.feeds.tables import shipped

SUMMERS = 100
"""Of the possible ones: more would move its dates by less than a day."""
WITHOUT_COLD = ("alternative", "spring")
"""Classes of variety that it does not speak of: its wheats need cold."""
SAME = 3
"""So near each other two schemes say the same. [d]"""


class SecondOpinion(NamedTuple):
    """Of both schemes, the days after sowing in 10, 50 and 90 % of summers. [d]"""

    flowering: np.ndarray
    """First scheme and second: (2, 3)."""
    hard: np.ndarray
    """(2, 3)."""

    @property
    def is_same(self):
        """Whether both put flower and hard grain within a few days."""
        return all(abs(np.diff(each[:, 1])[0]) <= SAME for each in self)

    @property
    def parts(self):
        """Whether the bands of one of them lie wholly apart."""
        return any(
            max(each[0, 0], each[1, 0]) > min(each[0, 2], each[1, 2]) for each in self
        )


def second_opinion(season):
    """`SecondOpinion` of a `FieldSeason`, or None where there is none to give."""
    if season.crops.likeliest.name in WITHOUT_COLD or season.question.seen:
        return None
    ahead, few = season.ahead, slice(SUMMERS)
    first = ahead.stages
    second = flowering_and_hard_dough(
        ahead.tmin[few],
        ahead.tmax[few],
        season.known.day_length_from_sowing(ahead.tmin.shape[1]),
        first.emergence[few],
        crop.wang_engel(),
    )
    both = zip((first.gs61[few], first.gs87[few]), second, strict=True)
    made = SecondOpinion(
        *(np.stack([weighted_quantiles(each, BAND) for each in of]) for of in both)
    )
    return made if np.isfinite(made).all() else None


def second_opinion_step(season, made):
    """The `Step` that tells of it.

    Parameters
    ----------
    season : sheafwright.answers.field_season.FieldSeason
    made : SecondOpinion
    """
    table = shipped("development")
    rows = (*table["wang_engel"].values(), *table["wang_engel_tall"].values())
    dates = [[season.date(day) for day in each[:, 1]] for each in made]
    says = wording.second_opinion(*dates, same=made.is_same, parts=made.parts)
    return step_from_rows(says, *rows)
