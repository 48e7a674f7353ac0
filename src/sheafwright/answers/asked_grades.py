"""What an order calls a grade, and as what a lot's grade is known."""

import re
from typing import NamedTuple

from sheafwright.answers.hand_grade import USES
from sheafwright.feeds.telling import mark, say, told

LEVELS = (1, 2)
NAMED = {1: mark("grade 1 for {use}"), 2: mark("grade 2 or better for {use}")}
SHORT = {
    "coatwork": ("coatwork", "coat work", "coat"),
    "ridge": ("ridge work", "ridges", "ridge"),
    "long_straw": ("long straw", "longstraw", "long_straw"),
}
"""As growers write uses, in lower case; the longest first."""
GRADE = re.compile(r"\b(?:grade\s*)?([12])\b|\b(first|second)\b", re.IGNORECASE)
ORDINALS = {"first": 1, "second": 2}
BY = ("stems", "handful", "written", "past")
"""How a grade or a length is known; of what is to come, by lots before it."""


class GradeFor(NamedTuple):
    """A grade of the rules: so good for a use, or better."""

    use: str
    level: int

    @property
    def said(self):
        """As a sentence has it."""
        return say(NAMED[self.level], use=say(USES[self.use]))


def grade_said(grade):
    """A grade of the rules, or in somebody's own words, as a sentence has it."""
    return grade.said if isinstance(grade, GradeFor) else grade


def asked_grades(text):
    """The grades that a text names, with commas between.

    "coatwork 1, ridge" is a grade 1 for coatwork, or a grade 2 or better for ridge.
    What names no use is somebody's own word, to be compared with what was written.

    Returns
    -------
    frozenset of GradeFor or str
    """
    return frozenset(map(_grade, _parts(text)))


def _parts(text):
    """What stands between commas; "grade 1, coatwork" is one."""
    parts = [part.strip() for part in re.split("[,;]", text) if part.strip()]
    joined = []
    for part in parts:
        if joined and _is_number(joined[-1]) and _use(part):
            joined[-1] += f" {part}"
        else:
            joined.append(part)
    return joined


def _is_number(part):
    return bool(GRADE.fullmatch(part))


def _grade(part):
    use = _use(part)
    if use is None:
        return part
    found = GRADE.search(part)
    if found is None:
        return GradeFor(use, LEVELS[-1])
    number, ordinal = found.groups()
    return GradeFor(use, int(number) if number else ORDINALS[ordinal.lower()])


def _use(part):
    """The use that a part names and nothing but it and a number; None for no use."""
    left = " ".join(GRADE.sub(" ", part).lower().replace(" for ", " ").split())
    left = left.removeprefix("grade ").removeprefix("for ")
    for use, words in SHORT.items():
        if left in words or left == str(told(USES[use])).lower():
            return use
    return None


def of_stems(graded):
    """Each grade to the chance that a lot is as good, by its measured stems.

    Parameters
    ----------
    graded : iterable of answers.grade.Graded
        One of each use.
    """
    chances = {}
    for each in graded:
        use, chance = each.question.use, each.chances
        chances[GradeFor(use, 1)] = chance["first"]
        chances[GradeFor(use, 2)] = chance["first"] + chance["second"]
    return chances


def of_lots_before(chances):
    """The same of a lot that is to come, by those of lots before it.

    As one more of them, by the rule of succession: few lots tell little.

    Parameters
    ----------
    chances : sequence of mapping
        As `of_stems` has them, a lot each.
    """
    grades = dict.fromkeys(grade for each in chances for grade in each)
    return {
        grade: (sum(each.get(grade, 0.0) for each in chances) + 1) / (len(chances) + 2)
        for grade in grades
    }


def of_handful(fit, written):
    """The same, of the uses that a handful was found fit for.

    No handful tells a grade 1: that is as it was written down, where the handful does
    not say otherwise.
    """
    fit_for = {GradeFor(use, 2): 1.0 for use in fit}
    for grade in asked_grades(written):
        is_told = isinstance(grade, GradeFor) and grade.use not in fit
        fit_for |= {} if is_told else {grade: 1.0}
    return fit_for


def as_written(written):
    """The same, of what was written down."""
    grades = asked_grades(written)
    better = {
        GradeFor(each.use, 2): 1.0 for each in grades if isinstance(each, GradeFor)
    }
    return dict.fromkeys(grades, 1.0) | better


def own_words(written):
    """What was written down in words of one's own, which no rule knows."""
    words = asked_grades(written)
    return {each: 1.0 for each in words if not isinstance(each, GradeFor)}
